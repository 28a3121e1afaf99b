"""Material from a file as a solid of ours: moved to its place, its faces named for the statement that brought it in."""

from __future__ import annotations

import numpy as np

from ..facts.stock import Stock
from ..profiles.marks import Marks
from .combine import XYZ
from .kernel import Solid, from_arrays


def stock_solid(stock: Stock, middle: XYZ, out: int, marks: Marks, name: str) -> Solid:
    """The stock with the middle of its box at `middle` (mm); turned over about its upright where it points into the page
    (`out` -1).  Raises Trouble('bad-solid')."""
    over = np.array([out, 1.0, out])
    points = (stock.points - 0.5 * np.array(stock.box)) * over + np.array(middle)
    numbers = np.array([marks.of(name, detail) for detail in stock.faces] or [marks.of(name)], dtype=np.int32)
    return from_arrays(points, stock.triangles, numbers[stock.labels])
