"""What a drawing says of a plate, and how it is measured."""

from __future__ import annotations

from collections.abc import Iterator

from ...outputs.paper.dimensions import height
from ...outputs.paper.measuring import outside
from ...outputs.paper.pointers import at_bevels, at_corners
from ...outputs.paper.types import Check, Dimension, Note
from ...outputs.paper.views import Scene
from .model import Plate


def notes(scene: Scene, plate: Plate) -> Iterator[Note]:
    """The edges that were worked."""
    yield from at_bevels(scene, plate, (size for _, size in plate.bevels.said))
    yield from at_corners(scene, plate, plate.corners)


def sizes(scene: Scene, plate: Plate) -> Iterator[Dimension]:
    """How thick it is, where it is that everywhere."""
    yield from height(scene, plate, plate.thick)


def checks(scene: Scene, plate: Plate) -> Iterator[Check]:
    """How thick it is, where it is that everywhere."""
    yield from outside(plate.name, "thick", plate.thick)
