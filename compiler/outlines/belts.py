"""The belt round some rounds: the convex hull of discs, exact, found by wrapping.

Start at the lowest disc and turn the tangent: of all other discs the next is the one whose outer tangent asks
for the least further turn (the gift-wrapping of points, Jarvis 1973, with discs in place of points; formula
in `joints`). It costs discs times discs on the hull, which is nothing for the handful of rounds on a part.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence

from ..diagnostics.types import Trouble
from ..quantities.vectors import XY
from .plane import TINY, add, angle_of, apart, at_angle, sub
from .stops import RoundStop
from .types import Bend, Edge, Path, Straight


def belt(rounds: Sequence[RoundStop], edge_label: int = 0) -> Path:
    """The outline of a tight belt round all the rounds (radius 0 is a point); arcs carry the labels of the
    rounds.

    Rounds that lie inside the belt do not show.  Raises Trouble `outline-too-short` for no round at all."""
    if not rounds or (max(r.radius for r in rounds) <= 0.0 and len({r.centre for r in rounds}) < 3):
        raise Trouble("outline-too-short", "a belt needs rounds to run round", tuple(r.name for r in rounds))
    rounds = sorted(rounds, key=lambda r: (r.centre, -r.radius, r.label))
    lowest = min(range(len(rounds)), key=lambda k: (rounds[k].centre[1] - rounds[k].radius, k))
    first = _next(rounds, lowest, -math.pi / 2.0)
    if first is None:
        only = rounds[lowest]
        start = at_angle(only.centre, only.radius, 0.0)
        return (Bend(only.centre, only.radius, start, start, math.tau, only.label),)
    turns = _wrap(rounds, first)
    return _edges(rounds, turns, edge_label)


def _wrap(rounds: Sequence[RoundStop], first: tuple[int, float]) -> list[tuple[int, float]]:
    """(round reached, outward direction of the tangent that reached it), once round; directions only grow."""
    start = first[1]
    turns = [first]
    while True:
        step = _next(rounds, *turns[-1])
        assert step is not None
        if step[1] >= start + math.tau - 1e-9 or len(turns) > 2 * len(rounds):
            return turns
        turns.append(step)


def _next(rounds: Sequence[RoundStop], current: int, direction: float) -> tuple[int, float] | None:
    """The round that the turning tangent meets next, and the outward direction of their common tangent."""
    here = rounds[current]
    best: tuple[float, float, int] | None = None
    for k, other in enumerate(rounds):
        distance = apart(here.centre, other.centre)
        if k == current or abs(here.radius - other.radius) >= distance - TINY:
            continue
        alpha = math.asin((here.radius - other.radius) / distance)
        outward = angle_of(sub(other.centre, here.centre)) + alpha - math.pi / 2.0
        turn = (outward - direction) % math.tau
        turn = 0.0 if turn > math.tau - 1e-9 else turn
        if best is None or turn < best[0] - 1e-9 or (turn < best[0] + 1e-9 and -distance < best[1]):
            best = (turn, -distance, k)
    return None if best is None else (best[2], direction + best[0])


def _edges(rounds: Sequence[RoundStop], turns: list[tuple[int, float]], label: int) -> Path:
    edges: list[Edge] = []
    for k, (index, reached) in enumerate(turns):
        after, leaving = turns[(k + 1) % len(turns)]
        if k + 1 == len(turns):
            leaving += math.tau
        here, there = rounds[index], rounds[after]
        begin, end = _at(here, reached), _at(here, leaving)
        if here.radius * (leaving - reached) > TINY:
            edges.append(Bend(here.centre, here.radius, begin, end, leaving - reached, here.label))
        edges.append(Straight(end, _at(there, leaving), label))
    return tuple(edges)


def _at(stop: RoundStop, direction: float) -> XY:
    return add(stop.centre, (math.cos(direction), math.sin(direction)), stop.radius)


def chain(rounds: Sequence[RoundStop], edge_label: int = 0) -> tuple[Path, ...]:
    """Rounds joined in an open row: one belt for each neighbouring pair, to be merged into one region."""
    if len(rounds) < 2:
        return (belt(rounds, edge_label),)
    return tuple(belt(pair, edge_label) for pair in itertools.pairwise(rounds))
