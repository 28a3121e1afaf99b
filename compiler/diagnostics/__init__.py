"""What comes out of this room: messages fit to be read - on a terminal, on a line, as JSON - and their pages.

Support room: it imports nothing of ours, and nothing heavy, so that `makegood explain` answers at once.
"""

from .nearness import nearest
from .order import in_order
from .pages import NoSuchPage, Page, PageFormat, codes, page, read_page
from .plain import render_line, to_json
from .terminal import render_terminal
from .types import Diagnostic, Label, Severity, Span, Trouble

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
    "render_line",
    "render_terminal",
    "to_json",
]
