"""What comes out of this room: files as bytes - 3MF, STL, the report - and their safe way onto the disk.

One file per format, loaded when it is asked for; nothing is decided about the part here.
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING, Any

from .safe_write import write_whole
from .types import Feature, PartReport

if TYPE_CHECKING:
    from . import features, paper
    from .report import report_json, report_text
    from .stl import stl_bytes
    from .threemf import threemf_bytes

__all__ = [
    "Feature",
    "PartReport",
    "features",
    "paper",
    "report_json",
    "report_text",
    "stl_bytes",
    "threemf_bytes",
    "write_whole",
]

_FILES = {
    "report_json": "report",
    "report_text": "report",
    "stl_bytes": "stl",
    "threemf_bytes": "threemf",
}


def __getattr__(name: str) -> Any:
    """What writes one format, from its file; the figures of a part, and all of paper."""
    if name in ("features", "paper"):
        return import_module(f".{name}", __name__)
    if name in _FILES:
        return getattr(import_module(f".{_FILES[name]}", __name__), name)
    raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
