"""What the cutters of holes are made of: from where to where they go, their section, their mouth.

Heights are in mm over the plane a hole lies on; `reach` is how far the body it cuts reaches there.  The
folder of a kind of hole puts its cutter together from these."""

from __future__ import annotations

from typing import NamedTuple

from ..model.holes import Hole
from ..model.sections import Section
from ..model.types import Depth, Mouth
from ..outlines import Region, canonical, facet, turned_over
from ..outlines.measure import ring_area
from ..outlines.sections import section_path
from ..outlines.shape_paths import mouth_path
from ..places.layout import Frame
from .kernel import Solid, added
from .prisms import prism
from .tools import Countersink, cone_tool, round_tool
from .workshop import Workshop

BEYOND = 1.0
"""So far (mm) a cutter stands out past what it cuts."""

SKIN = 1e-3
"""A plane that lies no deeper (mm) than this under the flat of a body is taken for that flat."""

Ends = tuple[float, float]


class BodyExtent(NamedTuple):
    """The lowest and the highest height of a body over the plane of a hole, its name, its material without
    holes.
    """

    low: float
    high: float
    body: str
    solid: Solid


def heights_over(solid: Solid, frame: Frame) -> Ends:
    """Lowest and highest height of a solid over a plane, mm."""
    box = solid.bounding_box()
    heights = [
        frame.onto((x, y, z))[1] for x in (box[0], box[3]) for y in (box[1], box[4]) for z in (box[2], box[5])
    ]
    return min(heights), max(heights)


def reach_of(body: str, solid: Solid, frame: Frame) -> BodyExtent:
    """How far a body reaches over the plane of a hole."""
    return BodyExtent(*heights_over(solid, frame), body, solid)


def begins_inside(told: Depth | Mouth, low: float, high: float) -> bool:
    """Whether a depth is counted from a plane that lies inside a body between these heights: nothing is cut
    in front of it.  From the body's own flat, or from outside, a hole is open past all that stands there."""
    return told.from_plane and low + SKIN < told.start < high - SKIN


def run(hole: Hole, reach: BodyExtent) -> Ends:
    """From where to where the cutter of a hole goes: through all, or from its flat to its depth."""
    low, high = reach.low - BEYOND, reach.high + BEYOND
    if hole.depth is None:
        return low, high
    start, out = hole.depth.start, hole.depth.out
    bottom = start - out * hole.depth.size.value
    if begins_inside(hole.depth, reach.low, reach.high):
        return (bottom, start) if out > 0 else (start, bottom)
    return (bottom, max(high, start + BEYOND)) if out > 0 else (min(low, start - BEYOND), bottom)


def section_tool(shop: Workshop, hole: Hole, ends: Ends, section: Section | None = None) -> Solid:
    """The section of a hole (or another one) as a prism over its plane."""
    path = section_path(hole.section if section is None else section, hole.placed.at, hole.name, shop.marks)
    label = shop.marks.of(hole.name, "bottom")
    return prism(_solid_side(canonical([facet(path, shop.chord, hole=True)])), *ends, label, label)


def _solid_side(region: Region) -> Region:
    """The region that the ring of a hole encloses."""
    return canonical([ring if ring_area(ring) > 0 else turned_over(ring) for ring in region.rings])


def mouth_tool(shop: Workshop, hole: Hole, mouth: Mouth, reach: BodyExtent) -> Solid:
    """A counterbore or countersink over the plane of its hole, open outwards past all that stands there."""
    height, out, label = mouth.start, mouth.out, shop.marks.of(hole.name, mouth.said.word)
    closed = hole.depth is not None and all(
        begins_inside(one, reach.low, reach.high) for one in (hole.depth, mouth)
    )
    beyond = max((reach.high - height if out > 0 else height - reach.low) + BEYOND, BEYOND)
    beyond = 0.0 if closed else beyond
    wide = mouth.wide.value
    if mouth.conical:
        bore = hole.size.value if hole.size is not None else 0.0
        tool = cone_tool(Countersink(wide, bore, height, out * mouth.depth, beyond), shop.chord, label)
    else:
        low, high = sorted((height - out * mouth.depth, height + out * beyond))
        if mouth.nut:
            path = mouth_path(mouth, (0.0, 0.0), hole.name, shop.marks)
            tool = prism(canonical([facet(path, shop.chord)]), low, high, label, label)
        else:
            tool = round_tool(wide, low, high, shop.chord, label)
    return tool.translate((*hole.placed.at, 0.0))


def cutter(shop: Workshop, hole: Hole, bare: Solid, reach: BodyExtent) -> Solid:
    """The cutter in space: what was made over the hole's plane, with its mouth."""
    tool = bare if hole.mouth is None else added([bare, mouth_tool(shop, hole, hole.mouth, reach)])
    return shop.placed(tool, shop.model.frame(hole))
