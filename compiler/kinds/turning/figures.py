"""What the report tells of a turning besides its largest size across."""

from __future__ import annotations

from ...outputs.figures import Figures, thread_figures
from .model import Turning


def sizes(turning: Turning) -> Figures:
    """Its threads."""
    return thread_figures([one.form for one in turning.threads])
