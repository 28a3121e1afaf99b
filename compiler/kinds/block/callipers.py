"""A block measured back: from side to side, and from its front to its back; its racks."""

from __future__ import annotations

import math
from collections.abc import Iterator

from ...callipers.bench import Bench
from ...callipers.flat_things import SIDES
from ...callipers.prisms import from_side_to_side, thickness
from ...callipers.types import Taken
from .. import needed_file
from .edge_callipers import edge_rows
from .model import Block


def measures(bench: Bench, body: Block) -> Iterator[Taken]:
    """The sizes of the block, in the order of its axes."""
    frame, turn = bench.model.frame(body), body.placed.turn
    ways = (frame.direction(turn), frame.direction(turn + 0.5 * math.pi))
    for number in body.numbers:
        for which, size in enumerate(body.sizes):
            if number.is_size and number.size.said == size.said:
                yield (
                    from_side_to_side(bench, body, number, ways[which], SIDES[which])
                    if which < 2
                    else thickness(bench, body, number)
                )
    yield from edge_rows(bench, body)
    if body.racks:
        yield from needed_file("block", "rack_callipers").rack_rows(bench, body)
