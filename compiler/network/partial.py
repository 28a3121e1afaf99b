"""Partial layouts while a plane is built, and the small questions asked of a set of them."""

from __future__ import annotations

import math
from collections.abc import Sequence

from msgspec import Struct

from ..quantities.vectors import XY
from .problem import Problem
from .sides import spot
from .types import Heading, LineGap, SideWord, Tangent, ToLine

SAME = 1e-5


class Ambiguity(Struct, frozen=True):
    """An item that fits in several places: the layouts that show them, the kept one first."""

    item: int
    layouts: tuple[tuple[float, ...], ...]


class Branch(Struct, eq=False):
    """A partial layout: positions, worst miss so far (in u), ambiguities noted, side words no answer met
    (with mm), and whether choices were taken early because there were too many.

    `at` belongs to this branch alone and grows in place, so that a long row of plain places costs no copies.
    """

    at: list[float]
    worst: float = 0.0
    found: tuple[Ambiguity, ...] = ()
    broken: tuple[tuple[SideWord, float], ...] = ()
    clipped: bool = False


def split(branches: Sequence[Branch], item: int) -> list[list[Branch]]:
    """Branches by where one item lies in them."""
    groups: dict[tuple[float, float], list[Branch]] = {}
    for b in branches:
        groups.setdefault((round(b.at[2 * item], 4), round(b.at[2 * item + 1], 4)), []).append(b)
    return list(groups.values())


def canonical_line(angle: float, offset: float) -> XY:
    """The form of a line whose normal lies within (-45, 135] degrees: up for a level line, right for an
    upright one.
    """
    turned = math.remainder(angle - math.pi / 4, math.pi)
    if turned <= -math.pi / 2 + 1e-9:
        turned += math.pi
    turned += math.pi / 4
    return (turned, offset) if math.cos(turned - angle) > 0 else (turned, -offset)


def some(branches: list[Branch], most: int) -> list[Branch]:
    """At most so many of them, evenly picked."""
    step = max(1.0, len(branches) / most)
    return [branches[int(k * step)] for k in range(min(most, len(branches)))]


def distinct(places: list[XY]) -> list[XY]:
    """Without those that repeat an earlier one."""
    kept: list[XY] = []
    for x, y in places:
        if not any(abs(x - p) < SAME and abs(y - q) < SAME for p, q in kept):
            kept.append((x, y))
    return kept


def same_place(problem: Problem, a: Branch, b: Branch, item: int) -> bool:
    """Whether an item lies alike in two layouts; a line's normal may point either way."""
    p, q = spot(problem, a.at, item), spot(problem, b.at, item)
    near = math.hypot(p[0] - q[0], p[1] - q[1]) < SAME
    return near and (item in problem.things or abs(math.sin(a.at[2 * item] - b.at[2 * item])) < SAME)


def by_place(problem: Problem, rivals: Sequence[Branch], item: int) -> list[list[Branch]]:
    """Rivals grouped by where they place an item."""
    groups: list[list[Branch]] = []
    for b in rivals:
        home = next((g for g in groups if same_place(problem, g[0], b, item)), None)
        if home is None:
            groups.append([b])
        else:
            home.append(b)
    return groups


def unlike(branches: Sequence[Branch], items: Sequence[int], near: float) -> list[Branch]:
    """Of branches that differ by no more than `near` in all of some items, the first."""
    kept: list[Branch] = []
    for b in branches:
        if not any(
            all(abs(b.at[2 * i + k] - a.at[2 * i + k]) <= near for i in items for k in (0, 1)) for a in kept
        ):
            kept.append(b)
    return kept


def is_oriented(problem: Problem, line: int) -> bool:
    """Whether some row cares which way the normal of a line points."""
    for e in problem.touching[line]:
        row = problem.equations[e].row
        if isinstance(row, Heading) or (isinstance(row, ToLine | Tangent) and row.side != 0):
            return True
        if isinstance(row, LineGap) and row.side != 0 and problem.where[row.other] == line:
            return True
    return False
