"""A notch as a cutter: a rectangle as deep as it goes, its hollow corners rounded."""

from __future__ import annotations

from contextlib import suppress

from msgspec.structs import replace

from ...diagnostics.types import Trouble, at_fault
from ...mesh.hole_tools import BodyExtent, Ends, cutter, run, section_tool
from ...mesh.kernel import Solid
from ...mesh.workshop import Workshop
from ...model import Body
from ...model.sections import BoxSection
from ...outlines.sections import section_path
from .corners import closed_corners
from .model import Notch


def build(shop: Workshop, hole: Notch, reach: BodyExtent) -> Solid:
    """The cutter in space.  Raises Trouble as `section_tool` does, and 'no-corner' for a notch without a
    hollow corner to round."""
    ends = run(hole, reach)
    return cutter(shop, hole, section_tool(shop, hole, ends, _section(shop, hole, ends, reach)), reach)


def _section(shop: Workshop, hole: Notch, ends: Ends, reach: BodyExtent) -> BoxSection:
    """Its section, rounded only at the corners that have material beyond them, of whichever body."""
    section = hole.section
    if not section.rounds:
        return section
    around = [reach.solid]
    for body in shop.model.of(Body):
        if body.name != reach.body:
            with suppress(Trouble):  # told where that body is built
                around.append(shop.solid(body.name))
    sharp = section_path(replace(section, rounds=()), hole.placed.at, hole.name, shop.marks)
    with at_fault(section.rounds[0].said.span if len(section.rounds) == 1 else None):
        closed = closed_corners(hole, [edge.start for edge in sharp], ends, shop.model.frame(hole), around)
    return replace(section, closed=tuple(closed))
