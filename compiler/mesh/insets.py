"""An outline drawn in for a bevel or a ramp, corner for corner, where short edges vanish on the way.

The problem: where an arc meets a straight edge in a corner, the facets next to the corner are shorter than
the bevel is wide, so an inset that keeps every edge can't be had (a D-shaped peg with a bevelled tip).  The
choice: edges vanish in the order in which the outline reaches them, and all corners of a vanished run go to
the one place where its neighbours then meet; the walls of those stay exactly at their slope, the vanished
edge becomes a triangle.  Rejected: an offset without matched corners, whose slanted walls would have to be
found anew.  Where far parts of the outline run into each other the answer is None: that is a neck, and a
bevel there is answered with words."""

from __future__ import annotations

import manifold3d as m3
import numpy as np

from ..outlines.booleans import cross_section
from ..outlines.measure import area, crossing_edges, edges_of
from ..outlines.offsets import inset_matched
from ..outlines.types import Region, Ring
from ..quantities.arrays import Floats, Longs

LEAST = 1e-9  # mm
NEAR_PARALLEL = 1e-6


def inset_closing(region: Region, d: float) -> Region | None:
    """Every edge moved d mm into the material (outwards when negative) with as many corners as before, some
    of them in one place where edges vanish; None where far parts of the outline would meet."""
    plain = inset_matched(region, d)
    if plain is not None:
        return plain
    rings = []
    for ring in region.rings:
        points = _closed(ring.points, d)
        if points is None:
            return None
        rings.append(Ring(points, ring.labels.copy()))
    bare = [_without_repeats(ring) for ring in rings]
    if any(len(ring.points) < 3 for ring in bare) or crossing_edges(bare) is not None:
        return None
    wanted = cross_section(region.rings).offset(-d, m3.JoinType.Miter, 1e3, 128)
    a, b, _ = edges_of(region.rings)
    slack = 1e-6 * (1.0 + float(np.hypot(*(b - a).T).sum()))
    same = wanted.num_contour() == len(rings) and abs(wanted.area() - area(Region(tuple(bare)))) <= slack
    return Region(tuple(rings)) if same else None


def _closed(points: Floats, d: float) -> Floats | None:
    """The corners (n, 2) of one ring drawn in by d mm; None where nothing is left or two edges left over
    never meet.
    """
    along = np.roll(points, -1, axis=0) - points
    size = np.hypot(*along.T)
    if not (size > LEAST).all():
        return None
    way = along / size[:, None]
    inwards = np.stack([-way[:, 1], way[:, 0]], axis=1)
    offset = (inwards * points).sum(axis=1)
    # stretches of one straight line count as one edge
    turn = inwards[:, 0] * np.roll(inwards[:, 1], 1) - inwards[:, 1] * np.roll(inwards[:, 0], 1)
    ahead = (inwards * np.roll(inwards, 1, axis=0)).sum(axis=1) > 0.0
    left = np.flatnonzero(~((np.abs(turn) < NEAR_PARALLEL) & ahead))
    while len(left) >= 3:
        before, after = _corners(left, inwards, offset, 0.0), _corners(left, inwards, offset, d)
        if before is None or after is None:
            return None
        first = ((np.roll(before, -1, axis=0) - before) * way[left]).sum(axis=1)
        last = ((np.roll(after, -1, axis=0) - after) * way[left]).sum(axis=1)
        if (last > LEAST).all():
            # corner k stands before the edge left[k]; those of vanished edges go with the next that is left
            return after[np.searchsorted(left, np.arange(len(points))) % len(left)]
        reached = np.where(last > LEAST, np.inf, first / np.maximum(first - last, LEAST))
        left = np.delete(left, int(np.argmin(reached)))
    return None


def _corners(left: Longs, inwards: Floats, offset: Floats, d: float) -> Floats | None:
    """Where each edge that is left, moved by d, meets the one before it (m, 2); None where two of them are
    parallel.
    """
    one, two = np.roll(left, 1), left
    (ax, ay), (bx, by) = inwards[one].T, inwards[two].T
    across = ax * by - ay * bx
    if (np.abs(across) < NEAR_PARALLEL).any():
        return None
    c, e = offset[one] + d, offset[two] + d
    return np.stack([(c * by - e * ay) / across, (e * ax - c * bx) / across], axis=1)


def _without_repeats(ring: Ring) -> Ring:
    keep = np.hypot(*(np.roll(ring.points, -1, axis=0) - ring.points).T) > LEAST
    return Ring(ring.points[keep], ring.labels[keep])
