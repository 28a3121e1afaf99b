"""Side words: does a layout meet them, and which of them tell two places apart.

Ways with an axis compare along it; against a line they mean the way along that axis from the line to the
thing.  BEYOND, SHORT: further from, or nearer to, `base` than b is, along the direction base -> b.  SAME: on
the same side of line b as thing `base`."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence

from .problem import Problem
from .types import PlaceOffer, SideOffer, SideWord, Way

SURE = 1e-6


def _from_line(at: Sequence[float], line: int, x: float, y: float) -> float:
    return math.cos(at[2 * line]) * x + math.sin(at[2 * line]) * y - at[2 * line + 1]


def lies(problem: Problem, at: Sequence[float], a: int, b: int, axis: tuple[float, float]) -> float | None:
    """How far (mm) a lies towards `axis` of b; None where the two can't be compared (a line runs along the
    axis).
    """
    if a in problem.things and b in problem.things:
        return axis[0] * (at[2 * a] - at[2 * b]) + axis[1] * (at[2 * a + 1] - at[2 * b + 1])
    if b in problem.things:
        far = lies(problem, at, b, a, axis)
        return None if far is None else -far
    lean = math.cos(at[2 * b]) * axis[0] + math.sin(at[2 * b]) * axis[1]
    if abs(lean) < 1e-6:
        return None
    if a in problem.things:
        return _from_line(at, b, at[2 * a], at[2 * a + 1]) / lean
    foot = (math.cos(at[2 * a]) * at[2 * a + 1], math.sin(at[2 * a]) * at[2 * a + 1])
    return _from_line(at, b, *foot) / lean


def met_by(problem: Problem, at: Sequence[float], side: SideWord) -> float:
    """How far (mm) a layout is on the right side of a side word; below 0: on the wrong side, inf: can't be
    compared.
    """
    a, b = problem.where[side.a], problem.where[side.b]
    axis = side.way.axis
    if axis is not None:
        far = lies(problem, at, a, b, axis)
        return math.inf if far is None else far
    base = problem.where[side.base] if side.base is not None else None
    if base is None or base not in problem.things or a not in problem.things:
        return math.inf
    ax, ay, ox, oy = at[2 * a], at[2 * a + 1], at[2 * base], at[2 * base + 1]
    if side.way is Way.SAME:
        mine, theirs = _from_line(at, b, ax, ay), _from_line(at, b, ox, oy)
        return math.copysign(1.0, theirs) * mine if abs(theirs) > SURE else math.inf
    if b not in problem.things:
        there = _from_line(at, b, ox, oy)
        further = -math.copysign(1.0, there) * _from_line(at, b, ax, ay)
    else:
        dx, dy = at[2 * b] - ox, at[2 * b + 1] - oy
        size = math.hypot(dx, dy) or 1.0
        further = ((ax - at[2 * b]) * dx + (ay - at[2 * b + 1]) * dy) / size
    return further if side.way is Way.BEYOND else -further


def telling_words(
    problem: Problem, layouts: Sequence[Sequence[float]], item: int, others: Iterable[int]
) -> tuple[SideOffer | PlaceOffer, ...]:
    """Side words that tell apart where `item` lies in the layouts, in the layouts' order where there are two.

    `others`: what the words may refer to, best first.  Where none tells them apart, the places themselves.
    """
    found = _split(problem, layouts, item, list(others), ((Way.RIGHT, Way.LEFT), (Way.ABOVE, Way.BELOW)))
    if found:
        return found
    return tuple(PlaceOffer(spot(problem, at, item)) for at in layouts)


def _split(
    problem: Problem,
    layouts: Sequence[Sequence[float]],
    item: int,
    others: list[int],
    ways: tuple[tuple[Way, Way], ...],
) -> tuple[SideOffer, ...]:
    words: list[SideOffer] = []
    for other in others:
        name = problem.names[other]
        for plus, minus in ways:
            assert plus.axis is not None
            where = [far for at in layouts if (far := lies(problem, at, item, other, plus.axis)) is not None]
            if len(where) == len(layouts) and min(where) < -SURE and max(where) > SURE:
                if len(layouts) == 2:
                    return tuple(SideOffer(plus if w > 0 else minus, name) for w in where)
                words += [SideOffer(plus, name), SideOffer(minus, name)]
        if words:
            break
    return tuple(words)


def spot(problem: Problem, at: Sequence[float], item: int) -> tuple[float, float]:
    """A place (x, y) to show for an item: a thing's centre, or a line's point nearest to the origin."""
    if item in problem.things:
        return at[2 * item], at[2 * item + 1]
    return math.cos(at[2 * item]) * at[2 * item + 1], math.sin(at[2 * item]) * at[2 * item + 1]
