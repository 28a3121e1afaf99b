"""The narrow bridge to the kernel: arrays in, a checked solid out.

Everything the room builds goes through `from_arrays`, so that every face carries a label (`face_id` of the
kernel) and no solid with a broken mesh gets any further."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TypeAlias

import manifold3d
import numpy as np
import numpy.typing as npt

from ..diagnostics.types import Trouble
from ..quantities.arrays import Floats, Longs

Solid: TypeAlias = manifold3d.Manifold
"""A solid of the kernel.  Opaque to every other room: make, combine and read it with the verbs of this room
only.
"""


def from_arrays(points: Floats, triangles: npt.NDArray[np.integer], labels: npt.NDArray[np.integer]) -> Solid:
    """A solid from a closed mesh: points (n, 3) in mm, triangles (m, 3) anticlockwise from outside, labels
    (m,).

    Points that no triangle uses are left out.  Raises Trouble('bad-solid') where the mesh isn't closed or
    holds a number that isn't finite."""
    used, compact = renumbered(triangles, len(points))
    mesh = manifold3d.Mesh64(
        vert_properties=np.ascontiguousarray(points[used], dtype=np.float64),
        tri_verts=np.ascontiguousarray(compact, dtype=np.uint64),
        face_id=np.ascontiguousarray(labels, dtype=np.uint64),
    )
    return checked(Solid(mesh))


def renumbered(triangles: npt.NDArray[np.integer], count: int) -> tuple[Longs, Longs]:
    """Which of `count` points the triangles use, and the triangles counted among these.

    Not numpy's `unique`: its first call loads masked arrays, which takes longer than building an ordinary
    part."""
    seen = np.zeros(count, dtype=np.bool_)
    seen[triangles] = True
    return np.flatnonzero(seen), (np.cumsum(seen) - 1)[triangles]


def checked(solid: Solid) -> Solid:
    """The same solid, or Trouble('bad-solid') where the kernel found fault with it.  Forces the kernel to
    work.
    """
    if solid.status() != manifold3d.Error.NoError:
        reason = solid.status().name
        raise Trouble("bad-solid", f"this shape doesn't close up into a solid ({reason})")
    return solid


def added(solids: Sequence[Solid]) -> Solid:
    """All solids as one, lazily."""
    return Solid.batch_boolean(list(solids), manifold3d.OpType.Add)


def taken(solids: Sequence[Solid]) -> Solid:
    """The first solid without all the others, lazily."""
    return Solid.batch_boolean(list(solids), manifold3d.OpType.Subtract)


def flat_triangles(rings: Sequence[Floats]) -> Longs:
    """Triangles (m, 3), anticlockwise, of rings (each (k, 2)) as indices into the rings laid end to end."""
    return np.asarray(manifold3d.triangulate(list(rings)), dtype=np.int64).reshape(-1, 3)


def drop_collapsed(
    triangles: Longs, labels: npt.NDArray[np.integer]
) -> tuple[Longs, npt.NDArray[np.integer]]:
    """Triangles without those in which two corners are one point; the rest stays closed if it was closed
    before.
    """
    a, b, c = triangles.T
    alive = (a != b) & (b != c) & (c != a)
    return triangles[alive], labels[alive]


def flat_union_area(rings: Sequence[Floats]) -> float:
    """Area (mm2) of all that lies within any of the rings, each (k, 2) and anticlockwise."""
    return float(manifold3d.CrossSection(list(rings), manifold3d.FillRule.NonZero).area())
