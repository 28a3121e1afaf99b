"""The finished part of another recipe."""

from __future__ import annotations

from ..types import FLATS, SIDES, KindTraits

TRAITS = KindTraits(parts=FLATS + SIDES, boxed=True)
