"""What comes out of this room: the table of line shapes, what its slots take, and what the items of a line
fill them with.  What a recipe says with its lines is worked out in `tree` and `facts`.

Other people's words (`synonyms`) are loaded when a line is not understood.
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING, Any

from .matching import Mismatch, match
from .shapes import kinds, members
from .slots import SlotType

if TYPE_CHECKING:
    from . import synonyms

__all__ = ["Mismatch", "SlotType", "kinds", "match", "members", "synonyms"]


def __getattr__(name: str) -> Any:
    """The file that only answers need."""
    if name == "synonyms":
        return import_module(".synonyms", __name__)
    raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
