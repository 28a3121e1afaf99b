"""A mesh that is there already, as stock."""

from __future__ import annotations

from ..types import FLATS, SIDES, KindTraits

TRAITS = KindTraits(parts=FLATS + SIDES, boxed=True)
