"""What a drawing says of a zone that takes material off its body, and how it is measured."""

from __future__ import annotations

from collections.abc import Iterator

from ...outputs.paper.types import Check, Dimension, Note
from ...outputs.paper.views import Scene
from ...outputs.paper.zones import zone_checks, zone_notes, zone_sizes
from .model import Relieve


def notes(scene: Scene, zone: Relieve) -> Iterator[Note]:
    """How wide it is, and its ramp."""
    yield from zone_notes(scene, zone)


def sizes(scene: Scene, zone: Relieve) -> Iterator[Dimension]:
    """How far its flat moves, or how thick the body is then."""
    yield from zone_sizes(scene, zone, -1)


def checks(scene: Scene, zone: Relieve) -> Iterator[Check]:
    """How thick the body is there, where that was told."""
    yield from zone_checks(zone)
