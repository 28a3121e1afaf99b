"""A thickened zone measured back."""

from __future__ import annotations

from ...callipers.zones import measures

__all__ = ["measures"]
