"""A system after least squares: its inverse where statistics need it, what is open, and the uncertainty of
whatever depends on it.

Uncertainties are by the law of propagation (JCGM 100:2008, 5).  Where readings leave something open, a very
weak pull to where it stands keeps the arithmetic sound, and what depends on it is infinitely uncertain."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np
from msgspec import Struct

from ..quantities.arrays import Bools, Floats
from .adjustment_types import Derived, Share
from .descent import descend, tree_of
from .equations import Equation
from .sparse_cholesky import EliminationTree, Factor
from .system import System


class FittedSystem(Struct, frozen=True, eq=False):
    """A system at its least squares.

    `z`: the vector, with its `misses` and slopes (`values`); `factor`: of the normal equations, None where
    they can't be factorised; by column: `loose` (open), `variance`, `beside` (covariance with the next
    column); `redundancy`: per scalar, 1 minus the part of it that the fit follows."""

    system: System
    tree: EliminationTree
    z: Floats
    misses: Floats
    values: Floats
    factor: Factor | None
    loose: Bools
    variance: Floats
    beside: Floats
    redundancy: Floats

    def derive(self, value: float, slopes: Floats, most: int = 3) -> Derived:
        """A quantity with its slopes by column of the system, and the readings that dominate its u."""
        if self.factor is None:
            return Derived(value, math.inf, ())
        x = self.factor.solve(slopes)
        variance = float(slopes @ x)
        open_by = (0.1 * self.system.problem.lever) ** 2
        if variance > open_by or (self.loose.any() and self._follows(slopes, x)):
            return Derived(value, math.inf, ())
        return Derived(value, math.sqrt(max(variance, 0.0)), self._shares(x, most))

    def _follows(self, g: Floats, x: Floats) -> bool:
        """Whether a quantity leans on the weak pull that holds what is open."""
        levers, lever = levers_of(self.system), self.system.problem.lever
        held = np.where(self.loose, (levers / lever) ** 2, 0.0)
        return bool(x @ (held * x) > 1e-3 * (g @ x))

    def _shares(self, x: Floats, most: int) -> tuple[Share, ...]:
        """The readings a variance stems from, greatest first."""
        system = self.system
        parts = np.bincount(system.rows, self.values * x[system.columns], len(system.scalars)) ** 2
        total = float(parts.sum()) or 1.0
        shares: dict[int, float] = {}
        for k in np.argsort(-parts, kind="stable")[: 2 * most]:
            row = system.scalars[k].row
            source = row.row if isinstance(row, Equation) else row
            if source is not None and parts[k] > 1e-9 * total:
                shares[source.key] = shares.get(source.key, 0.0) + float(parts[k]) / total
        ranked = sorted(shares.items(), key=lambda s: (-round(s[1], 9), s[0]))
        return tuple(Share(key, share) for key, share in ranked[:most])


def levers_of(system: System) -> Floats:
    """mm per unit of every column."""
    levers = np.ones(system.width)
    for n, item in enumerate(system.free):
        if item not in system.problem.things:
            levers[2 * n] = system.problem.lever
    return levers


def fit_system(system: System) -> FittedSystem:
    """A system after least squares, with its inverse where it is needed and which columns are open."""
    tree = tree_of(system)
    z, misses, values = descend(system, tree, system.start)
    levers, lever = levers_of(system), system.problem.lever
    pull = (levers / (100 * lever)) ** 2
    factor, parts = _inverse(tree, values, pull)
    variance, beside = _spread(system, tree, parts)
    loose = np.zeros(system.width, dtype=bool)
    if factor is not None:
        loose = ~(variance * levers**2 < (0.3 * lever) ** 2)
        if loose.any():
            factor, parts = _inverse(tree, values, np.where(loose, (levers / lever) ** 2, 0.0) + pull)
            variance, beside = _spread(system, tree, parts)
    if factor is None:
        loose[:] = True
    redundancy = _redundancy(system, tree, values, parts)
    return FittedSystem(system, tree, z, misses, values, factor, loose, variance, beside, redundancy)


def _inverse(tree: EliminationTree, values: Floats, ridge: Floats) -> tuple[Factor | None, Sequence[Floats]]:
    """The factor of the normal equations and the parts of their inverse, with as little ridge as it takes."""
    for _ in range(14):
        try:
            factor = Factor(tree, values, ridge)
        except np.linalg.LinAlgError:
            ridge = ridge * 10
        else:
            return factor, factor.inverse_parts()
    return None, []


def _spread(system: System, tree: EliminationTree, parts: Sequence[Floats]) -> tuple[Floats, Floats]:
    """Variances of the columns, and the covariance of each with the next."""
    variance, beside = np.full(system.width, math.inf), np.zeros(system.width)
    for front, part in zip(tree.fronts, parts, strict=False):
        own = front.columns[: front.own]
        variance[own] = np.diag(part)[: front.own]
        if front.own > 1:
            beside[own[:-1]] = np.diag(part, 1)[: front.own - 1]
    return variance, beside


def _redundancy(system: System, tree: EliminationTree, values: Floats, parts: Sequence[Floats]) -> Floats:
    """Per scalar: 1 minus the part of it that the fit follows."""
    redundancy = np.ones(len(system.scalars))
    for front, part in zip(tree.fronts, parts, strict=False):
        if not front.rows:
            continue
        dense = np.zeros((front.rows, len(front.columns)))
        np.add.at(dense, front.local, values[front.entries])
        rows = np.unique(system.rows[front.entries])
        redundancy[rows] = 1.0 - np.einsum("ij,jk,ik->i", dense, part, dense, optimize=True)
    redundancy = np.clip(redundancy, 0.0, 1.0)
    redundancy[redundancy < 1e-7] = 0.0
    return redundancy
