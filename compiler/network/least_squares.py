"""Least squares over some of the items, sizes held: one by one where that is enough, as one system
(descent.py) where not.

Problem: readings disagree by their give-or-take; the layout wanted makes the sum of (miss / u)^2 smallest.
Choice: damped steps from a layout that branches.py built, which is already close.  Items that are held by
exactly as many scalars as they have freedoms can always follow the rest without a miss, so they are peeled
off first and put back one at a time: a long chain of holes costs a 2 x 2 each, and only the truly redundant
part is solved as one block. Rejected: a general optimiser (start-up time, hundreds of seconds at 1,000 holes,
see the timings in the tests). Damping: Levenberg 1944, Marquardt 1963 (scaled by the diagonal); from memory.
"""

from __future__ import annotations

import math
import operator
from collections.abc import Iterable, Sequence

import numpy as np

from ..quantities.arrays import Floats
from .descent import descend, tree_of
from .equations import Equation
from .problem import Problem
from .sparse_cholesky import EliminationTree
from .system import System, make_system

EXACT = 1e-9
SMALL = 60  # unknowns up to which the slower, sharper factorisation is used
ALONE = 2  # items up to which arrays are slower than numbers


def worst_miss(equations: Iterable[Equation], at: Sequence[float]) -> float:
    """The largest miss in units of u, 0 for no equations."""
    return max((eq.misses(at) for eq in equations), default=0.0)


def design(
    equations: Sequence[Equation],
    at: Sequence[float],
    items: Sequence[int],
    signs: Sequence[int] | None = None,
) -> tuple[Floats, Floats]:
    """Misses and design matrix, both divided by u; columns 2k, 2k + 1 belong to items[k]."""
    column = {2 * item + k: 2 * n + k for n, item in enumerate(items) for k in (0, 1)}
    signs = [eq.sign(at) for eq in equations] if signs is None else signs
    misses: list[float] = []
    entries: list[tuple[int, int, float]] = []
    for eq, sign in zip(equations, signs, strict=True):
        for (miss, slopes), u in zip(eq.measure(at, sign), eq.us, strict=True):
            entries += [(len(misses), column[c], v / u) for c, v in slopes if c in column]
            misses.append(miss / u)
    matrix = np.zeros((len(misses), 2 * len(items)))
    if entries:
        rows, columns, values = zip(*entries, strict=True)
        np.add.at(matrix, (np.array(rows), np.array(columns)), np.array(values))
    return np.array(misses), matrix


def _step(matrix: Floats, misses: Floats, damping: float) -> Floats:
    scale = np.sqrt(np.einsum("ij,ij->j", matrix, matrix))
    # a column that is almost 0 (circles that just miss each other) would otherwise ask for a giant sideways
    # step
    scale = np.maximum(scale, 1e-3 * float(scale.max()) or 1.0)
    scaled = matrix / scale
    if len(scale) > SMALL:
        normal = scaled.T @ scaled + max(damping, 1e-13) * np.eye(len(scale))
        return np.asarray(np.linalg.solve(normal, -(scaled.T @ misses)) / scale)
    tall = np.vstack([scaled, math.sqrt(damping) * np.eye(len(scale))])
    return np.asarray(
        np.linalg.lstsq(tall, np.concatenate([-misses, np.zeros(len(scale))]), rcond=None)[0] / scale
    )


def _look(
    equations: Sequence[Equation], at: Sequence[float], item: int, signs: Sequence[int]
) -> tuple[list[tuple[float, float, float]], float]:
    """Per scalar: miss and slopes in the item's two freedoms, divided by u; and the sum of squared misses."""
    rows, cost = [], 0.0
    for eq, sign in zip(equations, signs, strict=True):
        for (miss, slopes), u in zip(eq.measure(at, sign), eq.us, strict=True):
            gx = gy = 0.0
            for column, slope in slopes:
                if column == 2 * item:
                    gx += slope
                elif column == 2 * item + 1:
                    gy += slope
            rows.append((miss / u, gx / u, gy / u))
            cost += (miss / u) ** 2
    return rows, cost


def _step_one(rows: Sequence[tuple[float, float, float]], damping: float) -> tuple[float, float]:
    """The damped step of one item: `_step` for two columns, by two turns of Gram and Schmidt."""
    sx, sy = math.sqrt(sum(x * x for _, x, _ in rows)), math.sqrt(sum(y * y for _, _, y in rows))
    least = 1e-3 * max(sx, sy) or 1.0
    sx, sy, d = max(sx, least), max(sy, least), math.sqrt(damping)
    first, second, given = (
        [x / sx for _, x, _ in rows],
        [y / sy for _, _, y in rows],
        [-m for m, _, _ in rows],
    )
    first, second, given = [*first, d, 0.0], [*second, 0.0, d], [*given, 0.0, 0.0]
    size = math.sqrt(sum(v * v for v in first))
    first = [v / size for v in first]
    across = sum(map(operator.mul, first, second))
    second = [v - across * f for f, v in zip(first, second, strict=True)]
    rest = math.sqrt(sum(v * v for v in second))
    y = sum(map(operator.mul, second, given)) / (rest * rest)
    return (sum(map(operator.mul, first, given)) - across * y) / size / sx, y / sy


def _fit_one(
    equations: Sequence[Equation], at: Sequence[float], item: int, rounds: int, loose: bool
) -> list[float]:
    """`fit` of one item in plain numbers: arrays of two columns would cost ten times as much."""
    best = list(at)
    signs = [eq.sign(at) for eq in equations]
    seen, cost = _look(equations, best, item, signs)
    damping, (x, y) = 1e-9, best[2 * item : 2 * item + 2]
    for _ in range(rounds):
        if cost < 1e-24:
            break
        try:
            dx, dy = _step_one(seen, damping)
        except (ZeroDivisionError, OverflowError):
            dx = dy = math.nan
        ok, size = math.isfinite(dx) and math.isfinite(dy), max(abs(dx), abs(dy))
        best[2 * item : 2 * item + 2] = (x + dx, y + dy) if ok else (x, y)
        now, after = _look(equations, best, item, signs) if ok else (seen, math.inf)
        if after < cost:
            gain, before, done = cost - after, cost, size < 1e-10
            (x, y), seen, cost, damping = best[2 * item : 2 * item + 2], now, after, max(damping / 10, 1e-12)
            if (loose and gain < 1e-2 * before) or (done and gain < 1e-14 * before):
                break
        else:
            if ok and size < 1e-11:
                break
            damping = max(damping * 10, 1e-8)
            if damping > 1e12:
                break
    best[2 * item : 2 * item + 2] = (x, y)
    return best


def fit(
    equations: Sequence[Equation],
    at: Sequence[float],
    items: Sequence[int],
    rounds: int = 40,
    loose: bool = False,
) -> list[float]:
    """The layout after least squares over `items`; the others stay.  Never raises, never returns a NaN.

    `loose` stops as soon as a step gains less than a hundredth: enough to compare answers, not to report one.
    """
    if len(items) == 1 and equations:
        return _fit_one(equations, at, items[0], rounds, loose)
    best = list(at)
    if not items or not equations:
        return best
    signs = [eq.sign(at) for eq in equations]
    misses, matrix = design(equations, best, items, signs)
    cost, damping = float(misses @ misses), 1e-9
    for _ in range(rounds):
        if cost < 1e-24:
            break
        try:
            step = _step(matrix, misses, damping)
        except np.linalg.LinAlgError:
            step = np.full(2 * len(items), np.nan)
        trial = list(best)
        for n, item in enumerate(items):
            trial[2 * item] += float(step[2 * n])
            trial[2 * item + 1] += float(step[2 * n + 1])
        ok = bool(np.all(np.isfinite(step)))
        new_misses, new_matrix = design(equations, trial, items, signs) if ok else (misses, matrix)
        new_cost = float(new_misses @ new_misses) if ok else math.inf
        if new_cost < cost:
            gain = cost - new_cost
            best, misses, matrix, cost, damping = (
                trial,
                new_misses,
                new_matrix,
                new_cost,
                max(damping / 10, 1e-12),
            )
            if loose and gain < 1e-2 * cost:
                break
            if gain < 1e-14 * cost and float(np.abs(step).max()) < 1e-10:
                break
        else:
            if ok and float(np.abs(step).max()) < 1e-11:
                break
            damping = max(damping * 10, 1e-8)
            if damping > 1e12:
                break
    return best


def peel(
    equations: Sequence[Equation], items: Sequence[int]
) -> tuple[list[int], list[tuple[int, list[int]]]]:
    """Split into the core and the items held by at most two scalars each, in the order they were taken off.

    Each item taken off comes with the numbers of its equations; those no longer weigh on anything else.
    """
    mine: dict[int, set[int]] = {i: set() for i in items}
    for e, eq in enumerate(equations):
        for item in eq.members:
            if item in mine:
                mine[item].add(e)
    weight = {i: sum(len(equations[e].us) for e in es) for i, es in mine.items()}
    queue = [i for i in items if weight[i] <= 2]
    taken: list[tuple[int, list[int]]] = []
    gone: set[int] = set()
    for item in queue:
        if item in gone:
            continue
        gone.add(item)
        es = sorted(mine[item])
        taken.append((item, es))
        for e in es:
            for other in set(equations[e].members):
                if other in mine and other not in gone and e in mine[other]:
                    mine[other].discard(e)
                    weight[other] -= len(equations[e].us)
                    if weight[other] <= 2:
                        queue.append(other)
    return [i for i in items if i not in gone], taken


class Polisher:
    """Least squares over `items` from any start: the redundant core as one system, the rest one at a time."""

    def __init__(self, problem: Problem, equations: Sequence[Equation], items: Sequence[int]) -> None:
        self.problem, self.equations, self.items = problem, list(equations), list(items)
        core, self.taken = peel(self.equations, self.items)
        light = {e for _, es in self.taken for e in es}
        self.light = [self.equations[e] for e in sorted(light)]
        self.core = core
        self.heavy = [eq for e, eq in enumerate(self.equations) if e not in light]
        self.systems: dict[bool, tuple[System, EliminationTree]] = {}

    def _fit(self, at: Sequence[float], whole: bool, rounds: int, loose: bool) -> list[float]:
        items, equations = (self.items, self.equations) if whole else (self.core, self.heavy)
        if len(items) <= ALONE:
            return fit(equations, at, items, rounds, loose)
        if whole not in self.systems:
            system = make_system(self.problem, equations, (), items, (), at)
            self.systems[whole] = (system, tree_of(system))
        system, tree = self.systems[whole]
        start = np.concatenate([at, system.start[system.base :]])
        system.face(start)
        best: list[float] = descend(system, tree, start, None, rounds, loose)[0][: system.base].tolist()
        return best

    def polish(self, at: Sequence[float], rounds: int = 40, loose: bool = False) -> list[float]:
        """The layout after least squares; never raises, never returns a NaN."""
        if worst_miss(self.equations, at) <= EXACT:
            return list(at)
        best = self._fit(at, False, rounds, loose)
        for item, es in reversed(self.taken):
            best = fit([self.equations[e] for e in es], best, [item], rounds, loose)
        if worst_miss(self.light, best) > 1e-6:
            best = self._fit(best, True, rounds, loose)
        return best
