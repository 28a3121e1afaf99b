"""Rows of numbers each once: what points, triangles and crossings are welded by."""

from __future__ import annotations

from typing import TypeVar

import numpy as np
import numpy.typing as npt

Number = TypeVar("Number", np.float64, np.int64)


def distinct_rows(rows: npt.NDArray[Number]) -> tuple[npt.NDArray[Number], npt.NDArray[np.int64]]:
    """The different rows of (n, k), sorted by column 0, then 1 ..., and for each given row where it is among
    them (n,).

    Not numpy's `unique`: its first call loads masked arrays, which takes longer than building an ordinary
    part."""
    order = np.lexsort(rows.T[::-1])
    ranked = rows[order]
    fresh = np.ones(len(rows), dtype=np.bool_)
    fresh[1:] = (ranked[1:] != ranked[:-1]).any(axis=1)
    place = np.empty(len(rows), dtype=np.int64)
    place[order] = np.cumsum(fresh) - 1
    return ranked[fresh], place
