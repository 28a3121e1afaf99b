"""Out of this room comes one watertight solid whose every face remembers its label, then its mesh and its
figures.

Build with `prism`, `ramped`, `turned`, `corner_fill` and the tools; move with `place` and `mirrored`; combine
with `join`, `remove` and `trim`; end with `finish` and `measure`.  The only room that imports the kernel of
solids."""

from .assembly import assemble
from .combine import block, common, frame_along, join, mirrored, overlap, pieces, place, remove, touches, trim
from .corners import corner_fill
from .finish import canonical, finish, measure, require_single_precision, single_precision_safe
from .finished_part import finished_part
from .growing import shifted
from .kernel import Solid, from_arrays
from .looking import opened, shadow
from .prisms import Inset, Level, prism, ramped, stack
from .tools import cone_tool, peg, round_tool
from .turnings import facet_count, turned, unit_circle
from .types import Figures, Mesh, Part

__all__ = [
    "Figures",
    "Inset",
    "Level",
    "Mesh",
    "Part",
    "Solid",
    "assemble",
    "block",
    "canonical",
    "common",
    "cone_tool",
    "corner_fill",
    "facet_count",
    "finish",
    "finished_part",
    "frame_along",
    "from_arrays",
    "join",
    "measure",
    "mirrored",
    "opened",
    "overlap",
    "peg",
    "pieces",
    "place",
    "prism",
    "ramped",
    "remove",
    "require_single_precision",
    "round_tool",
    "shadow",
    "shifted",
    "single_precision_safe",
    "stack",
    "touches",
    "trim",
    "turned",
    "unit_circle",
]
