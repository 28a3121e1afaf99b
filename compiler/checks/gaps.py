"""How far flat things lie apart, for thousands of them at once.  Lengths in mm.

Every opening is made of *stadiums*: a straight core from p to q with a radius round it.  A round hole is one
whose core is a point, a slot one with a length, a polygon one per edge with no radius.  The gap of two
stadiums is the distance of their cores less both radii, and the distance of two straight cores that do not
cross is taken at an end of one of them; so all gaps are exact, whatever mesh is made later.  Boxes sort out
who can be near whom (`profiles.pairs`), so the work grows with the neighbours there are, not with all pairs.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from msgspec import Struct

from ..outlines.pairs import box_pairs, edge_boxes
from ..quantities.arrays import Bools, Floats, Longs


class Stadiums(Struct, frozen=True):
    """Cores p to q (n, 2), radii (n,), and which opening each belongs to (n,)."""

    p: Floats
    q: Floats
    radius: Floats
    owner: Longs

    def boxes(self, margin: float) -> tuple[Floats, Floats]:
        """Lower and upper corners of the boxes round the stadiums, widened by the margin."""
        reach = (self.radius + margin)[:, None]
        return np.minimum(self.p, self.q) - reach, np.maximum(self.p, self.q) + reach


class Near(Struct, frozen=True):
    """Pairs that lie near one another: `first` and `second` (numbers of what they join), the gap, the place
    between.

    A negative gap is an overlap.  Each pair stands once, with its smallest gap, in the order of the numbers.
    """

    first: Longs
    second: Longs
    gap: Floats
    at: Floats


class _Facing(Struct, frozen=True):
    """Row by row: the nearest points of two cores (n, 2) and the radii round them (n,)."""

    one: Floats
    two: Floats
    r: Floats
    s: Floats

    def between(self, keep: Bools) -> Floats:
        """Of the rows to keep, the place half way between the two rims."""
        one, two, r, s = self.one[keep], self.two[keep], self.r[keep], self.s[keep]
        away = np.maximum(np.hypot(*(two - one).T), 1e-300)
        share = np.clip(0.5 * (away + r - s) / away, 0.0, 1.0)
        middle: Floats = one + share[:, None] * (two - one)
        return middle


def core_gaps(a: Floats, b: Floats, c: Floats, d: Floats) -> tuple[Floats, Floats, Floats]:
    """Row by row: distance of the cores a-b and c-d, and the nearest point on each."""
    best = np.full(len(a), np.inf)
    one, two = a.copy(), c.copy()
    for end, start, stop, own in ((a, c, d, True), (b, c, d, True), (c, a, b, False), (d, a, b, False)):
        foot = _foot(end, start, stop)
        gap = np.hypot(*(end - foot).T)
        better = gap < best
        best = np.where(better, gap, best)
        one[better] = (end if own else foot)[better]
        two[better] = (foot if own else end)[better]
    best[_crosses(a, b, c, d)] = 0.0
    return best, one, two


def _foot(point: Floats, start: Floats, stop: Floats) -> Floats:
    along = stop - start
    square = np.maximum((along**2).sum(axis=1), 1e-300)
    share = np.clip(((point - start) * along).sum(axis=1) / square, 0.0, 1.0)
    foot: Floats = start + share[:, None] * along
    return foot


def _crosses(a: Floats, b: Floats, c: Floats, d: Floats) -> Bools:
    def side(p: Floats, q: Floats, r: Floats) -> Floats:
        turn: Floats = (q[:, 0] - p[:, 0]) * (r[:, 1] - p[:, 1]) - (q[:, 1] - p[:, 1]) * (r[:, 0] - p[:, 0])
        return turn

    hit: Bools = (side(a, b, c) * side(a, b, d) < 0.0) & (side(c, d, a) * side(c, d, b) < 0.0)
    return hit


def to_edges(some: Stadiums, a: Floats, b: Floats, reach: float) -> Near:
    """For each opening the edge a-b nearest to it, where that is less than `reach` away: `second` numbers the
    edge.
    """
    low, high = some.boxes(reach)
    found = []
    for i, j in box_pairs(low, high, *edge_boxes(a, b, 0.0)):
        gap, one, two = core_gaps(some.p[i], some.q[i], a[j], b[j])
        facing = _Facing(one, two, some.radius[i], 0.0 * gap)
        found.append(_near(some.owner[i], j, gap - some.radius[i], facing, reach))
    near = _joined(found)
    return _smallest(near, near.first)


def among(some: Stadiums, low: Floats, high: Floats, reach: float) -> Near:
    """Pairs of openings less than `reach` apart; `low` and `high` are the heights each opening runs
    between.
    """
    corners = some.boxes(0.5 * reach)
    found = []
    for i, j in box_pairs(*corners, *corners):
        m, n = some.owner[i], some.owner[j]
        keep = (m < n) & (np.minimum(high[m], high[n]) - np.maximum(low[m], low[n]) > 1e-6)
        i, j, m, n = i[keep], j[keep], m[keep], n[keep]
        gap, one, two = core_gaps(some.p[i], some.q[i], some.p[j], some.q[j])
        gap = gap - some.radius[i] - some.radius[j]
        found.append(_near(m, n, gap, _Facing(one, two, some.radius[i], some.radius[j]), reach))
    near = _joined(found)
    return _smallest(near, near.first, near.second)


def _near(first: Longs, second: Longs, gap: Floats, facing: _Facing, reach: float) -> Near:
    """Those less than `reach` apart."""
    keep = gap < reach
    return Near(first[keep], second[keep], gap[keep], facing.between(keep))


def _joined(some: Sequence[Near]) -> Near:
    empty = Near(np.zeros(0, np.int64), np.zeros(0, np.int64), np.zeros(0), np.zeros((0, 2)))
    every = [empty, *some]
    return Near(
        np.concatenate([one.first for one in every]),
        np.concatenate([one.second for one in every]),
        np.concatenate([one.gap for one in every]),
        np.concatenate([one.at for one in every]),
    )


def _smallest(near: Near, *keys: Longs) -> Near:
    """One row for each combination of the keys: that of the smallest gap (rounded, so that ties don't hang on
    noise).
    """
    order = np.lexsort((near.second, near.first, np.round(near.gap, 9), *reversed(keys)))
    rows = np.stack([key[order] for key in keys], axis=1)
    fresh = np.ones(len(order), dtype=np.bool_)
    fresh[1:] = (rows[1:] != rows[:-1]).any(axis=1)
    kept = order[fresh]
    return Near(near.first[kept], near.second[kept], near.gap[kept], near.at[kept])
