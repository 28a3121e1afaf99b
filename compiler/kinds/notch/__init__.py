"""A notch: a rectangular cut."""

from __future__ import annotations

from ..types import KindTraits

TRAITS = KindTraits(boxed=True, turned=True, sizes=2)
