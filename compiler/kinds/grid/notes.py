"""What a drawing says of a grid: its pitches across and up."""

from __future__ import annotations

import math
from collections.abc import Iterator

from ...outputs.paper.amounts import come_out
from ...outputs.paper.relations import copied, pitch
from ...outputs.paper.types import Dimension
from ...outputs.paper.views import Scene
from .model import GridPattern


def sizes(scene: Scene, grid: GridPattern) -> Iterator[Dimension]:
    """From the first copy to the last of its row and of its column, as so many pitches."""
    ways = (
        (grid.step_across, grid.across - 1, grid.across - 1),
        (grid.step_up, grid.across * (grid.up - 1), grid.up - 1),
    )
    for thing, places in copied(scene, grid):
        for told, last, times in ways:
            if times:
                step = come_out(math.dist(places[0], places[last]) / times, told)
                yield pitch(scene, thing, (places[0], places[last]), step, times)
