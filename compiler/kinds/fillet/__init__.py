"""A fillet: the hollow in a corner of two flats."""

from __future__ import annotations

from ..types import KindTraits

TRAITS = KindTraits(spans=True)
