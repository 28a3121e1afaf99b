"""Is a mesh from a file the surface of a solid?  And, where it is asked for, the little that can be mended
surely.

Problem: files in the wild have cracks, doubled facets, facets that face inwards, holes.  Guessing at what was
meant makes a part that is subtly wrong.  Choice: find and count the faults; mend only what has one answer
(points a hair apart, doubles, facing, a hole whose rim is flat), tell how much was mended, and refuse the
rest.  Rejected: filling curved holes, rebuilding the surface from a grid (it rounds every edge off)."""

from __future__ import annotations

import manifold3d
import numpy as np
import numpy.typing as npt
from msgspec import Struct

from ..quantities.arrays import Floats, Longs

WELD = 0.01
"""Points closer than this (mm) become one where a mesh is mended."""
FLAT = 0.02
"""A hole is closed where its rim lies in a plane within this (mm)."""
MOST_RIM = 2_000
MOST_HOLES = 2_000
"""A mesh with more holes is a heap of facets, and none is closed."""


class Faults(Struct, frozen=True):
    """What keeps a mesh from being a surface: edges with one facet, edges with more than two
    that don't go together, edges whose two facets
    face opposite ways; and whether the whole is turned inside out."""

    open: int = 0
    crowded: int = 0
    turned: int = 0
    inside_out: bool = False

    @property
    def closed(self) -> bool:
        """True where the mesh is the surface of a solid."""
        return not (self.open or self.crowded or self.turned or self.inside_out)

    def told(self) -> str:
        """The faults in words."""
        said = []
        if self.open:
            said.append(f"{self.open} open edge{'s' * (self.open != 1)}")
        if self.crowded:
            said.append(f"{self.crowded} edge{'s' * (self.crowded != 1)} where more than two facets meet")
        if self.turned:
            said.append(f"{self.turned} edge{'s' * (self.turned != 1)} where facets face opposite ways")
        return ", ".join(said) or "it is turned inside out"


class Mended(Struct, frozen=True, eq=False):
    """A mesh after mending, and what was done: points welded, facets dropped and turned, holes closed, the
    widest (mm).
    """

    points: Floats
    triangles: Longs
    welded: int = 0
    dropped: int = 0
    turned: int = 0
    filled: int = 0
    widest: float = 0.0

    def told(self) -> str:
        """What was done, in words; empty where nothing was."""
        done = [
            (self.welded, "point", "welded"),
            (self.dropped, "doubled facet", "dropped"),
            (self.turned, "facet", "turned"),
            (self.filled, "hole", "closed"),
        ]
        said = [f"{count} {what}{'s' * (count != 1)} {how}" for count, what, how in done if count]
        return ", ".join(said) + (f" (the widest {self.widest:.2f} mm)" if self.filled else "")


def faults(points: Floats, triangles: Longs) -> Faults:
    """The faults of a mesh: points (n, 3), triangles (m, 3) without collapsed ones.

    Where solids touch along an edge, four facets meet there, two each way: that is no fault.
    """
    if not len(triangles):
        return Faults(inside_out=True)
    there, back = _edges(triangles, len(points))
    keys = np.minimum(there, back)
    order = np.argsort(keys, kind="stable")
    starts = _starts(keys[order])
    counts = np.diff(np.append(starts, len(order)))
    uneven = np.add.reduceat(np.where(there < back, 1, -1)[order], starts) != 0
    open_, crowded = int((counts == 1).sum()), int((uneven & (counts > 2)).sum())
    turned = int((uneven & (counts == 2)).sum())
    return Faults(open_, crowded, turned, not (open_ or crowded or turned) and volume(points, triangles) <= 0)


def volume(points: Floats, triangles: Longs) -> float:
    """Volume enclosed (mm3), negative where the mesh is inside out (divergence theorem)."""
    a, b, c = (points[triangles[:, k]] - points.mean(axis=0) for k in range(3))
    return float(np.einsum("ij,ij->i", a, np.cross(b, c)).sum()) / 6.0


def mend(points: Floats, triangles: Longs) -> Mended:
    """Weld, drop doubles, make facets face one way, close flat holes: in that order, each only where it is
    needed.
    """
    before = len(points)
    points, triangles = _welded(points, triangles)
    welded, faces = before - len(points), len(triangles)
    triangles = undoubled(triangles)
    dropped = faces - len(triangles)
    if not len(triangles):
        return Mended(points, triangles, welded, dropped)
    triangles, turned = _facing(points, triangles)
    triangles, filled, widest = _filled(points, triangles)
    if faults(points, triangles) == Faults(inside_out=True):
        triangles, turned = triangles[:, ::-1].copy(), len(triangles)
    return Mended(points, triangles, welded, dropped, turned, filled, widest)


def _edges(triangles: Longs, count: int) -> tuple[Longs, Longs]:
    """Directed edges as single numbers, and the same edges the other way round."""
    a, b = triangles.reshape(-1), np.roll(triangles, -1, axis=1).reshape(-1)
    return a * count + b, b * count + a


def _starts(ranked: Longs) -> Longs:
    """Where each run of equal keys begins in a sorted row of them."""
    return np.flatnonzero(np.concatenate([[True], ranked[1:] != ranked[:-1]]))


def _welded(points: Floats, triangles: Longs) -> tuple[Floats, Longs]:
    """Points that share a cell of `WELD` in one of eight grids, each shifted by half a cell, become the first
    of them: so whatever is closer than half a cell is sure to be welded."""
    at = points.copy()
    for shift in np.ndindex(2, 2, 2):
        cells = np.floor(at / WELD + 0.5 * np.array(shift)).astype(np.int64)
        order = np.lexsort((*cells.T[::-1],))
        ranked = cells[order]
        fresh = np.concatenate([[True], (ranked[1:] != ranked[:-1]).any(axis=1)])
        first = order[np.maximum.accumulate(np.where(fresh, np.arange(len(order)), 0))]
        moved = np.empty_like(order)
        moved[order] = first
        at = at[moved]
    order = np.lexsort(at.T[::-1])
    ranked_points = at[order]
    fresh = np.concatenate([[True], (ranked_points[1:] != ranked_points[:-1]).any(axis=1)])
    place = np.empty(len(order), dtype=np.int64)
    place[order] = np.cumsum(fresh) - 1
    corner = place[triangles]
    a, b, c = corner.T
    return ranked_points[fresh], corner[(a != b) & (b != c) & (c != a)]


def undoubled(triangles: Longs) -> Longs:
    """Of facets with the same corners one is kept; two that face opposite ways enclose nothing, and both
    go.
    """
    if not len(triangles):
        return triangles
    sorted_ = np.sort(triangles, axis=1)
    order = np.lexsort(sorted_.T[::-1])
    ranked = sorted_[order]
    fresh = np.concatenate([[True], (ranked[1:] != ranked[:-1]).any(axis=1)])
    group = np.cumsum(fresh) - 1
    # Even and odd orders of the corners are the two ways a facet can face.
    turned = triangles[order]
    start = turned.argmin(axis=1)[:, None]
    turned = np.take_along_axis(turned, (start + np.arange(3)) % 3, axis=1)
    way = np.where(turned[:, 1] < turned[:, 2], 1, -1)
    balance = np.bincount(group, weights=way)
    keep = np.zeros(len(order), dtype=np.bool_)
    keep[np.flatnonzero(fresh)] = balance != 0
    first_of = np.flatnonzero(fresh)[group]
    wrong = keep & (np.sign(balance[group]) != way) & (first_of == np.arange(len(order)))
    kept = turned.copy()
    kept[wrong] = kept[wrong][:, [0, 2, 1]]
    return kept[keep]


def _facing(points: Floats, triangles: Longs) -> tuple[Longs, int]:
    """Facets turned so that neighbours face the same way, each connected patch that needed it outwards as a
    whole.
    """
    there, back = _edges(triangles, len(points))
    if len(_starts(np.sort(there))) == len(there):
        return triangles, 0
    keys = np.minimum(there, back)
    order = np.argsort(keys, kind="stable")
    ranked = keys[order]
    pair = np.flatnonzero(ranked[1:] == ranked[:-1])
    neighbours: list[list[tuple[int, bool]]] = [[] for _ in triangles]
    for k in pair.tolist():
        one, two = int(order[k]), int(order[k + 1])
        same = bool(there[one] == there[two])
        neighbours[one // 3].append((two // 3, same))
        neighbours[two // 3].append((one // 3, same))
    flip = np.zeros(len(triangles), dtype=np.bool_)
    seen = np.zeros(len(triangles), dtype=np.bool_)
    for seed in range(len(triangles)):
        if seen[seed]:
            continue
        patch, uneven = _patch(seed, neighbours, seen, flip)
        turned = np.where(flip[patch][:, None], triangles[patch][:, ::-1], triangles[patch])
        if uneven and volume(points, turned) < 0:
            flip[patch] = ~flip[patch]
    found = np.where(flip[:, None], triangles[:, ::-1], triangles)
    return found, int(flip.sum())


def _patch(
    seed: int,
    neighbours: list[list[tuple[int, bool]]],
    seen: npt.NDArray[np.bool_],
    flip: npt.NDArray[np.bool_],
) -> tuple[Longs, bool]:
    """All facets reached from one over edges, each marked to be flipped or not; and whether any had to be."""
    waiting, patch, uneven = [seed], [seed], False
    seen[seed] = True
    while waiting:
        face = waiting.pop()
        for other, same in neighbours[face]:
            if not seen[other]:
                seen[other] = True
                flip[other] = flip[face] != same
                uneven = uneven or same
                waiting.append(other)
                patch.append(other)
    return np.array(patch, dtype=np.int64), uneven


def _filled(points: Floats, triangles: Longs) -> tuple[Longs, int, float]:
    """Holes whose rim is one flat ring closed with triangles; how many, and the widest of them."""
    found, widest = [triangles], 0.0
    rims = _rims(points, triangles)
    for rim in rims if len(rims) <= MOST_HOLES else ():
        cap, wide = _cap(points, rim)
        if cap is not None:
            found.append(cap)
            widest = max(widest, wide)
    return np.concatenate(found), len(found) - 1, widest


def _rims(points: Floats, triangles: Longs) -> list[list[int]]:
    """Rings of open edges, each walked so that its cap faces outwards; rings that touch or branch are left
    open.
    """
    there, back = _edges(triangles, len(points))
    lonely = there[~np.isin(there, back)]
    after: dict[int, int] = {}
    branching: set[int] = set()
    for key in np.sort(lonely).tolist():
        start, stop = divmod(key, len(points))
        if stop in after:
            branching.add(stop)
        after[stop] = start
    rings: list[list[int]] = []
    for first in sorted(after):
        if first not in after:
            continue
        ring, here = [first], after.pop(first)
        while here != first and here in after:
            ring.append(here)
            here = after.pop(here)
        if here == first and 3 <= len(ring) <= MOST_RIM and not branching & set(ring):
            rings.append(ring)
    return rings


def _cap(points: Floats, ring: list[int]) -> tuple[Longs | None, float]:
    """Triangles over a ring that lies in a plane, and how wide it is; None where it is not flat or crosses
    itself.
    """
    at = points[ring]
    middle = at.mean(axis=0)
    _, _, axes = np.linalg.svd(at - middle, full_matrices=False)
    if np.abs((at - middle) @ axes[2]).max() > FLAT:
        return None, 0.0
    flat = np.column_stack([(at - middle) @ axes[0], (at - middle) @ axes[1]])
    ahead = np.roll(flat, -1, axis=0)
    area = float((flat[:, 0] * ahead[:, 1] - flat[:, 1] * ahead[:, 0]).sum()) / 2.0
    order = np.arange(len(ring))
    if area < 0:
        flat, order = flat[::-1].copy(), order[::-1]
    cap = np.asarray(manifold3d.triangulate([flat]), dtype=np.int64).reshape(-1, 3)
    if len(cap) != len(ring) - 2:
        return None, 0.0
    corners = np.array(ring, dtype=np.int64)[order][cap]
    wide = float(np.linalg.norm(at.max(axis=0) - at.min(axis=0)))
    return (corners if area > 0 else corners[:, ::-1]), wide
