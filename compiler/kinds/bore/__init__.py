"""A bore: a hole by its size across."""

from __future__ import annotations

from ..types import KindTraits

TRAITS = KindTraits(rounded=True)
