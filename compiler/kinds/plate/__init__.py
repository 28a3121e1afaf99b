"""A plate: an outline with a thickness."""

from __future__ import annotations

from ..types import FLATS, KindTraits

TRAITS = KindTraits(parts=FLATS, thick="thick")
