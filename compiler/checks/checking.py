"""Asks every question, in the order of this list; one file answers each."""

from __future__ import annotations

from ..diagnostics.types import Diagnostic
from ..facts import Claims
from ..positions.layout import Layout
from ..solids.types import Part


def check_part(claims: Claims, layout: Layout, part: Part | None, wrong: bool) -> tuple[Diagnostic, ...]:
    """All warnings and notes on a recipe and its part (None when there is none)."""
    return ()
