"""A peg as a solid: its section drawn out of its plane, or a core with its thread."""

from __future__ import annotations

from ...diagnostics.types import at_fault
from ...mesh.kernel import Solid
from ...mesh.prisms import EndBevels, prism
from ...mesh.workshop import Workshop
from ...outlines import Region, canonical, facet
from ...outlines.sections import section_path
from .. import needed_file
from .model import Peg


def build(shop: Workshop, body: Peg) -> Solid:
    """The peg in space.  Raises Trouble as `threaded`, `section_path` and `prism` do."""
    if body.thread is not None:
        own = needed_file("peg", "threaded")
        solid = own.threaded(shop, body, body.thread).translate((*body.placed.at, 0.0))
        return shop.placed(solid, body.frame)
    region = edge(shop, body)
    front, back, bevel = (shop.marks.of(body.name, face) for face in ("front", "back", "bevel"))
    with at_fault(body.bevel_line, "bevel-too-large"):
        bevels = EndBevels(body.front_bevel, body.back_bevel, bevel)
        solid = prism(region, body.low, body.high, front, back, bevels)
    return shop.placed(solid, body.frame)


def edge(shop: Workshop, body: Peg) -> Region:
    """The outline of a peg on its plane, its thread left out of account."""
    return canonical([facet(section_path(body.section, body.placed.at, body.name, shop.marks), shop.chord)])
