"""Out of this room comes one watertight solid whose every face remembers its label, then its mesh and its
figures.

Build with `prism`, `ramped` and what the other files offer; move with `place` and `mirrored`; combine with
`join`, `remove` and `trim`; end with `finish` and `measure`.  The only room that imports the kernel of
solids.  `apart`, the words for a part in several pieces, is loaded when it is asked for."""

from importlib import import_module
from typing import TYPE_CHECKING, Any

from .assembly import assemble
from .combine import block, common, frame_along, join, mirrored, overlap, pieces, place, remove, touches, trim
from .finish import canonical, finish, measure, require_single_precision, single_precision_safe
from .kernel import Solid, from_arrays
from .prisms import EndBevels, Inset, Level, PadHeights, prism, ramped, stack
from .types import Figures, Mesh, Part

if TYPE_CHECKING:
    from . import apart

__all__ = [
    "EndBevels",
    "Figures",
    "Inset",
    "Level",
    "Mesh",
    "PadHeights",
    "Part",
    "Solid",
    "apart",
    "assemble",
    "block",
    "canonical",
    "common",
    "finish",
    "frame_along",
    "from_arrays",
    "join",
    "measure",
    "mirrored",
    "overlap",
    "pieces",
    "place",
    "prism",
    "ramped",
    "remove",
    "require_single_precision",
    "single_precision_safe",
    "stack",
    "touches",
    "trim",
]


def __getattr__(name: str) -> Any:
    """The file that only parts in several pieces need."""
    if name == "apart":
        return import_module(".apart", __name__)
    raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
