"""The flat faces of a prism: a region cut into triangles, near-linear in the number of holes.

Problem.  One polygon with thousands of holes is slow to triangulate: every hole has to be joined to its
surroundings, and each search looks at all edges (about the square of the number of holes).

Choice.  Cut the region along a few lines, both ways, into cells of a dozen or two holes each, and triangulate
cell by cell.  A line is laid where it crosses few rings and never through a vertex, so every crossing is a
clean one.  A crossing gets ONE vertex, known by (edge, line), used by the cells on both sides and by the side
wall below: no welding by distance, no vertex in the middle of a neighbour's edge.  Along a line the crossings
alternate between entering and leaving material; a boundary that leaves a cell goes on at the other end of its
stretch of the line.

Rejected.  Joining the holes by bridges between old vertices adds no vertex but needs a search for what can be
seen from where; trapezoids from one sweep give slivers as long as the plate."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import numpy.typing as npt
from msgspec import Struct

from ..quantities.arrays import Floats, Ints, Longs
from ..quantities.rows import distinct_rows
from .kernel import flat_triangles

PLAIN_RINGS = 200  # below this, cutting costs more than it saves
HOLES_PER_CELL = 12
CLEAR_GAP = 1e-4  # mm: a line keeps half of this from the nearest vertex


class Cap(Struct, frozen=True):
    """A triangulated region.

    points (n, 2): the points of all rings in order, then the points added on cut lines; triangles (m, 3)
    anticlockwise; around (e, 2): the pieces of ring edges, each from point to point; parent (e,): the ring
    point at which the whole edge starts."""

    points: Floats
    triangles: Ints
    around: Ints
    parent: Ints


class _Loops(Struct, frozen=True):
    """Boundaries of cells: per node its point, the next node, the cell, and the ring edge (-1 on a cut
    line).
    """

    point: Longs
    follow: Longs
    cell: Longs
    parent: Longs


def ring_follow(counts: Sequence[int]) -> Longs:
    """For rings of these sizes laid end to end: the index of the point that follows each point in its
    ring.
    """
    sizes = np.asarray(counts, dtype=np.int64)
    last = np.cumsum(sizes) - 1
    follow = np.arange(1, int(sizes.sum()) + 1, dtype=np.int64)
    follow[last] = last - sizes + 1
    return follow


def cap(rings: Sequence[Floats]) -> Cap:
    """Triangulate rings (each (k, 2); outer ones anticlockwise, holes clockwise, none crossing)."""
    if len(rings) > PLAIN_RINGS:
        tiled = _tiled(rings)
        if tiled is not None:
            return tiled
    return _plain(rings)


def _plain(rings: Sequence[Floats]) -> Cap:
    follow = ring_follow([len(ring) for ring in rings])
    start = np.arange(len(follow))
    triangles = flat_triangles(rings)
    around = np.column_stack([start, follow])
    return Cap(np.concatenate(rings), _ints(triangles), _ints(around), _ints(start))


def _tiled(rings: Sequence[Floats]) -> Cap | None:
    """The region in cells; None where the rings touch each other in a way that lines can't cut cleanly."""
    points = np.concatenate(rings)
    count = np.arange(len(points), dtype=np.int64)
    loops = _Loops(count, ring_follow([len(ring) for ring in rings]), np.zeros_like(count), count)
    low = np.array([ring.min(axis=0) for ring in rings])
    high = np.array([ring.max(axis=0) for ring in rings])
    for axis, lines_wanted in ((1, _line_count(low, high, 1)), (0, _line_count(low, high, 0))):
        lines = _cut_lines(points[:, axis], low[:, axis], high[:, axis], lines_wanted)
        cut = _slice(points, loops, axis, lines)
        if cut is None:
            return None
        points, loops = cut
    triangles = _cell_triangles(points, loops)
    real = np.flatnonzero(loops.parent >= 0)
    around = np.column_stack([loops.point[real], loops.point[loops.follow[real]]])
    if not np.isclose(_area(points, triangles), _ring_area(points, around), rtol=1e-9, atol=0):
        return None
    return Cap(points, _ints(triangles), _ints(around), _ints(loops.parent[real]))


def _line_count(low: Floats, high: Floats, axis: int) -> int:
    """How many lines across this axis give cells of the wanted number of holes, near to square."""
    size = high.max(axis=0) - low.min(axis=0)
    cells = len(low) / HOLES_PER_CELL
    return max(0, round(float(np.sqrt(cells * size[axis] / size[1 - axis]))) - 1)


def _cut_lines(values: Floats, low: Floats, high: Floats, wanted: int) -> Floats:
    """Places for cut lines: evenly shared out over the rings, moved to where few rings and no vertices are
    hit.

    Between two neighbouring vertex values nothing changes, so the middles of the gaps are all places there
    are."""
    levels = distinct_rows(values[:, None])[0][:, 0]
    gap = np.diff(levels)
    middle = levels[:-1] + gap / 2
    crossed = np.searchsorted(np.sort(low), middle) - np.searchsorted(np.sort(high), middle)
    clear = gap >= CLEAR_GAP
    middle, crossed, gap = middle[clear], crossed[clear], gap[clear]
    centres = np.sort((low + high) / 2)
    shares = np.arange(1, wanted + 1) / (wanted + 1)
    wishes = np.interp(shares * (len(centres) - 1), np.arange(len(centres)), centres)
    room = np.diff(np.concatenate([levels[:1], wishes, levels[-1:]]))
    chosen = []
    for wish, before, after in zip(wishes, room[:-1], room[1:], strict=True):
        first, last = np.searchsorted(middle, [wish - 0.45 * before, wish + 0.45 * after])
        if first < last:
            best = np.lexsort((middle[first:last], -gap[first:last], crossed[first:last]))[0]
            chosen.append(middle[first + best])
    return distinct_rows(np.array(chosen, dtype=np.float64).reshape(-1, 1))[0][:, 0]


def _slice(points: Floats, loops: _Loops, axis: int, lines: Floats) -> tuple[Floats, _Loops] | None:
    """Cut all loops along lines `axis coordinate = line`.

    Every crossing becomes two nodes at one point: where the boundary leaves a cell and where it enters the
    next."""
    slab = np.searchsorted(lines, points[:, axis], side="right")
    edge, line, up = _crossings(slab[loops.point], slab[loops.point[loops.follow]])
    points, at = _crossing_points(
        points, loops.point[edge], loops.point[loops.follow[edge]], axis, lines, line
    )
    mate = _mates(loops.cell[edge], line, points[at, 1 - axis], up == (axis == 0))
    if mate is None:
        return None
    nodes, k = len(loops.point), len(edge)
    leave, enter = nodes + np.arange(k), nodes + k + np.arange(k)
    follow = np.concatenate([loops.follow, enter[mate], loops.follow[edge]])
    first = np.ones(k, dtype=np.bool_)
    first[1:] = edge[1:] != edge[:-1]
    follow[edge[first]] = leave[first]
    again = np.flatnonzero(~first)
    follow[enter[again - 1]] = leave[again]
    side = up.astype(np.int64)
    slabs = np.concatenate([slab[loops.point], line + 1 - side, line + side])
    cell = np.concatenate([loops.cell, loops.cell[edge], loops.cell[edge]]) * (len(lines) + 1) + slabs
    parent = np.concatenate([loops.parent, np.full(k, -1), loops.parent[edge]])
    return points, _Loops(np.concatenate([loops.point, at, at]), follow, cell, parent)


def _crossings(here: Longs, there: Longs) -> tuple[Longs, Longs, npt.NDArray[np.bool_]]:
    """Edges that change slab: per crossing the edge, the line, and whether it goes up; in order along each
    edge.
    """
    times = np.abs(there - here)
    edge = np.repeat(np.arange(len(here)), times)
    step = np.arange(len(edge)) - np.repeat(np.cumsum(times) - times, times)
    up = there[edge] > here[edge]
    line = np.where(up, here[edge] + step, here[edge] - 1 - step)
    return edge, line, up


def _crossing_points(
    points: Floats, a: Longs, b: Longs, axis: int, lines: Floats, line: Longs
) -> tuple[Floats, Longs]:
    """One new point for each (edge, line), whichever way and from whichever cell the edge is walked."""
    keys = np.column_stack([np.minimum(a, b), np.maximum(a, b), line])
    unique, which = distinct_rows(keys)
    start, end, level = points[unique[:, 0]], points[unique[:, 1]], lines[unique[:, 2]]
    share = (level - start[:, axis]) / (end[:, axis] - start[:, axis])
    fresh = start + share[:, None] * (end - start)
    fresh[:, axis] = level
    return np.concatenate([points, fresh]), len(points) + which


def _mates(cell: Longs, line: Longs, along: Floats, opens: npt.NDArray[np.bool_]) -> Longs | None:
    """For each crossing the one at the other end of its stretch of material; None where they don't alternate.

    `opens`: material begins here when walking along the line towards larger values.
    """
    order = np.lexsort((along, line, cell))
    if len(order) % 2 or not (opens[order[0::2]].all() and not opens[order[1::2]].any()):
        return None
    first, second = order[0::2], order[1::2]
    if (cell[first] != cell[second]).any() or (line[first] != line[second]).any():
        return None
    mate = np.empty(len(order), dtype=np.int64)
    mate[first], mate[second] = second, first
    return mate


def _cell_triangles(points: Floats, loops: _Loops) -> Longs:
    """All cells triangulated, as indices into points."""
    follow, cells, point = loops.follow.tolist(), loops.cell.tolist(), loops.point
    seen = bytearray(len(follow))
    by_cell: dict[int, list[Longs]] = {}
    for start in range(len(follow)):
        if seen[start]:
            continue
        walk, node = [], start
        while not seen[node]:
            seen[node] = 1
            walk.append(node)
            node = follow[node]
        by_cell.setdefault(cells[start], []).append(point[walk])
    parts = []
    for key in sorted(by_cell):
        walks = by_cell[key]
        local = flat_triangles([points[walk] for walk in walks])
        parts.append(np.concatenate(walks)[local])
    return np.concatenate(parts)


def _area(points: Floats, triangles: Longs) -> float:
    a, b, c = (points[triangles[:, k]] for k in range(3))
    doubled = (b[:, 0] - a[:, 0]) * (c[:, 1] - a[:, 1]) - (b[:, 1] - a[:, 1]) * (c[:, 0] - a[:, 0])
    return float(np.abs(doubled).sum()) / 2


def _ring_area(points: Floats, around: Longs) -> float:
    a, b = points[around[:, 0]], points[around[:, 1]]
    return float((a[:, 0] * b[:, 1] - b[:, 0] * a[:, 1]).sum()) / 2


def _ints(values: npt.NDArray[np.integer]) -> Ints:
    return np.ascontiguousarray(values, dtype=np.int32)
