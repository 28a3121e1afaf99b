"""A turning: stations along an axis, with what is worked into them."""

from __future__ import annotations

from ..types import FLATS, SIDES, KindTraits

TRAITS = KindTraits(parts=FLATS + SIDES, rounded=True)
