"""A strip: one thickness bent along a path."""

from __future__ import annotations

from ..types import FLATS, KindTraits

TRAITS = KindTraits(parts=FLATS, thick="wide")
