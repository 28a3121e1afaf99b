"""What moves most when a reading is off."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

import numpy as np

from .adjustment_types import Leverage
from .equations import Equation
from .fitted_system import FittedSystem
from .sparse_cholesky import Factor
from .types import Heading, LineAngle

BATCH = 64


def leverages_of(
    fit: FittedSystem, scalars_of: Mapping[int, list[int]], keys: Sequence[int]
) -> tuple[Leverage, ...]:
    """For each reading, by its key: the thing that moves most when it is off by 0.1 mm (0.1 degrees), and how
    far.
    """
    found: list[Leverage] = []
    if fit.factor is not None:
        for k in range(0, len(keys), BATCH):
            found += _moved(fit, fit.factor, scalars_of, keys[k : k + BATCH])
    return tuple(found)


def _moved(
    fit: FittedSystem, factor: Factor, scalars_of: Mapping[int, list[int]], keys: Sequence[int]
) -> list[Leverage]:
    system = fit.system
    right = np.zeros((system.width, len(keys)))
    slip = np.zeros(len(keys))
    for n, key in enumerate(keys):
        k = scalars_of[key][0]
        mine = np.nonzero(system.rows == k)[0]
        right[system.columns[mine], n] = fit.values[mine]
        row = system.scalars[k].row
        is_turn = isinstance(row, Equation) and isinstance(row.row, LineAngle | Heading)
        slip[n] = (math.radians(0.1) if is_turn else 0.1) / float(system.us[k])
    moved = factor.solve(right) * slip
    moved[fit.loose] = 0.0
    found = []
    where = [(n, i) for n, i in enumerate(system.free) if i in system.problem.things]
    for n, key in enumerate(keys):
        far = [float(math.hypot(moved[2 * k, n], moved[2 * k + 1, n])) for k, _ in where]
        best = max(range(len(far)), key=lambda k: round(far[k], 9), default=None)
        name = system.problem.names[where[best][1]] if best is not None else ""
        found.append(Leverage(key, name, far[best] if best is not None else 0.0))
    return found
