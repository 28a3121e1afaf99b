"""What a drawing says of a mark."""

from __future__ import annotations

from collections.abc import Iterator

from ...outputs.paper.amounts import amount, shown
from ...outputs.paper.pointers import on_faces
from ...outputs.paper.types import Note
from ...outputs.paper.views import Scene
from ...quantities.vectors import along
from .model import Mark


def notes(scene: Scene, mark: Mark) -> Iterator[Note]:
    """What it says, how high its letters are, how deep they are sunk or how far they stand out."""
    depth = mark.raised or mark.sunk
    if depth is None or mark.spot is None:
        return
    said = "arrow" if mark.arrow else f"\u201c{mark.text}\u201d"
    way = "raised" if mark.raised is not None else "sunk"
    text = f"{mark.name} {said}, high {amount(mark.tall).text()}, {way} {shown(depth.value)}"
    out = scene.model.frames[mark.spot.plane].out
    facing = along((0.0, 0.0, 0.0), (out, -1.0 if mark.spot.out < 0 else 1.0))
    yield from on_faces(scene, mark, text, face=scene.way(facing))
