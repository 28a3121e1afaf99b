"""A rim: a wall that follows the outline of a plate, block or strip."""

from __future__ import annotations

from ..types import KindTraits

TRAITS = KindTraits(spans=True, thick="high")
