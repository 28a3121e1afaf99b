"""What comes out of this room: answers to questions asked of the finished part, and of what was written but
not used.  `snaps`, which judges snap joints, is loaded when it is asked for.
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING, Any

from .checking import check_part

if TYPE_CHECKING:
    from . import snaps

__all__ = ["check_part", "snaps"]


def __getattr__(name: str) -> Any:
    """The file that only parts with snap joints need."""
    if name == "snaps":
        return import_module(".snaps", __name__)
    raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
