"""A relieved zone measured back."""

from __future__ import annotations

from ..thicken.callipers import measures

__all__ = ["measures"]
