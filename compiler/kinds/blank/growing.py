"""A mesh with its whole surface moved: outwards (the solid and all that is within a distance of it) or
inwards.

Problem: every point of the surface moves by the same distance, so outer edges and corners become round.
Choice: over each facet stands one convex piece, the hull of the facet, of the facet moved along its normal,
and of as much of the ball round each of its corners as can come to lie outside; all pieces are joined to the
solid.  Neighbours hold the same arcs, so they overlap and leave no crack, and where the surface is smooth a
piece has a few corners only.  Moving inwards is the same on the other side: the pieces are cut away.
Rejected: the sum with a faceted ball that the kernel offers (two to four times slower, and the ball knows
nothing of the faces' own directions, so that a flat would come out too low); a grid of distances (rounds off
what is sharp).

The free side: outwards the corners of all facets lie on the true surface, so these stay inside it; inwards
the facets of a rounded hollow touch the true round from outside."""

from __future__ import annotations

import math

import numpy as np
import numpy.typing as npt
from msgspec import Struct

from ...diagnostics.types import Trouble
from ...imports.mending import faults, undoubled
from ...mesh.combine import join, remove
from ...mesh.finish import canonical, finish, measure
from ...mesh.kernel import Solid, checked, drop_collapsed, from_arrays
from ...mesh.types import Mesh
from ...quantities.arrays import Floats, Longs
from ...quantities.rows import distinct_rows

ROOT = 0.01
"""Pieces reach this far (mm, at most the distance itself) below the surface, so that they never merely lie on
it.
"""
BESIDE = 1e-3
"""So far (mm, at most a tenth of the distance) a piece reaches over an edge that is flat, so that neighbours
overlap.
"""
FLAT = 1e-5
"""An edge is flat where its facets turn by less (radians): over this the pieces of both hold the wedge
between them.
"""
LEAST_STEP = math.pi / 100.0
MOST_RAYS = 200_000
SPECK = 1e-3
"""A shell that encloses less (mm3) is a gap between pieces, not a hollow."""
GRIDS = (1e-4, 3e-4, 1e-3)
"""Points come to lie on the finest grid (mm) that leaves the surface closed: pieces that cross at a slant
leave points so close together that single precision, as STL has it, can't keep them apart."""


class _Edges(Struct, frozen=True, eq=False):
    """The three edges of each facet, one after the other: from where to where, the facet itself and the one
    beyond, and the angle between them where they bend outwards (radians, else 0); `flat` (facets, 3)."""

    start: Longs
    stop: Longs
    face: Longs
    mate: Longs
    angle: Floats
    flat: npt.NDArray[np.bool_]


def shifted(points: Floats, triangles: Longs, by: float, chord: float) -> tuple[Floats, Longs] | None:
    """The solid of a closed mesh, points (n, 3) in mm, triangles (m, 3), its surface moved outwards by mm
    (inwards: < 0).

    Rounds stay within about `chord` mm of true ones.  None where nothing is left.  Raises Trouble:
    'bad-solid', 'too-many-facets'."""
    solid = from_arrays(points, triangles, np.zeros(len(triangles), dtype=np.int32))
    if by > 0:
        moved = join([solid, *_pieces(points, triangles, by, chord, False)])
    else:
        moved = remove(solid, _pieces(points, triangles[:, ::-1], -by, chord, True))
    shells = [finish(one) for one in checked(moved).decompose() if abs(one.volume()) > SPECK]
    if not any(measure(one).volume > 0 for one in shells):
        return None
    starts = np.cumsum([0, *(len(one.points) for one in shells)])
    corners = np.concatenate([one.triangles + start for one, start in zip(shells, starts, strict=False)])
    found = _on_a_grid(np.concatenate([one.points for one in shells]), corners.astype(np.int64))
    return found.points, found.triangles.astype(np.int64)


def _on_a_grid(points: Floats, triangles: Longs) -> Mesh:
    """The mesh in canonical order, its points on a grid where that leaves it closed."""
    none = np.zeros(len(triangles), dtype=np.int32)
    for grid in GRIDS:
        rough, place = distinct_rows(np.round(points / grid) * grid + 0.0)
        kept = undoubled(drop_collapsed(place[triangles], none)[0])
        if len(kept) and faults(rough, kept).closed:
            found = canonical(rough, kept, none[: len(kept)])
            if measure(found).watertight:
                return found
    return canonical(points, triangles, none)


def _pieces(points: Floats, triangles: Longs, by: float, chord: float, around: bool) -> list[Solid]:
    """One convex piece over each facet that has an area."""
    corners = points[triangles]
    normals = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
    size = np.sqrt(np.einsum("ij,ij->i", normals, normals))
    normals[size > 0] /= size[size > 0, None]
    step = max(LEAST_STEP, 2.0 * math.acos(max(0.5, 1.0 - chord / by)))
    edges = _edges(points, triangles, normals)
    rays = _rays(points, edges, normals, step, around)
    if sum(map(len, rays.values())) > MOST_RAYS:
        raise Trouble(
            "too-many-facets",
            f"moved by {by:g} mm its round edges would have too many facets",
            advice=("move it by less, or ask for coarser curves: --chord 0.05",),
        )
    root, found = min(ROOT, by), []
    for face in np.flatnonzero(size > 0).tolist():
        at, normal = corners[face], normals[face]
        cloud = [at - root * normal, at + by * normal]
        cloud += [at[k] + by * rays[one] for k, one in enumerate(triangles[face].tolist()) if one in rays]
        if edges.flat[face].any():
            cloud.append(_beside(at, normal, by, root)[np.tile(edges.flat[face], 2)])
        found.append(Solid.hull_points(np.concatenate(cloud)))
    return found


def _beside(at: Floats, normal: Floats, by: float, root: float) -> Floats:
    """Points a little beyond the middle of each edge, three below the surface and three a little less than
    `by` above.
    """
    along = np.roll(at, -1, axis=0) - at
    out = np.cross(along, normal)
    out *= min(BESIDE, 0.1 * by) / np.sqrt(np.einsum("ij,ij->i", out, out))[:, None]
    middle = at + 0.5 * along + out
    return np.concatenate([middle - 0.5 * root * normal, middle + (by - min(1e-5, 1e-2 * by)) * normal])


def _edges(points: Floats, triangles: Longs, normals: Floats) -> _Edges:
    start, stop = triangles.reshape(-1), np.roll(triangles, -1, axis=1).reshape(-1)
    keys, wanted = start * len(points) + stop, stop * len(points) + start
    order = np.argsort(keys, kind="stable")
    face = np.arange(len(keys), dtype=np.int64) // 3
    mate = order[np.minimum(np.searchsorted(keys[order], wanted), len(keys) - 1)] // 3
    one, two = normals[face], normals[mate]
    across = np.cross(one, two)
    angle = np.arctan2(np.sqrt(np.einsum("ij,ij->i", across, across)), np.einsum("ij,ij->i", one, two))
    far = points[triangles[mate].sum(axis=1) - start - stop]
    bends = np.einsum("ij,ij->i", one, far - points[start]) < 0
    whole = one.any(axis=1) & two.any(axis=1)
    flat = ((angle <= FLAT) | ~whole).reshape(-1, 3)
    return _Edges(start, stop, face, mate, np.where(bends & whole & (angle > FLAT), angle, 0.0), flat)


def _rays(points: Floats, edges: _Edges, normals: Floats, step: float, around: bool) -> dict[int, Floats]:
    """By point: the directions (k, 3) in which the ball round it can come to lie outside, with its arcs over
    all edges that bend outwards; of unit length, or of as much more as facets outside the ball need."""
    found: dict[int, list[Floats]] = {}
    sharp: set[int] = set()
    for edge in np.flatnonzero((edges.angle > 0) & (edges.start < edges.stop)).tolist():
        angle = float(edges.angle[edge])
        arc = _arc(normals[edges.face[edge]], normals[edges.mate[edge]], angle, step, around)
        for end in (int(edges.start[edge]), int(edges.stop[edge])):
            found.setdefault(end, []).append(arc)
            if angle > step:
                sharp.add(end)
    if sharp:
        order = np.argsort(edges.start, kind="stable")
        first = np.searchsorted(edges.start[order], np.arange(len(points) + 1))
        ball = _ball(step)
        for one in sorted(sharp):
            to = points[edges.stop[order[first[one] : first[one + 1]]]] - points[one]
            inside = ball[(ball @ to.T <= 0).all(axis=1)]
            found[one].append(inside / math.cos(step) if around else inside)
    return {one: np.concatenate(some) for one, some in found.items()}


def _arc(one: Floats, two: Floats, angle: float, step: float, around: bool) -> Floats:
    """Directions from one unit vector to another: on the arc, or the corners of the line that touches it from
    outside.
    """
    count = max(1, math.ceil(angle / step))
    parts = (np.arange(count) + 0.5) / count if around else np.arange(count + 1) / count
    arc = (np.sin((1.0 - parts) * angle)[:, None] * one + np.sin(parts * angle)[:, None] * two) / math.sin(
        angle
    )
    if not around:
        return np.asarray(arc)
    return np.concatenate([one[None], arc / math.cos(0.5 * angle / count), two[None]])


def _ball(step: float) -> Floats:
    """Unit vectors about a step apart: rings of latitude, the poles among them."""
    rings = max(2, math.ceil(math.pi / step))
    found = []
    for k in range(rings + 1):
        high = math.pi * k / rings
        count = max(1, math.ceil(2.0 * math.pi * math.sin(high) / step))
        turn = 2.0 * math.pi * np.arange(count) / count
        found.append(
            np.column_stack(
                [math.sin(high) * np.cos(turn), math.sin(high) * np.sin(turn), np.full(count, math.cos(high))]
            )
        )
    return np.concatenate(found)
