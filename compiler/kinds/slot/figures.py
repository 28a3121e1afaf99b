"""What the report tells of a slot besides its width."""

from __future__ import annotations

from ...outputs.figures import Figures, pocket_figures
from .model import SlotHole


def sizes(slot: SlotHole) -> Figures:
    """The pocket at its mouth."""
    return pocket_figures(slot.mouth)
