"""A block as a solid: a box, its corners rounded and racks cut into its sides."""

from __future__ import annotations

from ...mesh.drawn import drawn
from ...mesh.kernel import Solid
from ...mesh.workshop import Workshop
from ...outlines import Region, canonical, cut, facet
from ...outlines.racks import rack_spaces
from ...outlines.shape_paths import box_path
from ...outlines.types import Ring
from .model import Block, RackOf


def build(shop: Workshop, body: Block) -> Solid:
    """The block in space.  Raises Trouble as `region` and `drawn` do."""
    return drawn(shop, body, shop.region(body.name))


def region(shop: Workshop, body: Block) -> Region:
    """The outline of a block on its plane, the teeth of racks cut into its sides.  Raises Trouble as
    `round_corners` does."""
    box = box_path(body.placed.at, body.half, body.corners, body.name, shop.marks)
    region = canonical([facet(box, shop.chord)])
    if not body.racks:
        return region
    return cut(region, [space for rack in body.racks for space in _spaces(shop, body, rack)])


def _spaces(shop: Workshop, body: Block, rack: RackOf) -> list[Ring]:
    (at_x, at_y), (x, y) = body.placed.at, body.half
    left, right, low, high = at_x - x, at_x + x, at_y - y, at_y + y
    where = rack.found.where
    start, end = {
        "bottom": ((left, low), (right, low)),
        "right": ((right, low), (right, high)),
        "top": ((right, high), (left, high)),
        "left": ((left, high), (left, low)),
    }[where]
    # Places are counted from the left or bottom end; top and left sides are walked towards it.
    gaps = rack.row.gaps
    if where in ("top", "left"):
        gaps = tuple(-gap for gap in reversed(gaps))
    return rack_spaces(
        start, end, rack.found.rack, gaps, shop.chord, shop.marks.of(body.name, f"rack {where}")
    )
