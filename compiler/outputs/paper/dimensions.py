"""Distances that several kinds of things are dimensioned by: how far a body reaches out of its plane."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from ...mesh.types import Mesh
from ...model import Body, Size
from ...quantities.vectors import Vector, along, dot
from .amounts import amount
from .types import Dimension
from .views import Scene


def corners(scene: Scene, name: str, out: Vector, mesh: Mesh) -> list[Vector]:
    """The outermost points of a statement's faces across `out`: right, left, top, bottom, front, back of the
    part.
    """
    labels = [i for i, (owner, _) in enumerate(scene.part.faces) if owner == name]
    used = np.unique(mesh.triangles[np.isin(mesh.labels, labels)].ravel())
    if not len(used):
        return []
    points = mesh.points[used]
    found: list[Vector] = []
    for axis, sign in ((0, 1), (0, -1), (1, 1), (1, -1), (2, 1), (2, -1)):
        if abs(out[axis]) < 0.9:
            x, y, z = points[int(np.argmax(sign * points[:, axis]))].tolist()
            found.append((x, y, z))
    return found


def height(scene: Scene, body: Body, told: Size | None) -> Iterator[Dimension]:
    """How far a body reaches out of its plane, at the outermost points of its own faces; nothing where that
    was not told.
    """
    if told is None:
        return
    out, size = scene.out(body), amount(told)
    floor = scene.place(body.frame, (0.0, 0.0), body.low)
    pairs = []
    for corner in corners(scene, body.name, out, scene.part.mesh):
        foot = along(corner, (out, -dot(out, along(corner, (floor, -1.0)))))
        pairs.append((foot, along(foot, (out, body.high - body.low))))
    if pairs:
        yield Dimension(body.name, tuple(pairs), size.text(), size.value, None, out, body.name)
