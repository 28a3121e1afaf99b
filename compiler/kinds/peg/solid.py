"""A peg as a solid: its section drawn out of its plane, or a core with its thread."""

from __future__ import annotations

from ...mesh.kernel import Solid
from ...mesh.prisms import prism
from ...mesh.workshop import Workshop
from ...outlines import canonical, facet
from ...outlines.sections import section_path
from ..thread.ridges import Wound
from ..thread.solid import threaded_peg
from .model import Peg


def build(shop: Workshop, body: Peg) -> Solid:
    """The peg in space.  Raises Trouble as `threaded_peg`, `section_path` and `prism` do."""
    at, name, bevels = body.placed.at, body.name, (body.back_bevel, body.front_bevel)
    if body.thread is not None:
        left = body.thread.left != shop.flip
        one = Wound(body.thread, body.low, body.high, left, shop.marks.of(name, "thread"))
        solid = threaded_peg(name, one, bevels, shop.marks, shop.chord)
        return shop.placed(solid.translate((*at, 0.0)), body.frame)
    region = canonical([facet(section_path(body.section, at, name, shop.marks), shop.chord)])
    front, back, bevel = (shop.marks.of(name, face) for face in ("front", "back", "bevel"))
    solid = prism(region, body.low, body.high, front, back, body.front_bevel, body.back_bevel, bevel)
    return shop.placed(solid, body.frame)
