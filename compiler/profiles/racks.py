"""Teeth of an ISO 53 rack cut into a side of a block: straight flanks of 20 degrees, tips in the side, rounded roots."""

from __future__ import annotations

import math

import numpy as np

from ..diagnostics.types import Trouble
from ..quantities.gears import ADDENDUM, DEDENDUM, PRESSURE, ROOT
from .booleans import turned_over
from .corners import round_corners
from .facets import facet
from .types import XY, Path, Ring, Straight

MOST_SPACES = 2_000
LEAST_MODULE = 0.1
BEYOND = 1.0
LEAST_LAND = 0.4
"""mm: an end tooth with a land narrower than this is cut away; one strand of a nozzle would be left standing."""


def rack_spaces(start: XY, end: XY, module: float, wider: float, chord: float, label: int) -> list[Ring]:
    """The spaces of a rack along the side from `start` to `end`, material on its left; a tooth stands in the middle.

    `wider` (mm) is what the teeth give up for play.  Raises Trouble('bad-gear').
    """
    if module < LEAST_MODULE:
        raise Trouble("bad-gear", f"teeth of module {module:.4g} are too fine to print")
    length = math.dist(start, end)
    pitch = math.pi * module
    if length < 2.0 * pitch:
        raise Trouble("bad-gear", f"a side of {length:.4g} has no room for the teeth of a rack {pitch:.4g} apart")
    if length / pitch > MOST_SPACES:
        raise Trouble("bad-gear", f"a rack of {length / pitch:.0f} teeth is more than anyone could print")
    space = _space(module, wider, chord, label)
    angle = math.atan2(end[1] - start[1], end[0] - start[0])
    c, s = math.cos(angle), math.sin(angle)
    turn = np.array([[c, s], [-s, c]])
    middle = 0.5 * np.array([start[0] + end[0], start[1] + end[1]])
    count = math.floor((0.5 * length + 0.5 * pitch) / pitch)
    places = [pitch * (k + 0.5) for k in range(-count, count)]
    rings = [Ring((space.points + np.array([at, 0.0])) @ turn + middle, space.labels) for at in places]
    return [*rings, *_ends(places, length, module, wider, turn, middle, label)]


def _space(module: float, wider: float, chord: float, label: int) -> Ring:
    """One space about the y axis, the side on y = 0 and material above it (the ring anticlockwise)."""
    lean = math.tan(PRESSURE)
    half = 0.25 * math.pi * module + 0.5 * wider
    mouth = half + (ADDENDUM * module + BEYOND) * lean
    bottom = half - DEDENDUM * module * lean
    deep = (ADDENDUM + DEDENDUM) * module
    corners = [(-mouth, -BEYOND), (mouth, -BEYOND), (bottom, deep), (-bottom, deep)]
    path: Path = tuple(Straight(a, b, label) for a, b in zip(corners, [*corners[1:], corners[0]], strict=True))
    path = round_corners(path, min(ROOT * module, 0.9 * bottom), "outside", corners[2:], label)
    return turned_over(facet(path, chord, hole=True))


def _ends(
    places: list[float], length: float, module: float, wider: float, turn: np.ndarray, middle: np.ndarray, label: int
) -> list[Ring]:
    """What takes away the stump of a tooth at either end where its land is hardly there."""
    mouth = 0.25 * math.pi * module + 0.5 * wider + ADDENDUM * module * math.tan(PRESSURE)
    land = 0.5 * length - places[-1] - mouth
    if land >= LEAST_LAND or land <= -2.0 * mouth:
        return []
    deep = (ADDENDUM + DEDENDUM) * module
    found = []
    for side in (-1.0, 1.0):
        low, high = sorted((side * places[-1], side * (0.5 * length + BEYOND)))
        box = np.array([(low, -BEYOND), (high, -BEYOND), (high, deep), (low, deep)])
        found.append(Ring(box @ turn + middle, np.full(4, label, dtype=np.int32)))
    return found
