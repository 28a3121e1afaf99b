"""A rib: a wall along things, or a gusset in a corner."""

from __future__ import annotations

from ..types import KindTraits

TRAITS = KindTraits(spans=True, thick="high")
