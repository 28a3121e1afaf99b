"""What both mesh formats demand of a mesh, asked once more before a file is written.

The rooms before this one promise a sound solid.  A file with an open edge is worse than none, because it is
found out on the printer, so the promise is checked where it would be broken; half a million triangles take a
fifth of a second."""

from __future__ import annotations

import numpy as np

from ..diagnostics.types import Trouble
from ..mesh.types import Mesh


def demand_sound(mesh: Mesh) -> None:
    """Raises Trouble('bad-solid') unless the mesh is what the 3MF core specification (1.3, mesh triangles)
    calls for.

    That is: four triangles or more; three different corners each, all of them existing; every edge run once
    in each direction; a positive volume, so that the surface is seen anticlockwise from outside."""
    wrong = _what_is_wrong(mesh)
    if wrong:
        raise Trouble("bad-solid", f"no file was written: {wrong}")


def _what_is_wrong(mesh: Mesh) -> str:
    """What speaks against the mesh, in shop words; an empty text when nothing does."""
    points, triangles = mesh.points, mesh.triangles.astype(np.int64)
    if len(triangles) < 4:
        return "the part has no inside"
    if triangles.min() < 0 or triangles.max() >= len(points):
        return "a triangle of the surface leans on a corner that is not there"
    if not np.isfinite(points).all():
        return "a corner of the part has no place"
    ahead = np.roll(triangles, -1, axis=1)
    if (triangles == ahead).any():
        return "a triangle of the surface has fewer than three corners"
    runs = np.sort((triangles * len(points) + ahead).ravel())
    back = np.sort((ahead * len(points) + triangles).ravel())
    if (runs[1:] == runs[:-1]).any() or not np.array_equal(runs, back):
        return "the surface of the part is not closed"
    if _volume(mesh) <= 0.0:
        return "the part is inside out"
    return ""


def _volume(mesh: Mesh) -> float:
    """Enclosed volume in mm3: sum of the tetrahedra from the first point (divergence theorem)."""
    a, b, c = ((mesh.points - mesh.points[0])[mesh.triangles[:, side]] for side in range(3))
    return float(np.einsum("ij,ij->", a, np.cross(b, c))) / 6.0
