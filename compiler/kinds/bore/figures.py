"""What the report tells of a bore besides its size across."""

from __future__ import annotations

from ...model.holes import Hole
from ...outputs.figures import Figures, pocket_figures, thread_figures


def sizes(hole: Hole) -> Figures:
    """Its thread, and the pocket at its mouth."""
    return (*thread_figures([hole.thread] if hole.thread is not None else []), *pocket_figures(hole.mouth))
