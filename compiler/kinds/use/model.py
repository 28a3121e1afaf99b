"""The finished part of another recipe."""

from __future__ import annotations

from ...model.brought import Brought
from ...model.brought import make_brought as make

__all__ = ["Brought", "make"]
