"""Out of this room: what callipers, depth rod, drill and protractor find on the finished mesh, beside what
was said of it.

It shares nothing with what built the mesh: every value comes from triangles and the names they carry."""

from importlib import import_module
from typing import TYPE_CHECKING, Any

from .measuring import measure_back
from .types import Taken

if TYPE_CHECKING:
    from .ways import HowItRuns, ways_of

__all__ = ["HowItRuns", "Taken", "measure_back", "ways_of"]


def __getattr__(name: str) -> Any:
    """Which way things run, told by `report` and the page only, so loaded when it is asked for."""
    if name in ("HowItRuns", "ways_of"):
        return getattr(import_module(".ways", __name__), name)
    raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
