"""Give every edge of a 2D boolean its label back.

The kernel's flat shapes carry no ids, and round their coordinates to about 1e-8 mm.  So the result is
compared with the edges that went in: corners are put back onto the corners they came from, an output edge is
split where input corners lie on it (two plates side by side make one long edge of two labels), and each piece
takes the label of the input edge on which its middle lies.  Corners left in the middle of a straight of one
label are taken out again."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from ..quantities.arrays import Floats, Ints, Longs
from .measure import edge_gaps, edges_of
from .pairs import box_pairs, edge_boxes
from .types import Ring

NEAR = 1e-6
TIE = 1e-7
STRAIGHT = 1e-7


def labelled(polygons: Sequence[Floats], sources: Sequence[Ring]) -> list[Ring]:
    """Rings of the polygons, labelled from the rings they were made of; the lower label where two
    coincide.
    """
    starts, ends, labels = edges_of(sources)
    corners = np.array(sorted({*map(tuple, starts.tolist())}))
    owner = np.repeat(np.arange(len(polygons)), [len(p) for p in polygons])
    points = _snapped(np.concatenate(polygons), corners)
    before = _neighbour(owner, -1)
    keep = (points != points[before]).any(axis=1)
    points, owner = _split(points[keep], owner[keep], corners)
    before, after = _neighbour(owner, -1), _neighbour(owner, 1)
    own = match((points + points[after]) / 2.0, starts, ends, labels)
    keep = (own != own[before]) | (edge_gaps(points, points[before], points[after]) > STRAIGHT)
    points, owner, own = points[keep], owner[keep], own[keep]
    cuts = np.flatnonzero(np.diff(owner)) + 1
    rings = zip(np.split(points, cuts), np.split(own, cuts), strict=True)
    return [Ring(p, label) for p, label in rings if len(p) >= 3]


def _neighbour(owner: Longs, step: int) -> Longs:
    """For rings stored one after another, the row of the next (+1) or the previous (-1) point of the same
    ring.
    """
    begin = np.searchsorted(owner, owner, "left")
    size = np.searchsorted(owner, owner, "right") - begin
    row: Longs = begin + (np.arange(len(owner)) - begin + step) % np.maximum(size, 1)
    return row


def _snapped(points: Floats, corners: Floats) -> Floats:
    """The points, each moved onto the input corner it came from, if any."""
    points = points.copy()
    pairs = list(box_pairs(points - NEAR, points + NEAR, corners, corners))
    i, j = (np.concatenate([pair[k] for pair in pairs]) if pairs else np.empty(0, np.int64) for k in (0, 1))
    gap = np.hypot(*(points[i] - corners[j]).T)
    order = np.lexsort((j, gap))[::-1]
    order = order[gap[order] <= NEAR / 4.0]
    # Farther corners are written first, so that the nearest, written last, stays.
    points[i[order]] = corners[j[order]]
    return points


def _split(points: Floats, owner: Longs, corners: Floats) -> tuple[Floats, Longs]:
    """The rings (points and their owners) with the input corners that lie inside their edges put in."""
    ends = points[_neighbour(owner, 1)]
    low, high = edge_boxes(points, ends, NEAR)
    rows: list[tuple[int, float, int]] = []
    for i, j in box_pairs(low, high, corners, corners):
        a, b, c = points[i], ends[i], corners[j]
        size = np.hypot(*(b - a).T)
        t = ((c - a) * (b - a)).sum(axis=1) / np.maximum(size**2, 1e-300)
        inside = (edge_gaps(c, a, b) < NEAR / 4.0) & (t * size > NEAR) & ((1.0 - t) * size > NEAR)
        rows += zip(i[inside].tolist(), t[inside].tolist(), j[inside].tolist(), strict=True)
    rows.sort()
    edge = np.array([i for i, _, _ in rows], dtype=np.int64)
    extra = corners[np.array([j for _, _, j in rows], dtype=np.int64)]
    return np.insert(points, edge + 1, extra, axis=0), np.insert(owner, edge + 1, owner[edge])


def match(middles: Floats, starts: Floats, ends: Floats, labels: Ints) -> Ints:
    """For the middle of each edge the label of the source edge it lies on (the nearest, then the lowest
    label).
    """
    low, high = edge_boxes(starts, ends, NEAR)
    best = np.full(len(middles), np.inf)
    found: list[tuple[Longs, Longs, Floats]] = []
    for i, j in box_pairs(middles, middles, low, high):
        gap = edge_gaps(middles[i], starts[j], ends[j])
        np.minimum.at(best, i, gap)
        found.append((i, j, gap))
    own = np.full(len(middles), np.iinfo(np.int32).max, dtype=np.int32)
    for i, j, gap in found:
        close = (gap <= best[i] + TIE) & (gap <= NEAR)
        np.minimum.at(own, i[close], labels[j[close]])
    for k in np.flatnonzero(own == np.iinfo(np.int32).max):
        own[k] = labels[int(np.argmin(edge_gaps(middles[k : k + 1], starts, ends)))]
    return own
