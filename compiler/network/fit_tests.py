"""Readings after least squares, and one test per group of what hangs together.

Redundancy, normalised residuals and detectable slips by Baarda 1968 (recalled in any text on adjustment, for
instance Ghilani and Wolf)."""

from __future__ import annotations

import math
from collections.abc import Sequence

from msgspec import Struct

from .adjustment_types import FittedReading, GroupTest
from .chances import DETECTABLE, chi_square_limit
from .equations import Equation
from .fitted_system import FittedSystem
from .system import System

EXACT_U = 1.01e-5  # rows no wider than this are definitions, not readings


class Judged(Struct, frozen=True):
    """What the fit says of its readings.  `group_of_column`: which group an unknown belongs to; `scalars_of`:
    the scalars of a reading, by its key.
    """

    readings: tuple[FittedReading, ...]
    tests: tuple[GroupTest, ...]
    group_of_column: list[int]
    scalars_of: dict[int, list[int]]


def judge(fit: FittedSystem) -> Judged:
    """Readings and tests of a fitted system."""
    groups, group_of_column = _groups(fit.system)
    rows: dict[int, list[int]] = {}
    for k, scalar in enumerate(fit.system.scalars):
        rows.setdefault(id(scalar.row), []).append(k)
    scalars_of: dict[int, list[int]] = {}
    found: list[tuple[int, int, FittedReading]] = []
    for numbers in rows.values():
        reading = _reading(fit, numbers, groups[numbers[0]])
        if reading is not None:
            found.append((reading.key, numbers[0], reading))
            scalars_of.setdefault(reading.key, numbers)
    readings = tuple(r for _, _, r in sorted(found, key=lambda f: f[:2]))
    return Judged(readings, _tests(fit, groups, group_of_column, readings), group_of_column, scalars_of)


def _reading(fit: FittedSystem, numbers: Sequence[int], group: int) -> FittedReading | None:
    row = fit.system.scalars[numbers[0]].row
    if isinstance(row, Equation) and row.row is None:
        return None
    source = row.row if isinstance(row, Equation) else row
    assert source is not None
    k = max(numbers, key=lambda n: abs(fit.misses[n]))
    u, r = float(fit.system.us[k]), float(fit.redundancy[k])
    residual = float(fit.misses[k]) * u
    checked = r >= 0.01 and fit.factor is not None
    w = float(fit.misses[k]) / math.sqrt(r) if checked else 0.0
    given = float(getattr(source, "value", 0.0))
    slip = DETECTABLE * u / math.sqrt(r) if checked else math.inf
    return FittedReading(source.key, given, given + residual, residual, u, r, w, slip, u <= EXACT_U, group)


def _groups(system: System) -> tuple[list[int], list[int]]:
    """Group number of every scalar and of every column: what hangs together through unknowns; groups in order
    of first unknown.
    """
    root = list(range(system.width))

    def find(i: int) -> int:
        while root[i] != i:
            root[i] = root[root[i]]
            i = root[i]
        return i

    for c in range(0, 2 * len(system.free), 2):
        root[c + 1] = c
    first = [-1] * len(system.scalars)
    for r, c in zip(system.rows.tolist(), system.columns.tolist(), strict=True):
        if first[r] < 0:
            first[r] = c
        a, b = sorted((find(first[r]), find(c)))
        root[b] = a
    roots = [find(c) if c >= 0 else -1 for c in first]
    whole = sorted({find(c) for c in range(system.width)} | set(roots))
    number = {c: n for n, c in enumerate(whole)}
    return [number[c] for c in roots], [number[find(c)] for c in range(system.width)]


def _tests(
    fit: FittedSystem,
    groups: Sequence[int],
    group_of_column: Sequence[int],
    readings: Sequence[FittedReading],
) -> tuple[GroupTest, ...]:
    system = fit.system
    count = max([*groups, *group_of_column], default=-1) + 1
    totals, freedoms = [0.0] * count, [0.0] * count
    for k, g in enumerate(groups):
        totals[g] += float(fit.misses[k]) ** 2
        freedoms[g] += float(fit.redundancy[k]) if system.us[k] > EXACT_U else 0.0
    names: list[list[str]] = [[] for _ in range(count)]
    for n, item in enumerate(system.free):
        names[group_of_column[2 * n]].append(system.problem.names[item])
    for n, name in enumerate(system.sizes):
        names[group_of_column[2 * len(system.free) + n]].append(name)
    keys: list[list[int]] = [[] for _ in range(count)]
    for reading in readings:
        keys[reading.group].append(reading.key)
    return tuple(
        GroupTest(tuple(n), tuple(k), t, f, chi_square_limit(f))
        for n, k, t, f in zip(names, keys, totals, [int(f + 0.5) for f in freedoms], strict=True)
    )
