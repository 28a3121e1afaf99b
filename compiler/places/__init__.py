"""Out of this room: every named thing placed in its plane, and in plain terms what is open, ambiguous or
contradictory.

`place_all` places a whole recipe.  Loaded when they are asked for: `weighing`, which weighs its readings
against each other, and `answers` and `undecided`, the words for what is wrong with places."""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING, Any

from .placing import place_all

if TYPE_CHECKING:
    from . import answers, undecided, weighing

__all__ = ["answers", "place_all", "undecided", "weighing"]


def __getattr__(name: str) -> Any:
    """A file that only reports, or only wrong recipes, need."""
    if name in ("answers", "undecided", "weighing"):
        return import_module(f".{name}", __name__)
    raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
