"""Out of this room: every named thing placed in its plane, and in plain terms what is open, ambiguous or
contradictory.

`place_all` places a whole recipe; `weighing`, loaded when it is asked for, weighs its readings against each
other."""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING, Any

from .placing import place_all

if TYPE_CHECKING:
    from . import weighing

__all__ = ["place_all", "weighing"]


def __getattr__(name: str) -> Any:
    """The file that only reports need."""
    if name == "weighing":
        return import_module(".weighing", __name__)
    raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
