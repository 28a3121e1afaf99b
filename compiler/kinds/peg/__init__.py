"""A peg: a round, flatted or six-sided pin that stands on a flat."""

from __future__ import annotations

from ..types import FLATS, SIDES, KindTraits

TRAITS = KindTraits(parts=FLATS + SIDES, rounded=True, thick="high")
