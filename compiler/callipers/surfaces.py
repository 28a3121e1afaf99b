"""Rounds and flats fitted to facets of the finished mesh.  Lengths in mm.

A facet of a round touches the true surface somewhere: of a hole in the middle (the true round goes through),
of an outside at its corners.  So rounds are fitted to the planes of their facets, which stay what they are
where something cuts them, and the size of an outside is taken at the corners."""

from __future__ import annotations

import math

import numpy as np
from msgspec import Struct

from ..quantities.arrays import Bools, Floats, Ints, Longs
from ..quantities.vectors import Vector

FLAT = 1e-4
"""Facets whose corners are no further than this (mm) from one plane are one flat."""
BULGE = 0.02
"""How far (mm) a facet of an outside may lie under its round: twice the usual chord."""
OFF_ROUND = 1e-3
"""How far (mm) places where facets meet may lie off one circle."""
EXACT = 1e-4
"""How far (mm) what tells the radius of a short arc may lie off it: a chord makes much of little."""
SAME_WAY = 1e-7
TURN = 1e-3
"""Normals that differ by no more than this are of one flat, or square to one axis."""
NORMAL_STEP = 1e-5
"""Normals of one flat differ by no more than this: its points are snapped to 1e-6 mm."""
MOST_FLATS = 200


class RoundFace(Struct, frozen=True):
    """A cylinder: a point of its axis, the way of the axis (a unit vector), the radius at which facets touch
    the true surface; `inside`: the material lies around it; `turn`: how far round its facets go (radians).
    """

    point: Vector
    way: Vector
    radius: float
    inside: bool
    turn: float
    low: float
    high: float


class FlatFace(Struct, frozen=True):
    """A flat: its middle (weighted by area), its normal out of the material, its area (mm2)."""

    point: Vector
    normal: Vector
    area: float


class Facets(Struct, frozen=True):
    """Some triangles of the mesh: corners (n, 3, 3), unit normals (n, 3), areas (n,), and their corner
    numbers (n, 3) in the mesh.
    """

    corners: Floats
    normals: Floats
    areas: Floats
    numbers: Ints

    def some(self, rows: Longs | Bools) -> Facets:
        """Those of some rows, or where a mask is True."""
        return Facets(self.corners[rows], self.normals[rows], self.areas[rows], self.numbers[rows])

    @property
    def empty(self) -> bool:
        """Whether there are none."""
        return not len(self.areas)

    def span(self, way: Vector) -> tuple[float, float]:
        """How far they reach along a direction: lowest and highest, as jaws laid over them would read."""
        along = self.corners.reshape(-1, 3) @ np.asarray(way)
        return float(along.min()), float(along.max())


def vector(values: Floats) -> Vector:
    """Three numbers as a plain vector."""
    x, y, z = (float(value) for value in values)
    return x, y, z


def flats_of(facets: Facets) -> list[FlatFace]:
    """The flats that facets lie in, the largest first; facets in one plane are one flat, wherever they lie.
    Of a curved surface only the largest `MOST_FLATS` facets are told.
    """
    if facets.empty:
        return []
    offsets = np.einsum("ij,ij->i", facets.normals, facets.corners[:, 0])
    keys = np.round(np.column_stack([facets.normals / NORMAL_STEP, offsets / FLAT])).astype(np.int64)
    order = np.lexsort(keys.T)
    new = (np.diff(keys[order], axis=0) != 0).any(axis=1)
    group = np.empty(len(order), dtype=np.int64)
    group[order] = np.concatenate([[0], np.cumsum(new)])
    areas = np.bincount(group, weights=facets.areas)
    # a plane near the border of a step stands in two groups: small ones join larger ones that hold them
    planes: list[tuple[Floats, float, Bools]] = []
    for one in np.argsort(-areas, kind="stable")[:MOST_FLATS].tolist():
        mine = group == one
        row = int(np.flatnonzero(mine)[0])
        normal, offset = facets.normals[row], float(offsets[row])
        for kept, at, rows in planes:
            if float(kept @ normal) > 1 - TURN * TURN and abs(at - offset) < 2 * FLAT:
                rows |= mine
                break
        else:
            planes.append((normal, offset, mine))
    return sorted((flat_of(facets.some(rows)) for _, _, rows in planes), key=lambda flat: -flat.area)


def flat_of(facets: Facets) -> FlatFace:
    """The one flat that facets lie in."""
    area = facets.areas.sum()
    normal = (facets.normals * facets.areas[:, None]).sum(axis=0)
    middle = (facets.corners.mean(axis=1) * facets.areas[:, None]).sum(axis=0) / area
    return FlatFace(vector(middle), vector(normal / np.linalg.norm(normal)), float(area))


def round_of(facets: Facets, way: Vector) -> RoundFace | None:
    """The cylinder with an axis along `way` that facets touch; those not along it are left out.

    The facets of a hole touch it in their middle: least squares over their planes n . x = d, that is
    n . c - r = d.  Those of an outside touch it where two neighbours meet: least squares over these places,
    x . x = 2 c . x + (r r - c c) (Kasa 1976, exact where they lie on one circle).  None where fewer than
    three directions are left, or where the facets don't lie on one."""
    axis = np.asarray(way)
    sides = facets.some(np.abs(facets.normals @ axis) < TURN)
    basis = np.stack(square_to(axis), axis=1)
    normals, offsets = _planes(sides, basis)
    if len(normals) < 3:
        return None
    centre, signed = _touching(normals, offsets)
    if not np.isfinite(signed) or _uneven(normals, offsets, centre, signed) > BULGE:
        return None
    if signed > 0:
        fitted = _through(_meetings(normals, offsets, sides.corners.reshape(-1, 3) @ basis))
        if fitted is None:
            return None
        centre, signed = fitted
    if _uneven(normals, offsets, centre, signed) > BULGE:
        return None
    point = basis @ centre
    low, high = sides.span(way)
    return RoundFace(vector(point), way, abs(signed), signed < 0, _turn(normals), low, high)


def corner_round(facets: Facets, way: Vector) -> float | None:
    """The radius of a rounded corner of an outline along `way`, perhaps a short one: of the circle through
    all corners of its facets, else of that which four of them or more touch, else of that through the places
    where they meet (something has cut their ends off); None where none is exact (within `EXACT`).
    """
    axis = np.asarray(way)
    sides = facets.some(np.abs(facets.normals @ axis) < TURN)
    basis = np.stack(square_to(axis), axis=1)
    normals, offsets = _planes(sides, basis)
    if len(normals) < 3:
        return None
    corners = sides.corners.reshape(-1, 3) @ basis
    through = _exactly_through(corners)
    if through is not None:
        return through
    centre, radius = _touching(normals, offsets)
    if len(normals) > 3 and _uneven(normals, offsets, centre, radius) < EXACT:
        return abs(radius)
    return _exactly_through(_meetings(normals, offsets, corners))


def _exactly_through(points: Floats) -> float | None:
    """The radius of the circle that four points or more lie on; None where they lie on none."""
    points = np.unique(np.round(points, 5), axis=0)
    fitted = _through(points) if len(points) > 3 else None
    if fitted is None or np.ptp(np.linalg.norm(points - fitted[0], axis=1)) > EXACT:
        return None
    return fitted[1]


def _planes(sides: Facets, basis: Floats) -> tuple[Floats, Floats]:
    """The distinct planes that facets along an axis lie in: normals (n, 2) seen along it, by their angle, and
    offsets (n,); none where walls that face the same way lie in several places.
    """
    flat = sides.normals @ basis
    offset = np.einsum("ij,ij->i", sides.normals, sides.corners[:, 0])
    order = np.argsort(np.arctan2(flat[:, 1], flat[:, 0]), kind="stable")
    flat, offset, areas = flat[order], offset[order], sides.areas[order]
    if not len(flat):
        return flat, offset
    step = np.linalg.norm(np.diff(flat, axis=0), axis=1) > SAME_WAY
    group = np.concatenate([[0], np.cumsum(step)])
    weight = np.bincount(group, weights=areas)
    sums = [np.bincount(group, weights=areas * part) / weight for part in (flat[:, 0], flat[:, 1], offset)]
    if float(np.abs(offset - sums[2][group]).max()) > BULGE:
        # walls that face the same way in several places: several rounds
        return flat[:0], offset[:0]
    size = np.hypot(sums[0], sums[1])
    return np.stack([sums[0] / size, sums[1] / size], axis=1), sums[2]


def _touching(normals: Floats, offsets: Floats) -> tuple[Floats, float]:
    """The circle that straight walls touch in their middles: centre and radius, < 0 for a hole."""
    rows = np.column_stack([normals, np.ones(len(normals))])
    found = np.linalg.lstsq(rows, offsets, rcond=1e-12)[0]
    centre: Floats = np.array(found[:2], dtype=np.float64)
    return centre, float(found[2])


def _uneven(normals: Floats, offsets: Floats, centre: Floats, radius: float) -> float:
    """How far (mm) the wall that is furthest off lies from touching a circle."""
    return float(np.abs(normals @ centre + radius - offsets).max())


def _meetings(normals: Floats, offsets: Floats, corners: Floats) -> Floats:
    """Where neighbouring walls meet, if a corner of theirs is there."""
    after = np.roll(normals, -1, axis=0), np.roll(offsets, -1)
    area = normals[:, 0] * after[0][:, 1] - normals[:, 1] * after[0][:, 0]
    sound = np.abs(area) > SAME_WAY
    inverse = 1.0 / np.where(sound, area, 1.0)
    x = (offsets * after[0][:, 1] - after[1] * normals[:, 1]) * inverse
    y = (after[1] * normals[:, 0] - offsets * after[0][:, 0]) * inverse
    points = np.stack([x, y], axis=1)[sound]
    away = np.linalg.norm(points[:, None] - corners[None], axis=2).min(axis=1)
    met: Floats = points[away < FLAT]
    return met


def _through(points: Floats) -> tuple[Floats, float] | None:
    """The circle through points; None where there are fewer than three, or they lie on none."""
    if len(points) < 3:
        return None
    middle = points.mean(axis=0)
    away = points - middle
    rows = np.column_stack([2 * away, np.ones(len(away))])
    found, _, rank, _ = np.linalg.lstsq(rows, (away**2).sum(axis=1), rcond=1e-12)
    if rank < 3:
        return None
    centre = found[:2]
    radius = math.sqrt(max(0.0, float(found[2] + centre @ centre)))
    if float(np.abs(np.linalg.norm(away - centre, axis=1) - radius).max()) > OFF_ROUND:
        return None
    around = np.asarray(centre + middle, dtype=np.float64)
    return around, radius


def square_to(axis: Floats) -> tuple[Floats, Floats]:
    """Two unit vectors square to an axis and to each other."""
    least = np.eye(3)[int(np.argmin(np.abs(axis)))]
    right = np.cross(axis, least)
    right /= np.linalg.norm(right)
    return right, np.cross(axis, right)


def _turn(plane: Floats) -> float:
    """How far round (radians) directions go: a full turn less the widest gap between neighbours."""
    angles = np.sort(np.arctan2(plane[:, 1], plane[:, 0]))
    gaps = np.diff(np.concatenate([angles, angles[:1] + 2 * math.pi]))
    widest = float(gaps.max())
    return 2 * math.pi if widest < 0.5 * math.pi else 2 * math.pi - widest


def axis_of(facets: Facets) -> Vector:
    """The direction that the facets of a cylinder are all along: square to all normals, as nearly as can
    be.
    """
    spread = (facets.normals * facets.areas[:, None]).T @ facets.normals
    return vector(np.linalg.eigh(spread)[1][:, 0])
