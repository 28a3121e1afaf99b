"""A slot: a hole that is longer than wide."""

from __future__ import annotations

from ..types import KindTraits

TRAITS = KindTraits(turned=True)
