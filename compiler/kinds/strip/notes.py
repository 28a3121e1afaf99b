"""What a drawing says of a strip, and how it is measured."""

from __future__ import annotations

from collections.abc import Iterator

from ...outputs.paper.amounts import amount
from ...outputs.paper.dimensions import height
from ...outputs.paper.measuring import outside
from ...outputs.paper.pointers import often, on_faces
from ...outputs.paper.types import Check, Dimension, Note
from ...outputs.paper.views import Scene
from .model import Strip


def notes(scene: Scene, strip: Strip) -> Iterator[Note]:
    """How thick it is."""
    text = f"{often(scene, strip)}{strip.name} {amount(strip.thick).text()} thick"
    yield from on_faces(scene, strip, text)


def sizes(scene: Scene, strip: Strip) -> Iterator[Dimension]:
    """How wide it is."""
    yield from height(scene, strip, strip.wide)


def checks(scene: Scene, strip: Strip) -> Iterator[Check]:
    """How thick and how wide it is."""
    yield from outside(strip.name, "thick", strip.thick)
    yield from outside(strip.name, "wide", strip.wide)
