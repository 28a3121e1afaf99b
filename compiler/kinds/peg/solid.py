"""A peg as a solid: its section drawn out of its plane, or a core with its thread."""

from __future__ import annotations

from ...diagnostics.types import at_fault
from ...mesh.drawn import only_line
from ...mesh.kernel import Solid
from ...mesh.prisms import prism
from ...mesh.workshop import Workshop
from ...outlines import Region, canonical, facet
from ...outlines.sections import section_path
from .model import Peg


def build(shop: Workshop, body: Peg) -> Solid:
    """The peg in space.  Raises Trouble as `threaded_peg`, `section_path` and `prism` do."""
    with at_fault(only_line(body.bevels), "bevel-too-large"):
        solid = _plain(shop, body) if body.thread is None else _threaded(shop, body)
    return shop.placed(solid, body.frame)


def _plain(shop: Workshop, body: Peg) -> Solid:
    front, back, bevel = (shop.marks.of(body.name, face) for face in ("front", "back", "bevel"))
    region = edge(shop, body)
    return prism(region, body.low, body.high, front, back, body.front_bevel, body.back_bevel, bevel)


def edge(shop: Workshop, body: Peg) -> Region:
    """The outline of a peg on its plane, its thread left out of account."""
    return canonical([facet(section_path(body.section, body.placed.at, body.name, shop.marks), shop.chord)])


def _threaded(shop: Workshop, body: Peg) -> Solid:
    from ...mesh.threading import threaded_peg

    heights, bevels = (body.low, body.high), (body.back_bevel, body.front_bevel)
    entry = shop.claims.entries[body.name]
    solid = threaded_peg(entry, shop.claims, shop.marks, heights, bevels, shop.chord, shop.flip)
    return solid.translate((*body.placed.at, 0.0))
