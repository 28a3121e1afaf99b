"""A ring measured back: how many there are, over which angle, how far its copies lie from each other."""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator

from ...callipers.bench import Bench
from ...callipers.copied import NOT_FOUND, all_found, copied, counted, furthest, numbers_of, places, steps
from ...callipers.locating import Located, located
from ...callipers.taking import sized, turned
from ...callipers.types import Taken
from ...facts.placing import Count, FromNext, OverAngle, PitchDiameter
from ...quantities.vectors import XY
from .model import RingPattern

_EDGE = {"near-near": -2, "far-far": 2}


def measures(bench: Bench, pattern: RingPattern) -> Iterator[Taken]:
    """The numbers of the ring."""
    found, why = places(bench, pattern)
    thing, known = copied(bench, pattern), all_found(found)
    gone = why or NOT_FOUND
    frame = None if thing is None else bench.model.frame(thing)
    about = None if frame is None else located(bench, pattern.about.thing, pattern.about.part, frame)
    middle = None if about is None else about.at
    own = None if thing is None or frame is None else located(bench, thing.name, "", frame)
    for number in numbers_of(pattern, Count):
        count = counted(pattern, found)
        yield sized(pattern, number, count, "" if count else gone)
    for number in numbers_of(pattern, OverAngle):
        over = None if known is None or middle is None else _over(known, middle)
        # all round, the last one stands a step before the first
        full = abs(number.size.value) >= 360.0
        over = over if over is None or not full else over * pattern.total / (pattern.total - 1)
        yield turned(pattern, number, over, "" if over is not None else gone)
    for number in numbers_of(pattern, FromNext):
        step = None if known is None or own is None else _next(known, own, pattern, number.size.value)
        yield sized(pattern, number, step, "" if step is not None else gone)
    for number in numbers_of(pattern, PitchDiameter):
        sizes = [2 * math.dist(at, middle) for at in known] if known and middle else []
        size = furthest(sizes, number.size.value) if sizes else None
        yield sized(pattern, number, size, "" if size is not None else gone)


def _over(known: list[XY], middle: XY) -> float:
    """From the first to the last round the middle, degrees, the way the copies go."""
    turns = [math.atan2(at[1] - middle[1], at[0] - middle[0]) for at in known]
    return math.degrees(sum((b - a) % math.tau for a, b in itertools.pairwise(turns)))


def _next(known: list[XY], own: Located, pattern: RingPattern, meant: float) -> float:
    """From one to the next, between the edges that the reading was taken at."""
    edges = _EDGE.get(pattern.edges, 0) * own.radius
    return furthest([step + edges for step in steps(known)], meant)
