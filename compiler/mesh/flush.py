"""Cutters that end in a flat of what they cut are carried on through it.

A notch `flush with` a side, or as deep as its body is thick, has a flat where the body has one, but for a
rounding error or the millionth of a mm to which middles are snapped: what is left between the two would close
the notch again by a skin that no printer sees and every check takes for a wall.  The same goes for two
cutters that end in one plane, back to back."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import numpy.typing as npt
from msgspec import Struct

from ..quantities.arrays import Floats, Longs
from ..quantities.rows import distinct_rows
from .kernel import Solid, from_arrays
from .meeting import NEAR

PAST = 1e-5  # mm: more than flats are off by, and nothing on a printed part
ALIKE = 1e-7  # of two unit normals
LEAST = 1e-12  # mm2: a smaller facet has no direction worth telling


class _Flats(Struct, frozen=True):
    """A mesh, the number of the plane of each facet (-1: it has no direction), and of each plane its outward
    unit normal (m, 3) and distance (m,) from the origin."""

    points: Floats
    triangles: Longs
    labels: npt.NDArray[np.integer]
    plane: Longs
    normals: Floats
    offsets: Floats


def pushed_through(solid: Solid, tools: Sequence[Solid]) -> list[Solid]:
    """The cutters, those made longer by 1e-5 mm that end within 2.5e-6 mm of a flat of the solid or of one
    another.

    The kernel works."""
    if not tools:
        return []
    body, cutters = _flats(solid), [_flats(tool) for tool in tools]
    owner = np.concatenate(
        [np.full(len(body.offsets), -1), *(np.full(len(one.offsets), i) for i, one in enumerate(cutters))]
    )
    normals = np.concatenate([body.normals, *(-one.normals for one in cutters)])
    offsets = np.concatenate([body.offsets, *(-one.offsets for one in cutters)])
    order = np.argsort(offsets, kind="stable")
    owner, normals, offsets = owner[order], normals[order], offsets[order]
    found = []
    for i, (tool, own) in enumerate(zip(tools, cutters, strict=True)):
        first = np.searchsorted(offsets, own.offsets - NEAR)
        last = np.searchsorted(offsets, own.offsets + NEAR, side="right")
        ends = []
        for k in np.flatnonzero(last > first).tolist():
            near = slice(first[k], last[k])
            if ((owner[near] != i) & (np.abs(normals[near] - own.normals[k]).max(axis=1) < ALIKE)).any():
                ends.append(k)
        found.append(_longer(own, ends) if ends else tool)
    return found


def _flats(solid: Solid) -> _Flats:
    raw = solid.to_mesh64()
    points, triangles = np.asarray(raw.vert_properties)[:, :3], np.asarray(raw.tri_verts).astype(np.int64)
    a, b, c = (points[triangles[:, k]] for k in range(3))
    normals = np.cross(b - a, c - a)
    size = np.sqrt(np.einsum("ij,ij->i", normals, normals))
    told = np.flatnonzero(size > LEAST)
    normals = normals[told] / size[told, None]
    facing = np.column_stack([normals, np.einsum("ij,ij->i", normals, a[told])])
    # a cap of a hundred facets is one plane: many cutters are held against one another
    planes, number = distinct_rows(np.round(facing, 9) + 0.0)
    plane = np.full(len(triangles), -1, dtype=np.int64)
    plane[told] = number
    return _Flats(points, triangles, np.asarray(raw.face_id), plane, planes[:, :3], planes[:, 3])


def _longer(own: _Flats, ends: Sequence[int]) -> Solid:
    """The mesh with the corners of these planes moved outwards, once for each direction."""
    points = own.points.copy()
    directions: list[tuple[Floats, list[int]]] = []
    for k in ends:
        for normal, some in directions:
            if np.abs(normal - own.normals[k]).max() < ALIKE:
                some.append(k)
                break
        else:
            directions.append((own.normals[k], [k]))
    for normal, some in directions:
        ending = np.zeros(
            len(own.offsets) + 1, dtype=np.bool_
        )  # the last one: facets without a direction, numbered -1
        ending[some] = True
        at_end = np.zeros(len(points), dtype=np.bool_)
        at_end[own.triangles[ending[own.plane]]] = True
        points[at_end] += PAST * normal
    return from_arrays(points, own.triangles, own.labels)
