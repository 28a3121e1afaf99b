"""What a drawing says of a rib, and how it is measured."""

from __future__ import annotations

from collections.abc import Iterator

from ...outputs.paper.amounts import amount, shown
from ...outputs.paper.measuring import outside
from ...outputs.paper.pointers import in_middle, often, on_faces
from ...outputs.paper.types import Check, Note
from ...outputs.paper.views import Scene
from ...quantities.vectors import cross
from .model import Gusset, Wall


def notes(scene: Scene, rib: Wall | Gusset) -> Iterator[Note]:
    """How thick it is, and how far one in a corner reaches."""
    text = f"{often(scene, rib)}{rib.name} {amount(rib.thick).text()} thick"
    if isinstance(rib, Wall):
        yield from on_faces(scene, rib, text)
        return
    first, second = rib.corner.first, rib.corner.second
    along = sorted(zip(rib.reach, (first.name, second.name), strict=True), key=lambda one: one[0].said.text)
    text += "".join(f", {shown(size.value)} along {flat}" for size, flat in along)
    yield from in_middle(scene, rib, text, scene.way(cross(first.flat.normal, second.flat.normal)))


def checks(scene: Scene, rib: Wall | Gusset) -> Iterator[Check]:
    """How thick it is, and how high a wall."""
    yield from outside(rib.name, "thick", rib.thick)
    yield from outside(rib.name, "high", rib.tall if isinstance(rib, Wall) else None)
