"""What the report tells of a peg besides its size across."""

from __future__ import annotations

from ...outputs.figures import Figures, thread_figures
from .model import Peg


def sizes(peg: Peg) -> Figures:
    """Its thread."""
    return thread_figures([peg.thread] if peg.thread is not None else [])
