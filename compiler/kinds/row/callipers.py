"""A row measured back: how many there are, from one to the next, over all of them."""

from __future__ import annotations

import math
from collections.abc import Iterator

from ...callipers.bench import Bench
from ...callipers.copied import NOT_FOUND, all_found, copied, counted, furthest, numbers_of, places, steps
from ...callipers.locating import located
from ...callipers.taking import sized, turned
from ...callipers.types import Taken
from ...facts.placing import Count, OverRow, Pitch, TurnedBy
from .model import RowPattern


def measures(bench: Bench, pattern: RowPattern) -> Iterator[Taken]:
    """The numbers of the row."""
    found, why = places(bench, pattern)
    known = all_found(found)
    gone = why or NOT_FOUND
    for number in numbers_of(pattern, Count):
        count = counted(pattern, found)
        yield sized(pattern, number, count, "" if count else gone)
    for number in numbers_of(pattern, Pitch):
        step = None if known is None else furthest(steps(known), abs(number.size.value))
        meant = abs(number.size.value)
        yield sized(pattern, number, step, "" if step is not None else gone, meant)
    for number in numbers_of(pattern, OverRow):
        over = None if known is None else _over(bench, pattern, known)
        yield sized(pattern, number, over, "" if over is not None else gone)
    for number in numbers_of(pattern, TurnedBy):
        angle = None
        if known is not None:
            (x, y), (u, v) = known[0], known[-1]
            angle = math.degrees(math.atan2(v - y, u - x))
        yield turned(pattern, number, angle, "" if angle is not None else gone, 180.0)


def _over(bench: Bench, pattern: RowPattern, known: list[tuple[float, float]]) -> float | None:
    """From the outer edge of the first to that of the last, as its things were read."""
    thing = copied(bench, pattern)
    one = None if thing is None else located(bench, thing.name, "", bench.model.frame(thing))
    apart = math.dist(known[0], known[-1])
    if one is None or not apart:
        return None
    way = (known[-1][0] - known[0][0]) / apart, (known[-1][1] - known[0][1]) / apart
    return apart + 2 * one.support(way)
