"""What a drawing says of a row: its pitch."""

from __future__ import annotations

import math
from collections.abc import Iterator

from ...outputs.paper.amounts import come_out
from ...outputs.paper.relations import copied, pitch
from ...outputs.paper.types import Dimension
from ...outputs.paper.views import Scene
from .model import RowPattern


def sizes(scene: Scene, row: RowPattern) -> Iterator[Dimension]:
    """From the first copy to the last, as so many pitches."""
    for thing, places in copied(scene, row):
        step = come_out(math.dist(places[0], places[1]), row.pitch)
        yield pitch(scene, thing, (places[0], places[-1]), step, len(places) - 1)
