"""A block: a box that stands on its plane, its sides named."""

from __future__ import annotations

from ..types import FLATS, SIDES, KindTraits

TRAITS = KindTraits(parts=FLATS + SIDES, boxed=True, sizes=3)
