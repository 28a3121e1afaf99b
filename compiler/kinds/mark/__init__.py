"""A mark: a text or an arrow on a flat."""

from __future__ import annotations

from ..types import KindTraits

TRAITS = KindTraits(boxed=True, turned=True)
