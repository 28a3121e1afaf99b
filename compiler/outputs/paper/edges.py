"""The lines one sees of a solid, and which of them lie behind it.

Which edges: those between two faces that meet in a crease, and in each view those where a curved face turns
away from the eye.  Faces that run smoothly into one another (a round into its tangent) draw no line.  A
crease inside one face of one statement is an edge from `CREASE` on, because facets of a curve make small
ones.

Which are hidden: exactly those stretches of an edge that lie under a triangle that faces the eye (of a closed
solid no other needs asking).  In the view both are flat: the stretch under the triangle is the edge cut by
three half planes, and of that the stretch where the triangle's plane lies nearer to the eye; the hidden
stretch is the union over all triangles.  Nothing is sampled, so a gap of a hundredth is found as well as one
of ten millimetres."""

from __future__ import annotations

import math
from collections import defaultdict

import numpy as np

from ...diagnostics.types import Trouble
from ...mesh.types import Mesh
from ...quantities.arrays import Floats, Longs
from ...quantities.vectors import XY
from .chains import ChainPiece, Wire, chained, without_doubles
from .views import View

CREASE, SMOOTH = math.radians(35.0), math.radians(3.0)
NEARER = 1e-4  # mm that a face must lie nearer to the eye to hide an edge
SHORT = 1e-3  # mm: shorter stretches are dropped
MOST_TRIANGLES = 200_000
_CHUNK = 64


class Edges:
    """The edges of one mesh; `wires` draws them for a view."""

    def __init__(self, mesh: Mesh) -> None:
        """Raises Trouble('too-large-for-paper') for a mesh with more triangles than would be drawn in a
        minute or so.
        """
        if len(mesh.triangles) > MOST_TRIANGLES:
            said = (
                f"this part has {len(mesh.triangles)} facets; "
                f"{MOST_TRIANGLES} are the most that are drawn on paper"
            )
            raise Trouble("too-large-for-paper", said)
        self.mesh = mesh
        points, corner = mesh.points, mesh.triangles.astype(np.int64)
        a, b, c = (points[corner[:, k]] for k in range(3))
        normals = np.cross(b - a, c - a)
        size = np.sqrt(np.einsum("ij,ij->i", normals, normals))
        self.normals = normals / np.maximum(size, 1e-300)[:, None]
        self.sound = size > 1e-12
        self._pair(corner)
        cos = np.einsum("ij,ij->i", self.normals[self.left], self.normals[self.right])
        labels = mesh.labels
        other = labels[self.left] != labels[self.right]
        self.crease = np.where(other, cos < math.cos(SMOOTH), cos < math.cos(CREASE))
        self.crease &= self.sound[self.left] & self.sound[self.right]

    def _pair(self, corner: Longs) -> None:
        """Every edge once: its two points and the triangles on its two sides."""
        start, end = corner.reshape(-1), np.roll(corner, -1, axis=1).reshape(-1)
        triangle = np.repeat(np.arange(len(corner)), 3)
        span = int(corner.max()) + 1
        low, high = np.minimum(start, end), np.maximum(start, end)
        order = np.lexsort((triangle, start > end, low * span + high))
        first, second = order[0::2], order[1::2]
        self.ends = np.column_stack([low[first], high[first]])
        self.left, self.right = triangle[first], triangle[second]

    def wires(self, view: View, *, hidden: bool = True) -> list[Wire]:
        """What is seen in a view, and (where asked for) what is hidden and not covered by what is seen;
        mm.
        """
        facing = self.normals @ np.array(view.out)
        # a smooth curve ends where it turns away; a facet seen exactly edge-on belongs to neither side
        front = facing > 1e-7
        turns = (front[self.left] & ~front[self.right]) | (front[self.right] & ~front[self.left])
        edges = np.flatnonzero(self.crease | turns)
        flat, depth = view.flat(self.mesh.points), view.depth(self.mesh.points)
        starts, ends = self.ends[edges, 0], self.ends[edges, 1]
        long = np.hypot(*(flat[ends] - flat[starts]).T)
        edges = edges[long > SHORT]
        covered = _Cover(flat, depth, self.mesh.triangles[front].astype(np.int64))
        numbers = np.where(front, np.cumsum(front) - 1, -1)
        seen, unseen = covered.split(self.ends[edges], numbers[self.left[edges]], numbers[self.right[edges]])
        labels = self.mesh.labels
        mates = [frozenset((int(labels[self.left[i]]), int(labels[self.right[i]]))) for i in edges]
        # of two that fall on one another in this view, the one between two faces is drawn: it runs on further
        # in one piece
        for pieces in (seen, unseen):
            pieces.sort(key=lambda piece: len(mates[piece.edge]) == 1)
        drawn = without_doubles(seen)
        wires = chained(drawn, mates, hidden=False)
        if hidden:
            wires += chained(without_doubles(unseen, above=drawn), mates, hidden=True)
        return wires


class _Cover:
    """The triangles that face the eye, ready to be asked what they hide."""

    def __init__(self, flat: Floats, depth: Floats, triangles: Longs) -> None:
        self.flat, self.depth = flat, depth
        self.corner = flat[triangles]
        self.low, self.high = self.corner.min(axis=1), self.corner.max(axis=1)
        self.top = depth[triangles].max(axis=1)
        a, b, c = (self.corner[:, k] for k in range(3))
        area = _cross(b - a, c - a)
        z = depth[triangles]
        flatter = np.maximum(area, 1e-300)
        # the plane of each triangle: depth = g . p + k
        gx = ((z[:, 1] - z[:, 0]) * (c - a)[:, 1] - (z[:, 2] - z[:, 0]) * (b - a)[:, 1]) / flatter
        gy = ((z[:, 2] - z[:, 0]) * (b - a)[:, 0] - (z[:, 1] - z[:, 0]) * (c - a)[:, 0]) / flatter
        self.slope = np.column_stack([gx, gy])
        self.level = z[:, 0] - np.einsum("ij,ij->i", self.slope, a)
        self.good = area > 1e-10

    def split(self, ends: Longs, left: Longs, right: Longs) -> tuple[list[ChainPiece], list[ChainPiece]]:
        """Edges (n, 2) of point numbers as seen and as hidden pieces; the triangles beside an edge don't hide
        it.
        """
        hides: dict[int, list[tuple[float, float]]] = defaultdict(list)
        middle = 0.5 * (self.flat[ends[:, 0]] + self.flat[ends[:, 1]])
        order = np.lexsort((middle[:, 1], np.floor(middle[:, 0] / max(1.0, np.ptp(self.flat[:, 0]) / 16))))
        for start in range(0, len(order), _CHUNK):
            self._ask(order[start : start + _CHUNK], ends, left, right, hides)
        seen: list[ChainPiece] = []
        unseen: list[ChainPiece] = []
        for i, (p, q) in enumerate(ends.tolist()):
            a, b = self.flat[p], self.flat[q]
            for t0, t1, is_hidden in _stretches(hides.get(i, [])):
                piece = ChainPiece(_at(a, b, t0), _at(a, b, t1), i)
                (unseen if is_hidden else seen).append(piece)
        return seen, unseen

    def _ask(
        self, some: Longs, ends: Longs, left: Longs, right: Longs, hides: dict[int, list[tuple[float, float]]]
    ) -> None:
        a, b = self.flat[ends[some, 0]], self.flat[ends[some, 1]]
        low, high = np.minimum(a, b), np.maximum(a, b)
        deepest = np.minimum(self.depth[ends[some, 0]], self.depth[ends[some, 1]])
        box = self.good & (self.top > deepest.min()) & (self.low <= high.max(axis=0)).all(axis=1)
        near = np.flatnonzero(box & (self.high >= low.min(axis=0)).all(axis=1))
        meets = (self.low[near][None] <= high[:, None]).all(axis=2)
        meets &= (self.high[near][None] >= low[:, None]).all(axis=2) & (
            self.top[near][None] > deepest[:, None] + NEARER
        )
        meets &= (near[None] != left[some][:, None]) & (near[None] != right[some][:, None])
        row, column = np.nonzero(meets)
        if not len(row):
            return
        t0, t1 = self._under(a[row], b[row], ends[some[row]], near[column])
        for i, start, stop in zip(some[row].tolist(), t0.tolist(), t1.tolist(), strict=True):
            if stop - start > 1e-9:
                hides[i].append((start, stop))

    def _under(self, a: Floats, b: Floats, ends: Longs, triangle: Longs) -> tuple[Floats, Floats]:
        """From where to where (shares of the edge) each edge lies under its triangle; an empty stretch where
        nowhere.
        """
        t0, t1 = np.zeros(len(a)), np.ones(len(a))
        corner = self.corner[triangle]
        way = b - a
        for k in range(3):
            start, side = corner[:, k], corner[:, (k + 1) % 3] - corner[:, k]
            size = np.sqrt(np.einsum("ij,ij->i", side, side))
            from_a, by_way = _cross(side, a - start) / size, _cross(side, way) / size
            t0, t1 = _half(t0, t1, from_a + 1e-9, by_way)
        slope, level = self.slope[triangle], self.level[triangle]
        z0, z1 = self.depth[ends[:, 0]], self.depth[ends[:, 1]]
        gap0 = np.einsum("ij,ij->i", slope, a) + level - z0
        gap1 = np.einsum("ij,ij->i", slope, b) + level - z1
        return _half(t0, t1, gap0 - NEARER, gap1 - gap0)


def _cross(a: Floats, b: Floats) -> Floats:
    return a[..., 0] * b[..., 1] - a[..., 1] * b[..., 0]


def _half(t0: Floats, t1: Floats, value: Floats, by: Floats) -> tuple[Floats, Floats]:
    """The stretch t0..t1 narrowed to where value + by * t >= 0."""
    steep = np.abs(by) > 1e-15
    root = -value / np.where(steep, by, 1.0)
    t0 = np.where(steep & (by > 0), np.maximum(t0, root), t0)
    t1 = np.where(steep & (by < 0), np.minimum(t1, root), t1)
    return t0, np.where(~steep & (value < 0), t0 - 1.0, t1)


def _stretches(hidden: list[tuple[float, float]]) -> list[tuple[float, float, bool]]:
    """0..1 as stretches in turn, each with whether it is hidden."""
    found: list[tuple[float, float, bool]] = []
    done = 0.0
    for start, stop in sorted(hidden):
        if stop <= done + 1e-9:
            continue
        if start > done + 1e-6:
            found.append((done, start, False))
            done = start
        if found and found[-1][2]:
            found[-1] = (found[-1][0], min(stop, 1.0), True)
        else:
            found.append((done, min(stop, 1.0), True))
        done = max(done, min(stop, 1.0))
    if done < 1.0 - 1e-6:
        found.append((done, 1.0, False))
    return found


def _at(a: Floats, b: Floats, t: float) -> XY:
    return (float(a[0] + (b[0] - a[0]) * t), float(a[1] + (b[1] - a[1]) * t))
