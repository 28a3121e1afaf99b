"""Material from a file as a solid of ours: moved to its place, its faces named for the statement that brought it in."""

from __future__ import annotations

import numpy as np

from ..facts.stock import Stock
from ..profiles.marks import Marks
from .combine import XYZ
from .finish import shells
from .kernel import Solid, from_arrays
from .types import Floats


def stock_solid(stock: Stock, middle: XYZ, out: int, marks: Marks, name: str) -> Solid:
    """The stock with the middle of its box at `middle` (mm); turned over about its upright where it points into the page
    (`out` -1).  Raises Trouble('bad-solid')."""
    numbers = np.array([marks.of(name, detail) for detail in stock.faces], dtype=np.int32)
    return from_arrays(_stood(stock, middle, out), stock.triangles, numbers[stock.labels])


def hollow_solids(stock: Stock, middle: XYZ, out: int) -> list[tuple[str, Solid]]:
    """Each hole of a used part, with its name, as the hull of its walls (one for each copy of it)."""
    points = _stood(stock, middle, out)
    found: list[tuple[str, Solid]] = []
    for name, faces in sorted(stock.hollows.items()):
        walls = stock.triangles[np.isin(stock.labels, [stock.faces.index(one) for one in faces])]
        shell = shells(len(points), walls)
        for first in sorted(set(shell[walls[:, 0]].tolist())):
            solid = Solid.hull_points(points[np.flatnonzero(shell == first)])
            if not solid.is_empty():
                found.append((name, solid))
    return found


def _stood(stock: Stock, middle: XYZ, out: int) -> Floats:
    points: Floats = (stock.points - 0.5 * np.array(stock.box)) * np.array([out, 1.0, out]) + np.array(middle)
    return points
