"""What can still move once everything is placed, and which reading would hold it.

Problem: the null directions of the slopes are mixtures, useless as words; and some are only apparent (two
circles that just touch give a direction that closes up after a hair's breadth).  Choice: first strike out,
one at a time, whatever its own rows hold against things already known to be held; only the rest is looked at
together.  There each thing, in construction order, is asked whether it moves; a mover is named, then taken as
held, so that what merely rides along is not named as well.  Each motion is walked a finite way and must stay.
The help offered is the reading that changes fastest along the motion.  Columns are in mm (angles by a lever),
rows scaled to one."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np
from msgspec import Struct

from ..quantities.arrays import Floats
from .equations import Equation
from .least_squares import design, fit, worst_miss
from .problem import Problem
from .types import (
    Asks,
    Coordinate,
    Distance,
    Heading,
    LeftOpen,
    Motion,
    Moves,
    Offer,
    ReadEdge,
    Spoken,
    Tangent,
    ToLine,
)

LACKING = 1e-6
OFFERED = 40


class _Mover(Struct, frozen=True):
    item: int
    motion: Motion
    would_do: tuple[Offer, ...]


def _slopes(problem: Problem, eqs: Sequence[Equation], at: Sequence[float], items: Sequence[int]) -> Floats:
    """Design matrix with columns in mm and rows of length one."""
    _, matrix = design(eqs, at, items)
    for n, item in enumerate(items):
        if item not in problem.things:
            matrix[:, 2 * n] /= problem.lever
    whole = np.sqrt(np.einsum("ij,ij->i", matrix, matrix))
    us = np.array([u for eq in eqs for u in eq.us])
    keep = whole * us > 1e-9
    return np.asarray(matrix[keep] / whole[keep, None])


def _null(matrix: Floats) -> Floats:
    """Orthonormal columns that no row sees."""
    width = matrix.shape[1]
    if matrix.shape[0] == 0:
        return np.eye(width)
    _, sizes, turned = np.linalg.svd(matrix, full_matrices=True)
    sizes = np.concatenate([sizes, np.zeros(max(0, width - len(sizes)))])
    return np.asarray(turned[sizes <= LACKING].T)


def held_together(
    problem: Problem, eqs: Sequence[Equation], at: Sequence[float], items: Sequence[int]
) -> bool:
    """Whether some equations leave some items no motion at a layout, all others being held."""
    return not _null(_slopes(problem, eqs, at, items)).size


def held_items(
    problem: Problem, eqs: Sequence[Equation], at: Sequence[float], order: Sequence[int]
) -> set[int]:
    """Items whose own rows hold them against items already held, repeated until nothing is added."""
    mine: dict[int, list[Equation]] = {i: [] for i in order}
    for eq in eqs:
        for item in set(eq.members):
            if item in mine:
                mine[item].append(eq)
    held: set[int] = set()
    todo = list(order)
    while todo:
        again = []
        for item in todo:
            if item in held:
                continue
            own = [
                eq for eq in mine[item] if all(m == item or m in held or m not in mine for m in eq.members)
            ]
            if own and _rank_two(problem, own, at, item):
                held.add(item)
                again += [m for eq in mine[item] for m in eq.members if m in mine and m not in held]
        todo = sorted(set(again), key=order.index) if len(again) < 50 else list(dict.fromkeys(again))
    return held


def _rank_two(problem: Problem, eqs: Sequence[Equation], at: Sequence[float], item: int) -> bool:
    lever = 1.0 if item in problem.things else problem.lever
    rows = []
    for eq in eqs:
        for _, slopes in eq.scalars(at):
            g = dict(slopes)
            x, y = g.get(2 * item, 0.0) / lever, g.get(2 * item + 1, 0.0)
            size = math.hypot(x, y)
            if size > 1e-12:
                rows.append((x / size, y / size))
    return any(abs(rows[0][0] * y - rows[0][1] * x) > LACKING for x, y in rows[1:])


def left_open(
    problem: Problem,
    eqs: Sequence[Equation],
    at: Sequence[float],
    order: Sequence[int],
    assumed: Sequence[int],
) -> list[_Mover]:
    """Movers of one cluster: `eqs` its rows and frame choices, `order` its items, `assumed` those to ask
    first.
    """
    held = held_items(problem, eqs, at, order)
    loose = [i for i in order if i not in held]
    if not loose:
        return []
    inside = set(loose)
    near = [eq for eq in eqs if inside & set(eq.members)]
    null = _null(_slopes(problem, near, at, loose))
    suspects = [i for i in assumed if i in inside] + [i for i in loose if i not in set(assumed)]
    found: list[_Mover] = []
    still = set(loose)
    for item in suspects:
        k = loose.index(item)
        if null.shape[1] == 0:
            break
        spread, null_here = _own_motion(null, k)
        spread = [w for w in spread if _stays(problem, near, at, loose, null_here @ w, item)]
        if not spread:
            continue
        own = np.array([(null_here @ w)[2 * k : 2 * k + 2] for w in spread]).T
        found.append(_describe(problem, near, at, item, own, still - {item}))
        still.discard(item)
        null = null_here[:, np.linalg.norm(null_here[2 * k : 2 * k + 2], axis=0) <= LACKING]
    return found


def _own_motion(null: Floats, k: int) -> tuple[list[Floats], Floats]:
    """Null directions turned so that those that move item k (number k of the loose ones) stand apart."""
    block = null[2 * k : 2 * k + 2]
    _, sizes, turned = np.linalg.svd(block, full_matrices=True)
    rotated = null @ turned.T
    sizes = np.concatenate([sizes, np.zeros(max(0, null.shape[1] - len(sizes)))])
    unit = np.eye(null.shape[1])
    moving = [unit[:, n] for n in range(null.shape[1]) if sizes[n] > LACKING]
    for n in range(null.shape[1]):
        if sizes[n] <= LACKING:
            rotated[2 * k : 2 * k + 2, n] = 0.0
    return moving, rotated


def _stays(
    problem: Problem,
    eqs: Sequence[Equation],
    at: Sequence[float],
    items: Sequence[int],
    way: Floats,
    item: int,
) -> bool:
    """Whether a finite walk along `way` ends in another layout that meets the rows as well."""
    if not eqs:
        return True
    k = list(items).index(item)
    reach = 0.02 * problem.lever / float(np.linalg.norm(way[2 * k : 2 * k + 2]))
    there = list(at)
    for n, other in enumerate(items):
        there[2 * other] += reach * float(way[2 * n]) / (1.0 if other in problem.things else problem.lever)
        there[2 * other + 1] += reach * float(way[2 * n + 1])
    back = fit(eqs, there, items)
    lever = 1.0 if item in problem.things else problem.lever
    moved = math.hypot((back[2 * item] - at[2 * item]) * lever, back[2 * item + 1] - at[2 * item + 1])
    return moved > 0.006 * problem.lever and worst_miss(eqs, back) <= worst_miss(eqs, at) + 0.01


def _describe(
    problem: Problem, eqs: Sequence[Equation], at: Sequence[float], item: int, own: Floats, moving: set[int]
) -> _Mover:
    basis = [own[:, n] / np.linalg.norm(own[:, n]) for n in range(own.shape[1])]
    mine = [eq for eq in eqs if item in eq.members]
    if len(basis) == 2:
        return _Mover(item, Motion(Moves.FREE), _offers(problem, at, item, basis, moving))
    way = basis[0]
    motion = _thing_motion if item in problem.things else _line_motion
    return _Mover(item, motion(problem, mine, item, way, moving), _offers(problem, at, item, basis, moving))


def _others(eq: Equation, item: int) -> list[int]:
    return [m for m in eq.members if m != item]


def _thing_motion(
    problem: Problem, mine: Sequence[Equation], item: int, way: Floats, moving: set[int]
) -> Motion:
    still = [eq for eq in mine if not set(_others(eq, item)) & moving]
    for eq in still:
        if isinstance(eq.row, ToLine | Tangent):
            return Motion(Moves.ALONG, problem.names[eq.members[1]])
    for eq in still:
        if isinstance(eq.row, Distance):
            return Motion(Moves.ABOUT, problem.names[_others(eq, item)[0]])
    if any(isinstance(eq.row, Coordinate | Heading) for eq in still):
        if abs(way[1]) < 1e-6:
            return Motion(Moves.ACROSS)
        return Motion(Moves.UPRIGHT if abs(way[0]) < 1e-6 else Moves.STRAIGHT)
    for eq in mine:
        if others := [m for m in _others(eq, item) if m in moving]:
            return Motion(Moves.WITH, problem.names[others[0]])
    return Motion(Moves.SOMEHOW)


def _line_motion(
    problem: Problem, mine: Sequence[Equation], item: int, way: Floats, moving: set[int]
) -> Motion:
    if abs(way[0]) < 1e-6:
        return Motion(Moves.SIDEWAYS)
    for eq in mine:
        if isinstance(eq.row, ToLine | Tangent) and not set(_others(eq, item)) & moving:
            return Motion(Moves.ABOUT, problem.names[eq.members[0]])
    return Motion(Moves.TURNING)


def _offers(
    problem: Problem, at: Sequence[float], item: int, basis: Sequence[Floats], moving: set[int]
) -> tuple[Offer, ...]:
    """At most three readings that would hold the item best; the second is scored on what the first leaves."""
    known = [i for i in range(len(problem.names)) if i != item and i not in moving][:OFFERED]
    give = _thing_offers if item in problem.things else _line_offers
    offers = give(problem, at, item, known)
    chosen: list[Offer] = []
    ways = [np.array(b) for b in basis]
    while offers and len(chosen) < 3:
        scored = sorted(
            (-round(float(np.linalg.norm([g @ w for w in ways])), 6), n, offer, g)
            for n, (offer, g) in enumerate(offers)
        )
        score, n, offer, g = scored[0]
        if score > -0.05:
            if len(ways) == len(basis):
                break
            ways = [np.array(b) for b in basis]
            continue
        chosen.append(offer)
        offers = offers[:n] + offers[n + 1 :]
        ways = _less(ways, g) if len(chosen) < len(basis) else [np.array(b) for b in basis]
    if len(chosen) < len(basis):
        chosen.extend([Offer(Asks.PLACE)] if item in problem.things else [])
    return tuple(chosen)


def _less(ways: Sequence[Floats], g: Floats) -> list[Floats]:
    """What is left of two ways once a reading with slopes g is taken."""
    left = np.array([-g[1], g[0]])
    return [left / np.linalg.norm(left)] if len(ways) == 2 else list(ways)


def _edges(problem: Problem, item: int, other: int) -> tuple[ReadEdge, ...]:
    sized = [i for i in (item, other) if i in problem.things and _has_size(problem, i)]
    return ((ReadEdge.FAR, ReadEdge.FAR) if len(sized) == 2 else (ReadEdge.NEAR,)) if sized else ()


def _reading(problem: Problem, item: int, other: int) -> Offer:
    return Offer(Asks.READING, problem.names[other], _edges(problem, item, other))


def _has_size(problem: Problem, item: int) -> bool:
    t = problem.things[item]
    return t.radius > 0 or t.half_long > 0 or t.half_wide > 0


def _thing_offers(
    problem: Problem, at: Sequence[float], item: int, known: Sequence[int]
) -> list[tuple[Offer, Floats]]:
    offers = []
    x, y = at[2 * item], at[2 * item + 1]
    for i in known:
        if i in problem.things:
            square = _square_to_edge(problem, i)
            dx, dy = (x - at[2 * i], y - at[2 * i + 1]) if square is None else square
            size = math.hypot(dx, dy)
            if size > 1e-6:
                offers.append((_reading(problem, item, i), np.array([dx, dy]) / size))
        else:
            n = np.array([math.cos(at[2 * i]), math.sin(at[2 * i])])
            offers.append((_reading(problem, item, i), n))
    return offers


def _square_to_edge(problem: Problem, item: int) -> tuple[float, float] | None:
    """The way in which a reading is taken from a side that is to be placed itself: square to it; None for
    what is no side.
    """
    if problem.things[item].spoken is not Spoken.AS_EDGE:
        return None
    rows = (problem.equations[k].row for k in problem.touching[item])
    name = problem.names[item]
    sides = (row for row in rows if isinstance(row, Coordinate) and row.side != 0 and row.b == name)
    return next(((math.cos(row.angle), math.sin(row.angle)) for row in sides), None)


def _line_offers(
    problem: Problem, at: Sequence[float], item: int, known: Sequence[int]
) -> list[tuple[Offer, Floats]]:
    offers = [(Offer(asks), np.array([1.0, 0.0])) for asks in (Asks.LEVEL, Asks.UPRIGHT)]
    bend = abs(math.remainder(at[2 * item] - math.pi / 2, math.pi))
    offers = offers[::-1] if bend > math.pi / 4 else offers
    offers = offers[:1]
    for i in known:
        name = problem.names[i]
        if i in problem.things:
            swing = math.cos(at[2 * item]) * at[2 * i + 1] - math.sin(at[2 * item]) * at[2 * i]
            g = np.array([swing / problem.lever, -1.0])
            offers.append((Offer(Asks.PASSING, name), g / np.linalg.norm(g)))
        else:
            bend = abs(math.remainder(at[2 * item] - at[2 * i], math.pi))
            asks = Asks.SQUARE if bend > math.pi / 4 else Asks.PARALLEL
            offers.append((Offer(asks, name), np.array([1.0, 0.0])))
    return offers


def report(problem: Problem, movers: Sequence[_Mover]) -> tuple[LeftOpen, ...]:
    """Movers as the caller reads them: lines before things, each by name."""
    return tuple(
        LeftOpen(problem.names[m.item], m.motion, m.would_do) for m in sorted(movers, key=lambda m: m.item)
    )
