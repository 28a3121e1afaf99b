"""A grid measured back: how many there are across and up, and from one to the next both ways."""

from __future__ import annotations

import itertools
from collections.abc import Iterator

from ...callipers.bench import Bench
from ...callipers.copied import NOT_FOUND, all_found, furthest, numbers_of, places
from ...callipers.taking import sized
from ...callipers.types import Taken
from ...facts.placing import Count, Pitch
from .model import GridPattern

SAME = 0.01
"""Copies that differ by no more than this (mm) across lie in one column, up in one row."""


def measures(bench: Bench, pattern: GridPattern) -> Iterator[Taken]:
    """The numbers of the grid."""
    found, why = places(bench, pattern)
    known = all_found(found)
    gone = why or NOT_FOUND
    ways = {"across": 0, "up": 1, "x": 0, "y": 1}
    for number in numbers_of(pattern, Count):
        count = None if known is None else len(_levels([at[ways[number.key]] for at in known]))
        yield sized(pattern, number, count, "" if count is not None else gone)
    for number in numbers_of(pattern, Pitch):
        levels = [] if known is None else _levels([at[ways[number.key]] for at in known])
        steps = [b - a for a, b in itertools.pairwise(levels)]
        meant = abs(number.size.value)
        step = furthest(steps, meant) if steps else None
        yield sized(pattern, number, step, "" if step is not None else gone, meant)


def _levels(values: list[float]) -> list[float]:
    """The distinct values, ascending."""
    levels: list[float] = []
    for value in sorted(values):
        if not levels or value - levels[-1] > SAME:
            levels.append(value)
    return levels
