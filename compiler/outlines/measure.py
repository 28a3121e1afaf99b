"""Questions about faceted regions: do edges cross, how large, where, what is nearest."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from ..quantities.arrays import Bools, Floats, Ints, Longs
from ..quantities.vectors import XY
from .pairs import box_pairs, edge_boxes
from .types import Region, Ring

TOUCH = 1e-9


def ring_area(ring: Ring) -> float:
    """Signed area of a ring in mm2, positive anticlockwise (shoelace, taken about the first point for
    precision).
    """
    p = ring.points - ring.points[:1]
    x, y = p[:, 0], p[:, 1]
    # the first point is the origin here, so the last edge adds nothing
    return float(np.dot(x[:-1], y[1:]) - np.dot(y[:-1], x[1:])) / 2.0


def area(region: Region) -> float:
    """Area in mm2, holes taken off."""
    return sum(ring_area(ring) for ring in region.rings)


def extent(region: Region) -> tuple[XY, XY]:
    """Lower left and upper right corner of the box round the region."""
    points = np.concatenate([ring.points for ring in region.rings])
    low, high = points.min(axis=0), points.max(axis=0)
    return (float(low[0]), float(low[1])), (float(high[0]), float(high[1]))


def edges_of(rings: Sequence[Ring]) -> tuple[Floats, Floats, Ints]:
    """Starts (n, 2), ends (n, 2) and labels (n,) of all edges of some rings, in order."""
    starts = np.concatenate([ring.points for ring in rings])
    ends = np.concatenate([np.roll(ring.points, -1, axis=0) for ring in rings])
    return starts, ends, np.concatenate([ring.labels for ring in rings])


def contains(region: Region, xy: XY) -> bool:
    """True for a point in the material (a ray to the right crosses the boundary an odd number of times)."""
    a, b, _ = edges_of(region.rings)
    spans = (a[:, 1] > xy[1]) != (b[:, 1] > xy[1])
    a, b = a[spans], b[spans]
    x = a[:, 0] + (xy[1] - a[:, 1]) * (b[:, 0] - a[:, 0]) / (b[:, 1] - a[:, 1])
    return bool(np.count_nonzero(x > xy[0]) % 2)


def nearest_edge(region: Region, xy: XY) -> tuple[float, int]:
    """Distance in mm from a point to the boundary, and the label of the nearest edge (the lower label of a
    tie).
    """
    a, b, labels = edges_of(region.rings)
    gaps = edge_gaps(np.asarray([xy]), a, b)
    best = gaps.min()
    return float(best), int(labels[gaps <= best + 1e-12].min())


def edge_gaps(points: Floats, a: Floats, b: Floats) -> Floats:
    """Distance of each point to its edge a-b, row by row (one point serves all rows)."""
    along = b - a
    square = np.maximum((along**2).sum(axis=1), 1e-300)
    t = np.clip(((points - a) * along).sum(axis=1) / square, 0.0, 1.0)
    gap: Floats = np.hypot(*(points - a - t[:, None] * along).T)
    return gap


def crossing(ring: Ring) -> XY | None:
    """A place where a ring crosses, touches or doubles back on itself, or None."""
    found = crossing_edges((ring,))
    return None if found is None else found[2]


def crossing_edges(rings: Sequence[Ring]) -> tuple[int, int, XY] | None:
    """Two edges (numbered through all the rings) that cross or touch without being neighbours, and where."""
    a, b, _ = edges_of(rings)
    counts = [len(ring.points) for ring in rings]
    after = np.concatenate([np.roll(np.arange(n), -1) + sum(counts[:k]) for k, n in enumerate(counts)])
    folded = _doubling_back(a, b, after)
    if folded is not None:
        return folded
    low, high = edge_boxes(a, b, TOUCH)
    for i, j in box_pairs(low, high, low, high):
        keep = (i < j) & (after[i] != j) & (after[j] != i)
        i, j = i[keep], j[keep]
        hit = _meet(a[i], b[i], a[j], b[j])
        if hit.any():
            return _first_of(i[hit], j[hit], a, b)
    return None


def _doubling_back(a: Floats, b: Floats, after: Longs) -> tuple[int, int, XY] | None:
    one, two = b - a, (b - a)[after]
    size = np.hypot(*one.T) * np.hypot(*two.T)
    flat = np.abs(one[:, 0] * two[:, 1] - one[:, 1] * two[:, 0]) <= 1e-12 * size
    back = np.flatnonzero(flat & ((one * two).sum(axis=1) < 0.0))
    if len(back) == 0:
        return None
    k = int(back[0])
    return k, int(after[k]), (float(b[k, 0]), float(b[k, 1]))


def _offsets_from(a: Floats, b: Floats, p: Floats) -> Floats:
    along = b - a
    size = np.maximum(np.hypot(*along.T), 1e-300)
    away: Floats = (along[:, 0] * (p - a)[:, 1] - along[:, 1] * (p - a)[:, 0]) / size
    return away


def _meet(a: Floats, b: Floats, c: Floats, d: Floats) -> Bools:
    """Row by row: do the edges a-b and c-d, whose boxes overlap, reach both sides of each other?"""
    hit: Bools = np.ones(len(a), dtype=np.bool_)
    for p, q, r, s in ((a, b, c, d), (c, d, a, b)):
        one, two = _offsets_from(p, q, r), _offsets_from(p, q, s)
        hit &= (np.minimum(one, two) <= TOUCH) & (np.maximum(one, two) >= -TOUCH)
    return hit


def _first_of(i: Longs, j: Longs, a: Floats, b: Floats) -> tuple[int, int, XY]:
    k = int(np.lexsort((j, i))[0])
    m, n = int(i[k]), int(j[k])
    one, two, gap = b[m] - a[m], b[n] - a[n], a[n] - a[m]
    turn = one[0] * two[1] - one[1] * two[0]
    flat = abs(turn) <= 1e-12 * float(np.hypot(*one) * np.hypot(*two))
    t = (gap @ one) / max(float(one @ one), 1e-300) if flat else (gap[0] * two[1] - gap[1] * two[0]) / turn
    at = a[m] + min(max(float(t), 0.0), 1.0) * one
    return m, n, (float(at[0]), float(at[1]))
