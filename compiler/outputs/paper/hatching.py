"""Hatching of cut faces (ISO 128-3)."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

import numpy as np

from ...quantities.arrays import Floats
from ...quantities.vectors import XY

HATCH = 2.0  # mm between hatching lines


def hatching(rings: Sequence[Floats]) -> Iterator[tuple[XY, XY]]:
    """Narrow lines at 45 degrees inside rings (even-odd), in mm of the sheet."""
    if not rings:
        return
    turn = math.sqrt(0.5)
    across = [
        np.column_stack([turn * (ring[:, 0] + ring[:, 1]), turn * (ring[:, 1] - ring[:, 0])])
        for ring in rings
    ]
    low, high = min(float(one[:, 1].min()) for one in across), max(float(one[:, 1].max()) for one in across)
    for number in range(math.ceil(low / HATCH), math.floor(high / HATCH) + 1):
        level = number * HATCH + 1e-7
        met: list[float] = []
        for one in across:
            start, end = one, np.roll(one, -1, axis=0)
            crosses = (start[:, 1] > level) != (end[:, 1] > level)
            a, b = start[crosses], end[crosses]
            met += (a[:, 0] + (level - a[:, 1]) / (b[:, 1] - a[:, 1]) * (b[:, 0] - a[:, 0])).tolist()
        met.sort()
        for first, last in zip(met[0::2], met[1::2], strict=False):
            yield (
                (turn * (first - level), turn * (first + level)),
                (turn * (last - level), turn * (last + level)),
            )
