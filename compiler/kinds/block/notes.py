"""What a drawing says of a block: its sizes, its edges, its racks; and how all that is measured."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from ...outputs.paper.amounts import amount, shown, wanted
from ...outputs.paper.measuring import made, outside, plain
from ...outputs.paper.pointers import at_bevels, at_corners, on_faces
from ...outputs.paper.shapes import sides
from ...outputs.paper.types import Check, Dimension, Gauge, Note
from ...outputs.paper.views import Scene
from .model import Block

if TYPE_CHECKING:
    from .racks import RackOf


def notes(scene: Scene, block: Block) -> Iterator[Note]:
    """Its racks, and the edges that were worked."""
    for rack in block.racks:
        yield from on_faces(scene, block, _rack_text(block.name, rack), f"rack {rack.found.where}")
    yield from at_bevels(scene, block, (size for _, size in block.bevels.said))
    yield from at_corners(scene, block, block.corners)


def _rack_text(name: str, one: RackOf) -> str:
    rack = one.found.rack
    over = f", pitch {shown(one.over * rack.pitch)} over {one.over}" if one.over > 1 else ""
    teeth = f"{shown(rack.depth)} deep, teeth {shown(rack.thickness)} thick {shown(one.line)} over {one.foot}"
    count = f"module {rack.module:.4g}, {one.row.whole} teeth"
    return f"{name} rack {one.found.where}, {count}{over}, {teeth}"


def sizes(scene: Scene, block: Block) -> Iterator[Dimension]:
    """Its three sizes, or the two on its plane and how far it reaches."""
    yield from sides(scene, block, block.sizes[:2], (block.high, block.low))
    low, high = block.low, block.high
    if len(block.sizes) == 3:
        size = amount(block.sizes[2])
    elif block.reach is not None:
        size, there = amount(block.reach.size), block.reach.height
        low, high = (there, high) if abs(high - there) > abs(low - there) else (low, there)
    else:
        return
    (x, y), (w, h) = block.placed.at, block.placed.half
    corners = [(x + i * w, y + j * h) for i in (1, -1) for j in (-1, 1)]
    pairs = tuple((scene.place(block.frame, at, low), scene.place(block.frame, at, high)) for at in corners)
    yield Dimension(block.name, pairs, size.text(), size.value, None, scene.way(block.frame.out))


def checks(scene: Scene, block: Block) -> Iterator[Check]:
    """Its racks, then its sizes."""
    for rack in block.racks:
        yield from _rack_checks(f"{block.name} rack {rack.found.where}", rack)
    for size in (*block.sizes, *((block.reach.size,) if block.reach is not None else ())):
        yield from outside(block.name, size.said.word, size)


def _rack_checks(name: str, one: RackOf) -> Iterator[Check]:
    rack = one.found.rack
    if one.over > 1:
        how = f"from a flank of a tooth to the same flank of the tooth {one.over} on"
        pitch = wanted(one.over * rack.pitch)
        yield plain(f"{name} pitch", Gauge.GAP, how, pitch, made(one.said), mates=True)
    if one.over_pin is not None:
        how = f"outer jaws over the {one.foot} and a pin of {rack.pin:g} laid in a gap"
        yield plain(f"{name} pin", Gauge.SIZE, how, wanted(one.over_pin), mates=True)
