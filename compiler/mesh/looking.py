"""A finished mesh looked at: the shadow it throws, and what is left of it behind a cut."""

from __future__ import annotations

import numpy as np

from ..diagnostics.types import Trouble
from ..quantities.arrays import Floats
from ..quantities.vectors import Vector
from .combine import trim
from .finish import finish
from .kernel import Solid, from_arrays
from .types import Mesh

PLACES = 6


def shadow(mesh: Mesh, right: Vector, up: Vector, out: Vector) -> list[Floats]:
    """Outline of the mesh seen against `out` (unit vectors, right-handed): rings (n, 2) of (right, up) in mm.

    Outer rings run anticlockwise, openings clockwise; the same rings in the same order on every run.
    """
    turned = mesh.points @ np.array([right, up, out], dtype=np.float64).T
    rings = []
    for polygon in from_arrays(turned, mesh.triangles, mesh.labels).project().to_polygons():
        points = np.round(np.asarray(polygon, dtype=np.float64), PLACES) + 0.0
        start = int(np.lexsort(points.T[::-1])[0])
        rings.append(np.roll(points, -start, axis=0))
    return sorted(rings, key=lambda ring: (*ring[0].tolist(), len(ring)))


def opened(mesh: Mesh, point: Vector, normal: Vector, label: int) -> Mesh | None:
    """The mesh without all that lies beyond a plane on the side of `normal`; the cut face carries `label`.

    None where nothing is left.
    """
    solid: Solid = from_arrays(mesh.points, mesh.triangles, mesh.labels)
    try:
        return finish(trim(solid, point, normal, label))
    except Trouble:
        return None
