"""The gaps between the teeth of a rack in a side of a block."""

from __future__ import annotations

from ...mesh.workshop import Workshop
from ...outlines.racks import rack_spaces
from ...outlines.types import Ring
from .model import Block
from .racks import RackOf


def spaces(shop: Workshop, body: Block, rack: RackOf) -> list[Ring]:
    """The rings to cut out of the block's outline."""
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
