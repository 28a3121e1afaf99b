"""Teeth of an ISO 53 rack cut into a side of a block: straight flanks of 20 degrees, tips in the side,
rounded roots.
"""

from __future__ import annotations

import math

import numpy as np

from ..quantities.arrays import Floats
from ..quantities.gears import ADDENDUM, DEDENDUM, ROOT
from ..quantities.racks import Rack
from ..quantities.vectors import XY
from .booleans import turned_over
from .corners import round_corners
from .facets import facet
from .types import Path, Ring, Straight

BEYOND = 1.0
LEAST_LAND = 0.4
"""mm: what is left of a side beside the last gap, narrower than this, is cut away; one strand of a nozzle
would stand there.
"""


def rack_spaces(
    start: XY, end: XY, rack: Rack, gaps: tuple[float, ...], chord: float, label: int
) -> list[Ring]:
    """The gaps of a rack along the side from `start` to `end`, material on its left; `gaps` are their middles
    from the middle of the side, counted towards `end`."""
    length = math.dist(start, end)
    space = _space(rack, chord, label)
    angle = math.atan2(end[1] - start[1], end[0] - start[0])
    c, s = math.cos(angle), math.sin(angle)
    turn = np.array([[c, s], [-s, c]])
    middle = 0.5 * np.array([start[0] + end[0], start[1] + end[1]])
    rings = [Ring((space.points + np.array([at, 0.0])) @ turn + middle, space.labels) for at in gaps]
    stumps = [*_stump(min(gaps), -0.5 * length, rack), *_stump(max(gaps), 0.5 * length, rack)]
    return [*rings, *(Ring(box @ turn + middle, np.full(4, label, dtype=np.int32)) for box in stumps)]


def _space(rack: Rack, chord: float, label: int) -> Ring:
    """One gap about the y axis, the side on y = 0 and material above it (the ring anticlockwise)."""
    module = rack.module
    mouth = rack.half_gap(ADDENDUM * module + BEYOND)
    bottom = rack.half_gap(-DEDENDUM * module)
    deep = rack.depth
    corners = [(-mouth, -BEYOND), (mouth, -BEYOND), (bottom, deep), (-bottom, deep)]
    path: Path = tuple(
        Straight(a, b, label) for a, b in zip(corners, [*corners[1:], corners[0]], strict=True)
    )
    path = round_corners(path, min(ROOT * module, 0.9 * bottom), "outside", corners[2:], label)
    return turned_over(facet(path, chord, hole=True))


def _stump(gap: float, end: float, rack: Rack) -> list[Floats]:
    """What takes away the stump of material between the last gap and that end of the side where its land is
    hardly there.
    """
    mouth = rack.half_gap(ADDENDUM * rack.module)
    land = abs(end) - math.copysign(1.0, end) * gap - mouth
    if land >= LEAST_LAND or land <= -2.0 * mouth:
        return []
    low, high = sorted((gap, end + math.copysign(BEYOND, end)))
    return [np.array([(low, -BEYOND), (high, -BEYOND), (high, rack.depth), (low, rack.depth)])]
