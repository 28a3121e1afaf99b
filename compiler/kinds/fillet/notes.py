"""What a drawing says of a fillet."""

from __future__ import annotations

from collections.abc import Iterator

from ...outputs.paper.amounts import amount
from ...outputs.paper.pointers import often, on_faces
from ...outputs.paper.types import Note
from ...outputs.paper.views import Scene
from ...quantities.vectors import cross
from .model import Fillet


def notes(scene: Scene, fillet: Fillet) -> Iterator[Note]:
    """Its radius, where its corner is seen from the side."""
    text = f"{often(scene, fillet)}{fillet.name} {amount(fillet.radius).text('R')}"
    first, second = fillet.corner.first.flat, fillet.corner.second.flat
    yield from on_faces(scene, fillet, text, face=scene.way(cross(first.normal, second.normal)))
