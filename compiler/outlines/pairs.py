"""Which boxes of one list overlap boxes of another: the shared first step of crossing tests and label
matching.

Sorting by the lower side and two binary searches per box find exactly the overlaps along one axis; the axis
with fewer of them is taken and the other is filtered.  Pairs come in chunks, so memory stays bounded for any
input. A balanced tree would save time only for hundreds of thousands of edges, and a sweep line in plain
Python costs more."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from ..quantities.arrays import Floats, Longs

CHUNK = 1_000_000


def edge_boxes(starts: Floats, ends: Floats, margin: float) -> tuple[Floats, Floats]:
    """Lower and upper corners (n, 2) of the boxes of edges, widened by the margin."""
    return np.minimum(starts, ends) - margin, np.maximum(starts, ends) + margin


def box_pairs(low_a: Floats, high_a: Floats, low_b: Floats, high_b: Floats) -> Iterator[tuple[Longs, Longs]]:
    """Longs pairs (i of a, j of b) of all boxes that overlap or touch, in chunks of bounded size."""
    counts = [
        sum(int(c.sum()) for _, c in _spans(low_a[:, k], high_a[:, k], low_b[:, k], high_b[:, k]))
        for k in (0, 1)
    ]
    k = int(counts[1] < counts[0])
    order_a, order_b = (np.argsort(low[:, k], kind="stable") for low in (low_a, low_b))
    first, second = _spans(low_a[:, k], high_a[:, k], low_b[:, k], high_b[:, k])
    for rows, columns in _expanded(*first):
        i, j = rows, order_b[columns]
        keep = (low_a[i, 1 - k] <= high_b[j, 1 - k]) & (high_a[i, 1 - k] >= low_b[j, 1 - k])
        yield i[keep], j[keep]
    for rows, columns in _expanded(*second):
        i, j = order_a[columns], rows
        keep = (low_a[i, 1 - k] <= high_b[j, 1 - k]) & (high_a[i, 1 - k] >= low_b[j, 1 - k])
        yield i[keep], j[keep]


def _spans(low_a: Floats, high_a: Floats, low_b: Floats, high_b: Floats) -> tuple[tuple[Longs, Longs], ...]:
    """Per a: the run of sorted b that begin inside it; per b: the run of sorted a that begin inside it, not
    at its own beginning, so that no pair comes twice."""
    sorted_a, sorted_b = np.sort(low_a), np.sort(low_b)
    from_a = np.searchsorted(sorted_b, low_a, "left")
    from_b = np.searchsorted(sorted_a, low_b, "right")
    to_a = np.searchsorted(sorted_b, high_a, "right")
    to_b = np.searchsorted(sorted_a, high_b, "right")
    return (from_a, np.maximum(to_a - from_a, 0)), (from_b, np.maximum(to_b - from_b, 0))


def _expanded(begin: Longs, count: Longs) -> Iterator[tuple[Longs, Longs]]:
    """Rows and columns of all (row, begin[row] + 0 .. count[row] - 1), in chunks."""
    total = np.cumsum(count)
    row = 0
    while row < len(count):
        done = int(total[row - 1]) if row else 0
        stop = max(int(np.searchsorted(total, done + CHUNK, "right")), row + 1)
        part = count[row:stop]
        rows = np.repeat(np.arange(row, stop), part)
        inner = np.arange(int(part.sum())) - np.repeat(np.cumsum(part) - part, part)
        yield rows, np.repeat(begin[row:stop], part) + inner
        row = stop
