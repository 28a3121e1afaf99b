"""A block as a solid: a box, its corners rounded and racks cut into its sides."""

from __future__ import annotations

from ...mesh.drawn import drawn
from ...mesh.kernel import Solid
from ...mesh.workshop import Workshop
from ...outlines import Region, canonical, cut, facet
from ...outlines.shape_paths import box_path
from .. import needed_file
from .model import Block


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
    spaces = needed_file("block", "teeth").spaces
    return cut(region, [space for rack in body.racks for space in spaces(shop, body, rack)])
