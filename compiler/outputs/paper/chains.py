"""Stretches of edges put in order: none drawn twice, and neighbours joined to chains, so that dashes run on
evenly.
"""

from __future__ import annotations

import math
from bisect import bisect_left, bisect_right
from collections import defaultdict
from collections.abc import Sequence

from msgspec import Struct

from ...quantities.vectors import XY

GRID = 1e-4  # mm: ends closer than this are one
SHORT = 1e-3  # mm: shorter stretches are dropped


class ChainPiece(Struct, frozen=True):
    """A straight stretch of an edge in a view, and the number of the edge."""

    start: XY
    end: XY
    edge: int


class Wire(Struct, frozen=True):
    """A chain of edges in a view, closed or not: seen or hidden, and the face labels on both its sides."""

    points: tuple[XY, ...]
    closed: bool
    hidden: bool
    labels: frozenset[int]


_Carrier = tuple[float, float, float]
_Stretch = tuple[float, float]


class _Covered:
    """What is covered of a line: stretches apart from one another, in order, so that thousands are asked
    quickly.
    """

    def __init__(self) -> None:
        self.starts: list[float] = []
        self.stops: list[float] = []

    def take(self, start: float, stop: float) -> list[_Stretch]:
        """What was free of start..stop; all of it is covered from now on."""
        first = bisect_left(self.stops, start)
        last = bisect_right(self.starts, stop)
        free, at = [], start
        for low, high in zip(self.starts[first:last], self.stops[first:last], strict=True):
            if low - at > SHORT:
                free.append((at, low))
            at = max(at, high)
        if stop - at > SHORT:
            free.append((at, stop))
        low, high = min([start, *self.starts[first:last]]), max([stop, *self.stops[first:last]])
        self.starts[first:last], self.stops[first:last] = [low], [high]
        return free


def without_doubles(pieces: Sequence[ChainPiece], above: Sequence[ChainPiece] = ()) -> list[ChainPiece]:
    """The pieces without what others of them, or of `above`, cover already."""
    covered: dict[_Carrier, _Covered] = defaultdict(_Covered)
    for one in above:
        carrier, stretch = _on_carrier(one)
        if carrier is not None:
            covered[carrier].take(*stretch)
    found = []
    for one in pieces:
        carrier, (start, stop) = _on_carrier(one)
        if carrier is None:
            continue
        for a, b in covered[carrier].take(start, stop):
            found.append(
                ChainPiece(
                    _point(carrier, a, one, start, stop), _point(carrier, b, one, start, stop), one.edge
                )
            )
    return found


def _on_carrier(one: ChainPiece) -> tuple[_Carrier | None, _Stretch]:
    """The line that a piece lies on (direction, distance from the origin), rounded, and from where to where
    on it.
    """
    dx, dy = one.end[0] - one.start[0], one.end[1] - one.start[1]
    long = math.hypot(dx, dy)
    if long < SHORT:
        return None, (0.0, 0.0)
    ux, uy = dx / long, dy / long
    if ux < -1e-9 or (abs(ux) <= 1e-9 and uy < 0):
        ux, uy = -ux, -uy
    a, b = ux * one.start[0] + uy * one.start[1], ux * one.end[0] + uy * one.end[1]
    offset = ux * one.start[1] - uy * one.start[0]
    return (round(ux, 4) + 0.0, round(uy, 4) + 0.0, round(offset, 3) + 0.0), (min(a, b), max(a, b))


def _point(carrier: _Carrier, at: float, one: ChainPiece, start: float, stop: float) -> XY:
    """A point of a piece by its place on the carrier; its own ends come back exactly."""
    ux, uy, _ = carrier
    first, last = sorted((one.start, one.end), key=lambda end: ux * end[0] + uy * end[1])
    if at <= start:
        return first
    if at >= stop:
        return last
    share = (at - start) / (stop - start)
    return (first[0] + (last[0] - first[0]) * share, first[1] + (last[1] - first[1]) * share)


def chained(pieces: Sequence[ChainPiece], mates: Sequence[frozenset[int]], *, hidden: bool) -> list[Wire]:
    """Pieces whose ends meet, and that lie between the same two faces, as chains; in an order of their
    own.
    """
    groups: dict[tuple[int, ...], list[tuple[XY, XY]]] = defaultdict(list)
    for one in pieces:
        groups[tuple(sorted(mates[one.edge]))].append((one.start, one.end))
    wires = []
    for labels, some in sorted(groups.items()):
        for points, closed in _chains(some):
            wires.append(Wire(tuple(points), closed, hidden, frozenset(labels)))
    return wires


def _key(point: XY) -> tuple[int, int]:
    return (round(point[0] / GRID), round(point[1] / GRID))


def _chains(some: Sequence[tuple[XY, XY]]) -> list[tuple[list[XY], bool]]:
    at: dict[tuple[int, int], list[int]] = defaultdict(list)
    for number, (start, end) in enumerate(some):
        at[_key(start)].append(number)
        at[_key(end)].append(number)
    used = [False] * len(some)
    found: list[tuple[list[XY], bool]] = []

    def follow(number: int, here: XY) -> list[XY]:
        points = [here]
        while True:
            used[number] = True
            start, end = some[number]
            here = end if _key(start) == _key(here) else start
            points.append(here)
            mates = at[_key(here)]
            following = [one for one in mates if not used[one]]
            if len(mates) != 2 or not following:
                return points
            number = following[0]

    # open chains begin where no two pieces meet end to end; what is left after them is closed
    for number, (start, end) in enumerate(some):
        for here in (start, end):
            if not used[number] and len(at[_key(here)]) != 2:
                found.append((follow(number, here), False))
    for number, (start, _) in enumerate(some):
        if not used[number]:
            points = follow(number, start)
            closed = len(points) > 3 and _key(points[0]) == _key(points[-1])
            found.append((points[:-1] if closed else points, closed))
    return found
