"""What comes out of this room: messages fit to be read - on a terminal, on a line, as JSON - and their pages.

Support room: it imports nothing of ours, and nothing heavy, so that `makegood explain` answers at once.
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING, Any

from .nearness import nearest
from .order import in_order
from .plain import to_json
from .terminal import render_terminal
from .types import Diagnostic, Label, Severity, Span, Trouble

if TYPE_CHECKING:
    from .pages import NoSuchPage, Page, PageFormat, codes, page, read_page

__all__ = [
    "Diagnostic",
    "Label",
    "NoSuchPage",
    "Page",
    "PageFormat",
    "Severity",
    "Span",
    "Trouble",
    "codes",
    "in_order",
    "nearest",
    "page",
    "read_page",
    "render_terminal",
    "to_json",
]


def __getattr__(name: str) -> Any:
    """What `pages` holds, loaded when it is asked for: a compile without `explain` reads no page."""
    if name in ("NoSuchPage", "Page", "PageFormat", "codes", "page", "read_page"):
        return getattr(import_module(".pages", __name__), name)
    raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
