"""A snap arm: a cantilever that stands on a flat, its nose to one side."""

from __future__ import annotations

from ..types import FLATS, SIDES, KindTraits

TRAITS = KindTraits(parts=FLATS + SIDES, boxed=True)
