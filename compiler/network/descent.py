"""Least squares on a system: Gauss-Newton with Levenberg damping on normal equations factorised in pieces.

Damping: Levenberg 1944, Marquardt 1963 (scaled by the diagonal); from memory.
"""

from __future__ import annotations

import math

import numpy as np

from ..quantities.arrays import Floats
from .sparse_cholesky import EliminationTree, Factor, make_tree
from .system import System

ROUNDS = 40


def tree_of(system: System) -> EliminationTree:
    """The elimination tree of a system."""
    return make_tree(system.node_widths, system.rows, system.columns)


def descend(
    system: System,
    tree: EliminationTree,
    start: Floats,
    weights: Floats | None = None,
    rounds: int = ROUNDS,
    loose: bool = False,
) -> tuple[Floats, Floats, Floats]:
    """The vector after least squares from `start`, its misses and slopes; `weights` (0 or 1 per scalar)
    leaves rows out.

    `loose` stops as soon as a step gains less than a hundredth: enough to compare answers, not to report one.

    Never raises; stays where it is where nothing can be gained."""

    def look(z: Floats) -> tuple[Floats, Floats]:
        misses, values = system.evaluate(z)
        return (misses, values) if weights is None else (misses * weights, values * weights[system.rows])

    best = np.array(start, dtype=float)
    misses, values = look(best)
    cost, damping = float(misses @ misses), 1e-13
    if not system.width:
        return best, misses, values
    for _ in range(rounds):
        if cost < 1e-24 or not math.isfinite(cost):
            break
        step = _step(system, tree, misses, values, damping)
        size = float(np.abs(step).max()) if step is not None else math.inf
        if step is None or not math.isfinite(size):
            damping = max(damping * 100, 1e-12)
            if damping > 1e12:
                break
            continue
        trial = best.copy()
        trial[system.entry] += step
        seen = look(trial)
        after = float(seen[0] @ seen[0])
        if after < cost:
            gain = cost - after
            best, (misses, values), cost, damping = trial, seen, after, max(damping / 10, 1e-13)
            if loose and gain < 1e-2 * cost:
                break
            if size < 1e-10 or (gain < 1e-13 * cost and size < 1e-7):
                break
        else:
            if size < 1e-9 * system.problem.lever:
                break
            damping = max(damping * 10, 1e-8)
            if damping > 1e12:
                break
    return best, misses, values


def _step(
    system: System, tree: EliminationTree, misses: Floats, values: Floats, damping: float
) -> Floats | None:
    """The damped Gauss-Newton step, None where the normal equations can't be factorised."""
    diagonal = np.bincount(system.columns, values**2, system.width)
    # a column that is almost 0 (circles that just miss each other) would otherwise ask for a giant sideways
    # step
    floor = 1e-6 * float(diagonal.max()) or 1.0
    pull = np.asarray(np.bincount(system.columns, values * misses[system.rows], system.width), dtype=float)
    try:
        return np.asarray(-Factor(tree, values, damping * np.maximum(diagonal, floor)).solve(pull))
    except np.linalg.LinAlgError:
        return None
