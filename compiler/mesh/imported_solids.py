"""Material from a file as a solid of ours: moved to its place, its faces named for the statement that brought
it in.
"""

from __future__ import annotations

import numpy as np

from ..imports.types import ImportedMesh
from ..outlines.marks import Marks
from ..quantities.arrays import Floats
from ..quantities.vectors import XY, Vector
from .finish import shells
from .kernel import Solid, from_arrays


def stock_solid(mesh: ImportedMesh, at: XY, heights: XY, out: int, marks: Marks, name: str) -> Solid:
    """The stock with the middle of its box at `at` (mm) on its page, between two heights; turned over about
    its upright where it points into the page (`out` -1).  Raises Trouble('bad-solid')."""
    numbers = np.array([marks.of(name, detail) for detail in mesh.faces], dtype=np.int32)
    return from_arrays(stood(mesh.points, mesh.box, at, heights, out), mesh.triangles, numbers[mesh.labels])


def hollow_solids(mesh: ImportedMesh, at: XY, heights: XY, out: int) -> list[tuple[str, Solid]]:
    """Each hole of a used part, with its name, as the hull of its walls (one for each copy of it)."""
    points = stood(mesh.points, mesh.box, at, heights, out)
    found: list[tuple[str, Solid]] = []
    for name, faces in sorted(mesh.hollows.items()):
        walls = mesh.triangles[np.isin(mesh.labels, [mesh.faces.index(one) for one in faces])]
        shell = shells(len(points), walls)
        for first in sorted(set(shell[walls[:, 0]].tolist())):
            solid = Solid.hull_points(points[np.flatnonzero(shell == first)])
            if not solid.is_empty():
                found.append((name, solid))
    return found


def stood(own: Floats, box: Vector, at: XY, heights: XY, out: int) -> Floats:
    """Points (n, 3) of a stock of that box in their place on the page: each side of the box comes to lie
    exactly where a block's would, so that bodies meet."""
    half = 0.5 * np.array(box)
    points: Floats = (own - half) * np.array([out, 1.0, out])
    low, high = heights
    upper = points[:, 2] > 0
    points[:, 2] = np.where(upper, high - (half[2] - points[:, 2]), low + (half[2] + points[:, 2]))
    points[:, :2] += np.array(at)
    return points
