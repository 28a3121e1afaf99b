"""A spur or helical gear, external or internal, on the ISO 53 profile."""

from __future__ import annotations

from ..types import FLATS, KindTraits

TRAITS = KindTraits(parts=FLATS, rounded=True, thick="thick")
