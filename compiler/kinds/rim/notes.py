"""What a drawing says of a rim, and how it is measured."""

from __future__ import annotations

from collections.abc import Iterator

from ...outputs.paper.amounts import amount, shown
from ...outputs.paper.dimensions import height
from ...outputs.paper.measuring import outside
from ...outputs.paper.pointers import often, on_faces
from ...outputs.paper.types import Check, Dimension, Note
from ...outputs.paper.views import Scene
from .model import Rim


def notes(scene: Scene, rim: Rim) -> Iterator[Note]:
    """How thick it is, and how far inside the outline."""
    inset = f", inset {shown(rim.inset.value)}" if rim.inset is not None else ""
    text = f"{often(scene, rim)}{rim.name} {amount(rim.thick).text()} thick{inset}"
    yield from on_faces(scene, rim, text)


def sizes(scene: Scene, rim: Rim) -> Iterator[Dimension]:
    """How high it is."""
    yield from height(scene, rim, rim.tall)


def checks(scene: Scene, rim: Rim) -> Iterator[Check]:
    """How thick and how high it is."""
    yield from outside(rim.name, "thick", rim.thick)
    yield from outside(rim.name, "high", rim.tall)
