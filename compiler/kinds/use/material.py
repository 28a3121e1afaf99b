"""Material from a file as a solid of ours: moved to its place, its faces named for the statement that brought
it in.
"""

from __future__ import annotations

import numpy as np

from ...imports.types import ImportedMesh
from ...mesh.finish import shells
from ...mesh.inner_holes import stood
from ...mesh.kernel import Solid, from_arrays
from ...outlines.marks import Marks
from ...quantities.vectors import XY


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
