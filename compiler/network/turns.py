"""Which way round a sheet lies that nothing ties to the plane but side words ("rod above pin, grip right of
rod").

Problem: the first direction is only a choice, so a side word that fails at quarter turns may still be met at
20 degrees. Choice: all mirror answers are built without the plane's side words; each is turned through whole
degrees, and of the arcs where all words hold the one nearest to the usual direction is taken, in its middle.
The words then pick the mirror answer. Rejected: exact ends of the arcs (words about lines make them awkward,
and nobody means a word to a hair)."""

from __future__ import annotations

import math
from collections.abc import Sequence

from .branches import BranchBuilder
from .plan import Plan
from .problem import Problem
from .sides import SURE, met_by

DEGREES = 360


def _centre(plans: Sequence[Plan], at: Sequence[float]) -> tuple[float, float]:
    """What the sheet turns about: the thing that the chosen direction starts from, else the origin."""
    for plan in plans:
        for eq in plan.frame.get(plan.turning, []) if plan.turning is not None else []:
            if len(eq.members) == 2:
                a = eq.members[0]
                return at[2 * a], at[2 * a + 1]
    return 0.0, 0.0


def turned(
    problem: Problem, at: Sequence[float], items: Sequence[int], centre: tuple[float, float], turn: float
) -> list[float]:
    """A layout with some items turned about a place."""
    cos, sin = math.cos(turn), math.sin(turn)
    cx, cy = centre
    there = list(at)
    for i in items:
        if i in problem.things:
            x, y = at[2 * i] - cx, at[2 * i + 1] - cy
            there[2 * i], there[2 * i + 1] = cx + cos * x - sin * y, cy + sin * x + cos * y
        else:
            angle = at[2 * i]
            away = at[2 * i + 1] - math.cos(angle) * cx - math.sin(angle) * cy
            there[2 * i], there[2 * i + 1] = (
                angle + turn,
                away + math.cos(angle + turn) * cx + math.sin(angle + turn) * cy,
            )
    return there


def _arcs(good: Sequence[int]) -> list[tuple[int, int]]:
    """Runs of whole degrees (first, last) with last possibly past 359."""
    if len(good) == DEGREES:
        return [(-180, 179)]
    inside = set(good)
    starts = [k for k in good if (k - 1) % DEGREES not in inside]
    found = []
    for start in starts:
        end = start
        while (end + 1) % DEGREES in inside:
            end += 1
        found.append((start, end))
    return found


def fitting_turn(problem: Problem, plans: Sequence[Plan], start: Sequence[float]) -> float | None:
    """The turn (radians) at which some mirror answer meets all side words; None where there is none."""
    builder = BranchBuilder(problem, plans, list(start), page_words=False)
    page = [side for side in builder.group.sides if side.way.axis is not None]
    best: tuple[float, float] | None = None
    for branch in builder.run():
        centre, good = _centre(plans, branch.at), list(range(DEGREES))
        layouts = [turned(problem, branch.at, builder.group.order, centre, math.radians(k)) for k in good]
        for side in page:
            good = [k for k in good if met_by(problem, layouts[k], side) > SURE]
        for first, last in _arcs(good) if not branch.broken else []:
            middle = math.remainder((first + last) / 2, DEGREES)
            key = (abs(middle), -middle)
            if best is None or key < (abs(best[1]), -best[1]):
                best = (math.radians(middle), middle)
    return None if best is None else best[0]
