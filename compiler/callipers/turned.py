"""What is round about an axis, seen as its half profile: heights (mm) along the axis, radii off it.

Rings of corners were drawn where a profile turns.  An outside has its corners on the true surface, so the
radius of a ring is that of its corners; inside of a bore the middles of level edges touch it."""

from __future__ import annotations

import math
from collections.abc import Iterable

import numpy as np
from msgspec import Struct

from ..quantities.arrays import Bools, Floats, Longs
from ..quantities.vectors import Vector, along, dot
from .surfaces import SAME_WAY, TURN, Facets, square_to, vector

SAME = 1e-5
"""mm: heights no further apart are of one ring."""
RING = 3
"""Corners of a ring that must be left for it to be told from corners of cuts."""
OFF_BAND = 5e-4
"""mm: how far the planes of a band may be off one cone."""
MOST_BANDS = 20
LEAST_TURN = 0.7 * math.pi


class FoundAxis(Struct, frozen=True):
    """An axis: the point from which heights count, its way, and two directions square to it (unit
    vectors).
    """

    start: Vector
    way: Vector
    right: Vector
    up: Vector

    def heights(self, points: Floats) -> Floats:
        """How far along the axis points (..., 3) lie."""
        found: Floats = (points - np.asarray(self.start)) @ np.asarray(self.way)
        return found

    def across(self, points: Floats) -> Floats:
        """Points (..., 3) as they are seen along the axis, (..., 2)."""
        away = points - np.asarray(self.start)
        return np.stack([away @ np.asarray(self.right), away @ np.asarray(self.up)], axis=-1)

    def radii(self, points: Floats) -> Floats:
        """How far off the axis points lie."""
        found: Floats = np.linalg.norm(self.across(points), axis=-1)
        return found

    def outwards(self, facets: Facets) -> Floats:
        """How far facets face away from the axis (1: straight away, < 0: towards it)."""
        seen = self.across(facets.corners.mean(axis=1))
        size = np.linalg.norm(seen, axis=1)
        away = seen / np.where(size > 0, size, 1.0)[:, None]
        flat = np.stack(
            [facets.normals @ np.asarray(self.right), facets.normals @ np.asarray(self.up)], axis=1
        )
        found: Floats = (away * flat).sum(axis=1)
        return found


def axis_of_bands(some: Iterable[Facets], start: Vector, way: Vector) -> FoundAxis | None:
    """The axis along a way that the facets of a turned shape have in common, its heights counted from
    `start`: by the first of some groups that tells it; None where too little of them is left.
    """
    return next((axis for one in some if (axis := _axis_of_band(one, start, way)) is not None), None)


def _axis_of_band(facets: Facets, start: Vector, way: Vector) -> FoundAxis | None:
    """The facets of one stretch (a cylinder or cone, the flats of a hexagon) all touch it at one place:
    n . c + s = d, least squares for the axis c and s; the stretch with most surface is taken.
    """
    axis = np.asarray(way)
    slant = facets.normals @ axis
    sides = facets.some(np.abs(slant) < 0.99)
    if sides.empty:
        return None
    right, up = (vector(one) for one in square_to(axis))
    basis = np.stack([np.asarray(right), np.asarray(up)], axis=1)
    heights = sides.corners @ axis
    guess = FoundAxis(start, way, right, up)
    facing = np.sign(guess.outwards(sides))
    key = np.round(
        np.stack([sides.normals @ axis, heights.min(axis=1), heights.max(axis=1), facing], axis=1), 4
    )
    _, band = np.unique(key, axis=0, return_inverse=True)
    band = band.reshape(-1)
    areas = np.bincount(band, weights=sides.areas)
    bands = [sides.some(band == one) for one in np.argsort(-areas)[:MOST_BANDS].tolist()]
    # the ground between ridges is of one cylinder, however high its pieces are
    for some in (*bands, sides.some(np.abs(key[:, 0]) < SAME)):
        found = _touched(some, basis)
        if found is not None:
            off = found - np.array([dot(start, right), dot(start, up)])
            return FoundAxis(along(start, (right, float(off[0])), (up, float(off[1]))), way, right, up)
    return None


def _touched(facets: Facets, basis: Floats) -> Floats | None:
    """Where the axis of a band of facets stands, seen along it; None where they are of no band."""
    if facets.empty:
        return None
    flat = facets.normals @ basis
    angles = np.sort(np.arctan2(flat[:, 1], flat[:, 0]))
    gaps = np.diff(np.concatenate([angles, angles[:1] + math.tau]))
    if math.tau - float(gaps.max()) < LEAST_TURN or (gaps > SAME_WAY).sum() < 4:
        return None
    offsets = np.einsum("ij,ij->i", facets.normals, facets.corners[:, 0])
    rows = np.column_stack([flat, np.ones(len(flat))])
    found = np.linalg.lstsq(rows, offsets, rcond=None)[0]
    if float(np.abs(rows @ found - offsets).max()) > OFF_BAND:
        return None
    middle: Floats = found[:2]
    return middle


class Rings(Struct, frozen=True):
    """The rings of a turned face, from the lowest up: heights and true radii (n,)."""

    heights: Floats
    radii: Floats

    @property
    def empty(self) -> bool:
        """Whether there are none."""
        return not len(self.heights)

    @property
    def low(self) -> float:
        """The lowest ring."""
        return float(self.heights[0])

    @property
    def high(self) -> float:
        """The highest ring."""
        return float(self.heights[-1])

    def radius(self, height: float) -> float | None:
        """The radius at a height of the straight line through the outermost two rings; None where there are
        fewer."""
        if len(self.heights) < 2 or self.high - self.low < SAME:
            return None
        slope = (self.radii[-1] - self.radii[0]) / (self.heights[-1] - self.heights[0])
        return float(self.radii[0] + slope * (height - self.heights[0]))


def rings(facets: Facets, axis: FoundAxis, inside: bool) -> Rings:
    """The rings that facets of an outside (or an inside) hang between."""
    if facets.empty:
        return Rings(np.zeros(0), np.zeros(0))
    return _edges(facets, axis) if inside else _corners(facets, axis)


def _corners(facets: Facets, axis: FoundAxis) -> Rings:
    """Rings of an outside: of its corners at a height the furthest off; cuts leave corners nearer in."""
    points = facets.corners.reshape(-1, 3)[np.unique(facets.numbers.reshape(-1), return_index=True)[1]]
    heights, radii = axis.heights(points), axis.radii(points)
    level = _levels(heights)
    far = np.array([radii[level == one].max() for one in range(int(level.max()) + 1)])
    middle = np.array([np.median(heights[level == one]) for one in range(len(far))])
    kept = (np.bincount(level) >= RING) | (far < SAME)
    return Rings(middle[kept], far[kept])


def _edges(facets: Facets, axis: FoundAxis) -> Rings:
    """Rings of an inside: how far off the axis its level edges run, the usual one of a height."""
    starts = facets.corners.reshape(-1, 3)
    ends = np.roll(facets.corners, -1, axis=1).reshape(-1, 3)
    heights, others = axis.heights(starts), axis.heights(ends)
    a, b = axis.across(starts), axis.across(ends)
    long = np.linalg.norm(b - a, axis=1)
    level_ones = (np.abs(heights - others) < SAME) & (long > SAME)
    if not level_ones.any():
        return Rings(np.zeros(0), np.zeros(0))
    heights, a, b, long = heights[level_ones], a[level_ones], b[level_ones], long[level_ones]
    off = np.abs(a[:, 0] * b[:, 1] - a[:, 1] * b[:, 0]) / long
    # the point of a cone has no edges
    points = facets.corners.reshape(-1, 3)
    pointed = np.unique(np.round(axis.heights(points[axis.radii(points) < SAME]), 5))
    heights = np.concatenate([heights, np.repeat(pointed, RING)])
    off = np.concatenate([off, np.zeros(RING * len(pointed))])
    long = np.concatenate([long, np.ones(RING * len(pointed))])
    level = _levels(heights)
    kept = [one for one in range(int(level.max()) + 1) if (level == one).sum() >= 2]
    return Rings(
        np.array([np.median(heights[level == one]) for one in kept]),
        np.array([_usual(off[level == one], long[level == one]) for one in kept]),
    )


def _usual(values: Floats, weights: Floats) -> float:
    """The median of values by their weights."""
    order = np.argsort(values)
    total = np.cumsum(weights[order])
    return float(values[order][int(np.searchsorted(total, 0.5 * total[-1]))])


def _levels(heights: Floats) -> Longs:
    """For each height the number of its level, from the lowest up."""
    order = np.argsort(heights, kind="stable")
    step = np.diff(heights[order]) > SAME
    found = np.empty(len(heights), dtype=np.int64)
    found[order] = np.concatenate([[0], np.cumsum(step)])
    return found


def within(facets: Facets, axis: FoundAxis, low: float, high: float) -> Facets:
    """Those facets that reach into a stretch of the axis."""
    heights = axis.heights(facets.corners)
    reach = np.minimum(heights.max(axis=1), high) - np.maximum(heights.min(axis=1), low)
    return facets.some(reach > SAME)


def upright(facets: Facets, axis: FoundAxis, inside: bool) -> Facets:
    """Facets of an outside or an inside: those that face away from the axis, or towards it."""
    out = axis.outwards(facets)
    mask: Bools = out < -TURN if inside else out > TURN
    return facets.some(mask)


def ends(facets: Facets, axis: FoundAxis) -> Floats:
    """Heights at which facets lie square to the axis, ascending."""
    square = np.abs(facets.normals @ np.asarray(axis.way)) > 1 - 1e-6
    found = axis.heights(facets.corners[square, 0])
    return np.array(sorted(set(np.round(found, 6).tolist())))


def arc_radius(heights: Floats, radii: Floats, hollow: bool) -> float | None:
    """The radius of the round (its corners on the arc) or the hollow (its walls touching it) that a half
    profile follows; None for fewer than three corners."""
    points = np.stack([radii, heights], axis=1)
    if len(points) < 3:
        return None
    if hollow:
        steps = np.diff(points, axis=0)
        normals = np.stack([-steps[:, 1], steps[:, 0]], axis=1) / np.linalg.norm(steps, axis=1)[:, None]
        rows = np.column_stack([normals, np.ones(len(normals))])
        offsets = (normals * points[:-1]).sum(axis=1)
        if len(rows) < 3:
            return None
        return abs(float(np.linalg.lstsq(rows, offsets, rcond=None)[0][2]))
    middle = points.mean(axis=0)
    away = points - middle
    rows = np.column_stack([2 * away, np.ones(len(away))])
    found = np.linalg.lstsq(rows, (away**2).sum(axis=1), rcond=None)[0]
    return math.sqrt(max(0.0, float(found[2] + found[:2] @ found[:2])))
