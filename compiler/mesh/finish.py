"""The finished mesh in canonical order, and what can be said of it in numbers.

Canonical order: points sorted by x, then y, then z; each triangle turned so that its smallest index comes
first; triangles sorted.  The same solid then gives the same bytes, whatever the kernel's order was on this
run or machine."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from ..diagnostics.types import Trouble
from ..quantities.arrays import Floats, Ints, Longs
from ..quantities.rows import distinct_rows
from .kernel import Solid, checked, drop_collapsed, renumbered
from .types import Figures, Mesh


def finish(solid: Solid) -> Mesh:
    """The solid as arrays in canonical order, labels kept.  Raises Trouble('bad-solid') or
    Trouble('nothing-left').
    """
    raw = checked(solid).to_mesh64()
    triangles = np.asarray(raw.tri_verts).astype(np.int64)
    points = np.asarray(raw.vert_properties)[:, :3] + 0.0  # adding zero turns -0.0 into 0.0
    labels = np.asarray(raw.face_id).astype(np.int64).astype(np.int32)
    if not len(triangles):
        raise Trouble("nothing-left", "nothing is left of this part")
    merge = np.arange(len(points), dtype=np.int64)
    merge[np.asarray(raw.merge_from_vert, dtype=np.int64)] = np.asarray(raw.merge_to_vert, dtype=np.int64)
    return canonical(points, merge[triangles], labels)


def canonical(points: Floats, triangles: npt.NDArray[np.integer], labels: npt.NDArray[np.integer]) -> Mesh:
    """A closed mesh put in canonical order.

    Points at the very same place become one, unless that would let more than two faces meet in an edge.
    """
    used, corner = renumbered(triangles, len(points))
    points = points[used]
    ranked, place = distinct_rows(points)
    merged, merged_labels = drop_collapsed(place[corner], labels)
    if len(ranked) == len(points) or _edges_once(merged):
        turned, rows = _sorted_triangles(merged)
        labels = merged_labels[rows]
    else:
        order = _ordered_twins(place, corner)
        ranked = points[order]
        place[order] = np.arange(len(order))
        turned, rows = _sorted_triangles(place[corner])
        labels = labels[rows]
    return Mesh(np.ascontiguousarray(ranked), turned.astype(np.int32), labels.astype(np.int32))


def _ordered_twins(place: Longs, corner: Longs) -> Longs:
    """Points by place; several at one place by the triangles they carry, so that the kernel's order never
    shows.
    """
    count = np.bincount(place)
    twin = count[place] > 1
    stars: dict[int, list[tuple[int, ...]]] = {}
    for row in corner[twin[corner].any(axis=1)].tolist():
        for vertex in row:
            if twin[vertex]:
                stars.setdefault(vertex, []).append(tuple(sorted(int(place[other]) for other in row)))
    keys = [(int(at), sorted(stars.get(vertex, []))) for vertex, at in enumerate(place)]
    return np.array(sorted(range(len(place)), key=keys.__getitem__), dtype=np.int64)


def _sorted_triangles(corner: Longs) -> tuple[Longs, Longs]:
    start = corner.argmin(axis=1)[:, None]
    turned = np.take_along_axis(corner, (start + np.arange(3)) % 3, axis=1)
    span = int(turned.max()) + 1 if len(turned) else 1
    if span < 2_000_000:  # three numbers in one: sorted in a third of the time
        order = np.argsort((turned[:, 0] * span + turned[:, 1]) * span + turned[:, 2], kind="stable")
    else:
        order = np.lexsort(turned.T[::-1])
    return turned[order], order


def _edge_keys(corner: npt.NDArray[np.integer]) -> tuple[Longs, Longs]:
    """Directed edges as single numbers, and the same edges the other way."""
    a = corner.astype(np.int64).reshape(-1)
    b = np.roll(corner, -1, axis=1).astype(np.int64).reshape(-1)
    span = int(a.max()) + 1
    return a * span + b, b * span + a


def _edges_once(corner: npt.NDArray[np.integer]) -> bool:
    """True where every directed edge occurs once and its reverse occurs once."""
    there, back = _edge_keys(corner)
    there, back = np.sort(there), np.sort(back)
    return bool((there == back).all() and (np.diff(there) > 0).all())


def measure(mesh: Mesh) -> Figures:
    """Sizes, volume (divergence theorem, about the middle of the box), surface, closedness, pieces and genus.

    Shells are groups of faces that share no point; a piece is a shell that faces outwards (one that faces
    inwards is the wall of a closed hollow).  Genus is summed over shells: shells - (points - edges +
    triangles) / 2."""
    low, high = mesh.points.min(axis=0), mesh.points.max(axis=0)
    centred = mesh.points - (low + high) / 2
    a, b, c = (centred[mesh.triangles[:, k]] for k in range(3))
    normals = np.cross(b - a, c - a)
    shell = shells(len(mesh.points), mesh.triangles)[mesh.triangles[:, 0]]
    sixfold = np.einsum("ij,ij->i", a, normals)
    per_shell = np.bincount(shell, weights=sixfold)
    euler = len(mesh.points) - 3 * len(mesh.triangles) // 2 + len(mesh.triangles)
    return Figures(
        low=(float(low[0]), float(low[1]), float(low[2])),
        high=(float(high[0]), float(high[1]), float(high[2])),
        volume=float(sixfold.sum()) / 6,
        area=float(np.sqrt(np.einsum("ij,ij->i", normals, normals)).sum()) / 2,
        watertight=_edges_once(mesh.triangles),
        pieces=int((per_shell > 0).sum()),
        genus=int((np.bincount(shell) > 0).sum()) - euler // 2,
        triangles=len(mesh.triangles),
        hollows=int((per_shell < 0).sum()),
    )


def shells(size: int, triangles: Ints) -> Longs:
    """For every point the lowest point number within reach along edges (union-find, paths halved on the
    way).
    """
    lowest = np.arange(size, dtype=np.int64)
    a = np.concatenate([triangles[:, 0], triangles[:, 1]]).astype(np.int64)
    b = np.concatenate([triangles[:, 1], triangles[:, 2]]).astype(np.int64)
    while True:
        root_a, root_b = lowest[a], lowest[b]
        apart = root_a != root_b
        if not apart.any():
            return lowest
        a, b, root_a, root_b = a[apart], b[apart], root_a[apart], root_b[apart]
        np.minimum.at(lowest, np.maximum(root_a, root_b), np.minimum(root_a, root_b))
        while True:
            halved = lowest[lowest]
            if (halved == lowest).all():
                break
            lowest = halved


def single_precision_safe(mesh: Mesh) -> bool:
    """True where all points stay apart when rounded to single precision, as an STL file does."""
    single = mesh.points.astype(np.float32)
    order = np.lexsort(single.T[::-1])
    ranked = single[order]
    return bool((ranked[1:] != ranked[:-1]).any(axis=1).all())


def require_single_precision(mesh: Mesh) -> None:
    """Raise Trouble('too-fine-for-stl') where an STL file would let points of the mesh fall together."""
    if not single_precision_safe(mesh):
        raise Trouble(
            "too-fine-for-stl",
            "faces of this part come so close to each other that an STL file can't keep them apart",
            advice=("write 3MF instead, or let the faces overlap or part by a hundredth of a millimetre",),
        )
