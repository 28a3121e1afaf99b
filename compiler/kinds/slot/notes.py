"""What a drawing says of a slot, and how it is measured."""

from __future__ import annotations

from collections.abc import Iterator

from ...outputs.paper.amounts import amount, fitted
from ...outputs.paper.holes import across_check, depth_checks, depth_text, mouth_checks, mouth_text, named
from ...outputs.paper.measuring import made, plain
from ...outputs.paper.pointers import at_centre
from ...outputs.paper.types import Check, Gauge, Note
from ...outputs.paper.views import Scene
from .model import SlotHole


def notes(scene: Scene, slot: SlotHole) -> Iterator[Note]:
    """How wide and how long it is, how deep it goes, its mouth."""
    assert slot.size is not None
    ends = f" \u00d7 {amount(slot.long).text()}" if slot.long is not None else ""
    size = fitted(slot.size, slot.fit, slot.drilled).text() + ends
    text = f"{named(scene, slot)}{size}{depth_text(slot.depth)}{mouth_text(slot.mouth)}"
    yield at_centre(scene, slot, text, min(slot.placed.half))


def checks(scene: Scene, slot: SlotHole) -> Iterator[Check]:
    """How wide it is, its mouth, how deep and how long it is."""
    assert slot.size is not None
    size = fitted(slot.size, slot.fit, slot.drilled)
    yield across_check(scene, slot, "wide", size, slot.size)
    yield from mouth_checks(slot)
    yield from depth_checks(slot, slot.depth)
    if slot.long is not None:
        size, line = amount(slot.long), made(slot.long.said)
        yield plain(f"{slot.name} long", Gauge.POCKET, "inner jaws, over the ends", size, line, mates=True)
