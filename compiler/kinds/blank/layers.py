"""Zones of a mesh that was brought in: what is seen of it from one side, moved towards the one who looks or
away.

Problem: a scanned flat is hardly ever flat, so a zone can't be a pad of one height; and what lies behind (the
floor of a hollow, the inside of a cup) is not to move with it.  Choice: the *shade*, all that lies in or
behind the seen surface, found by building each connected patch of facets that face the viewer down to a
floor; its upper facets are what is seen. These, built up by mm, are the layer to join; what sticks out of the
shade lowered is cut.  A ramp raises them less and less: along each edge of a zone's part (these are convex) a
strip of them is sheared.  Rejected: a prism for each facet (thousands of solids where a patch is one);
sweeping the whole solid (its inner floors would rise too).

Here the viewer looks down z."""

from __future__ import annotations

import numpy as np

from ...mesh.combine import block, common, join, remove
from ...mesh.finish import finish, shells
from ...mesh.insets import inset_closing
from ...mesh.kernel import Solid, flat_union_area, from_arrays
from ...mesh.prisms import cleaned, drawn_in, prism
from ...outlines.types import Region, Ring
from ...quantities.arrays import Floats, Longs

EDGE_ON = 1e-9
"""Facets are seen edge-on, and not at all, where the z of their unit normal is less."""
ROOT = 1e-3
"""A layer reaches this far (mm) below the seen surface, so that it never merely lies on it."""
HAIR = 1e-4
"""The strips of a ramp overlap by about this (mm), and none rises higher than the zone itself."""
FAR = 1e3
ALONE = 1e-5
"""Facets of one patch hide none of each other where their areas add up to the area of all within this
(mm2).
"""


def raised(solid: Solid, part: Region, by: float, ramp: float, label: int) -> Solid:
    """The layer that thickens a solid by mm over a convex region, running out over `ramp` mm round it."""
    low, high = _heights(solid)
    part = cleaned(part)
    ramp = ramp if ramp >= 100.0 * HAIR else 0.0
    shade = _shade(solid, _moved_out(part, ramp), low - 2.0, label)
    straight = np.eye(3, 4)
    straight[2, 3] = by
    cells = [(_moved_out(part, 4.0 * HAIR if ramp else 0.0), straight), *_slopes(part, ramp, by)]
    found = []
    for cell, slope in cells:
        cut = common(shade, prism(cell, low - 3.0, high + 1.0, label, label))
        found += _layers(cut, slope[2], high + 1.0, label)
    return join(found) if found else Solid()


def lowered(solid: Solid, part: Region, by: float, ramp: float, label: int) -> Solid:
    """What is to be cut of a solid so that its seen surface lies lower by mm there, and all that stands on
    it.
    """
    low, high = _heights(solid)
    part = cleaned(part)
    ramp = ramp if ramp >= 100.0 * HAIR else 0.0
    shade = _shade(solid, _moved_out(part, ramp), low - by - 2.0, label)
    floor, top = low - by - 0.5, high + FAR
    whole = _moved_out(part, 4.0 * HAIR if ramp else 0.0)
    found = [remove(prism(whole, floor, top, label, label), [shade.translate((0.0, 0.0, -by))])]
    for cell, slope in _slopes(part, ramp, -by):
        near = common(
            shade, block((*_corner(cell, -1.0), low - by - 3.0), (*_corner(cell, 1.0), high + 1.0), label)
        )
        found.append(remove(prism(cell, floor, top, label, label), [near.transform(slope)]))
    return join(found)


def filled(solid: Solid, part: Region, top: float, label: int) -> Solid:
    """What fills the room over the seen surface up to a height (mm); nothing where it is higher already."""
    low, high = _heights(solid)
    shade = _shade(solid, part, low - 2.0, label)
    below = min(top, high + 1.0)
    cut = common(shade, prism(cleaned(part), low - 3.0, below, label, label)) if below > low else Solid()
    found = _layers(cut, np.array([0.0, 0.0, 0.0, top]), below, label)
    return join(found) if found else Solid()


def _layers(shade: Solid, rise: Floats, below: float, label: int) -> list[Solid]:
    """What stands on the surface of a shade as far as it lies below a height: up to z = rise @ (x, y, z,
    1).
    """
    if shade.is_empty():
        return []
    mesh = finish(shade)
    seen = _seen(mesh.points, mesh.triangles.astype(np.int64))
    seen = seen[(mesh.points[seen][:, :, 2] < below - EDGE_ON).any(axis=1)]
    upper, lower = mesh.points.copy(), mesh.points.copy()
    upper[:, 2] = mesh.points @ rise[:3] + rise[3]
    lower[:, 2] -= ROOT
    return [_between(upper, lower, patch, label) for patch in _connected(mesh.points, seen)]


def _heights(solid: Solid) -> tuple[float, float]:
    box = solid.bounding_box()
    return box[2], box[5]


def _moved_out(part: Region, by: float) -> Region:
    return drawn_in(part, -by, inset_closing, "ramp-too-long") if by else part


def _slopes(part: Region, ramp: float, by: float) -> list[tuple[Region, Floats]]:
    """For each edge of a convex ring the strip of the ramp outside it and the shear (3, 4) that raises by mm
    on the edge and by nothing `ramp` away from it.  Strips begin two hairs outside the edge and are a hair
    larger all round."""
    if not ramp:
        return []
    points, below = part.rings[0].points, _moved_out(part, ramp).rings[0].points
    inner = points + (below - points) * (2.0 * HAIR / ramp)
    along = np.roll(points, -1, axis=0) - points
    out = np.column_stack([along[:, 1], -along[:, 0]]) / np.hypot(along[:, 0], along[:, 1])[:, None]
    found = []
    for k, (x, y) in enumerate(out.tolist()):
        after = (k + 1) % len(points)
        quad = Ring(np.array([inner[k], below[k], below[after], inner[after]]), np.zeros(4, dtype=np.int32))
        matrix = np.eye(3, 4)
        matrix[2] = (
            -by / ramp * x,
            -by / ramp * y,
            1.0,
            by + by / ramp * (x * points[k, 0] + y * points[k, 1]),
        )
        found.append((_moved_out(Region((quad,)), HAIR), matrix))
    return found


def _corner(cell: Region, end: float) -> tuple[float, float]:
    """The lower (end -1) or upper (1) corner of the box of a strip, 1 mm outside it."""
    points = cell.rings[0].points
    x, y = ((points.min(axis=0) if end < 0 else points.max(axis=0)) + end).tolist()
    return x, y


def _shade(solid: Solid, foot: Region, floor: float, label: int) -> Solid:
    """All in or behind the seen surface round a region, down to a floor, on which it stands."""
    low, high = _heights(solid)
    points = foot.rings[0].points
    (left, bottom), (right, top) = (points.min(axis=0) - 1.0).tolist(), (points.max(axis=0) + 1.0).tolist()
    cut = common(solid, block((left, bottom, low - 1.0), (right, top, high + 1.0), label))
    if cut.is_empty():
        return cut
    mesh = finish(cut)
    triangles = mesh.triangles.astype(np.int64)
    body = from_arrays(mesh.points, triangles, np.full(len(triangles), label))
    seen = _seen(mesh.points, triangles)
    down = mesh.points.copy()
    down[:, 2] = floor
    patches = [patch for one in _connected(mesh.points, seen) for patch in _each_alone(mesh.points, one)]
    return join([body, *(_between(mesh.points, down, patch, label) for patch in patches)])


def _seen(points: Floats, triangles: Longs) -> Longs:
    """The facets that face up."""
    a, b, c = (points[triangles[:, k]] for k in range(3))
    normals = np.cross(b - a, c - a)
    found: Longs = triangles[normals[:, 2] > EDGE_ON * np.sqrt(np.einsum("ij,ij->i", normals, normals))]
    return found


def _connected(points: Floats, triangles: Longs) -> list[Longs]:
    """Facets grouped by what hangs together, in the order of their first points."""
    if not len(triangles):
        return []
    group = shells(len(points), triangles.astype(np.int32))[triangles[:, 0]]
    order = np.argsort(group, kind="stable")
    return np.split(triangles[order], np.flatnonzero(np.diff(group[order])) + 1)


def _each_alone(points: Floats, triangles: Longs) -> list[Longs]:
    """A patch in as few pieces as it takes until no facet hides another of the same piece."""
    waiting, found = [triangles], []
    while waiting:
        patch = waiting.pop()
        flat = points[patch][:, :, :2]
        one, two = flat[:, 1] - flat[:, 0], flat[:, 2] - flat[:, 0]
        area = 0.5 * float((one[:, 0] * two[:, 1] - one[:, 1] * two[:, 0]).sum())
        if len(patch) == 1 or area - flat_union_area(list(flat)) <= ALONE:
            found.append(patch)
            continue
        middle = points[patch].mean(axis=1)
        axis = int(np.argmax(middle.max(axis=0) - middle.min(axis=0)))
        order = np.argsort(middle[:, axis], kind="stable")
        waiting += [patch[order[: len(order) // 2]], patch[order[len(order) // 2 :]]]
    return found


def _between(upper: Floats, lower: Floats, patch: Longs, label: int) -> Solid:
    """A patch of facets thickened: its facets above, the same facing down below, and walls under its rim."""
    there = np.stack([patch, np.roll(patch, -1, axis=1)], axis=2).reshape(-1, 2)
    size = len(upper)
    rim = there[~np.isin(there[:, 0] * size + there[:, 1], there[:, 1] * size + there[:, 0])]
    start, stop = rim[:, 0], rim[:, 1]
    walls = [np.column_stack([start, start + size, stop]), np.column_stack([stop, start + size, stop + size])]
    triangles = np.concatenate([patch, patch[:, ::-1] + size, *walls])
    return from_arrays(np.concatenate([upper, lower]), triangles, np.full(len(triangles), label))
