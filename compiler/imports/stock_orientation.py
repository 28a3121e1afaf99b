"""How material from a file lies: on the side it is said to lie on, turned, its box at the origin."""

from __future__ import annotations

import math

import numpy as np
import numpy.typing as npt

from ..quantities.arrays import Floats
from ..quantities.vectors import Vector
from .types import FinishedPart, HeldThing, ImportedMesh, ImportedPart

GRID = 2e-6
"""Sizes of the box are multiples of this (mm), so that its middle and its sides are places that a solved page
can have.
"""
_LYING: dict[str, tuple[Vector, Vector, Vector]] = {
    "back": ((1, 0, 0), (0, 1, 0), (0, 0, 1)),
    "front": ((-1, 0, 0), (0, 1, 0), (0, 0, -1)),
    "left": ((0, 0, -1), (0, 1, 0), (1, 0, 0)),
    "right": ((0, 0, 1), (0, 1, 0), (-1, 0, 0)),
    "bottom": ((1, 0, 0), (0, 0, -1), (0, 1, 0)),
    "top": ((1, 0, 0), (0, 0, 1), (0, -1, 0)),
}
"""Rows of the turn that brings each side of a box to the back of the page."""
SIDES = ("left", "right", "bottom", "top", "back", "front")


def laid_down(finished: FinishedPart, lies_on: str, turned: float) -> FinishedPart:
    """The part lying on a side of its box, then turned anticlockwise by degrees, its box at the origin and
    its sizes on the grid.
    """
    turn = _turn(turned) @ np.array(_LYING[lies_on], dtype=np.float64)
    mesh, low, scale = _laid_mesh(finished.mesh, turn)
    upright = abs(turn[2, 2]) > 1.0 - 1e-9
    held = {}
    for name, thing in finished.part.held.items():
        x, y, z = ((turn @ np.array(thing.at) - low) * scale).tolist()
        ahead, up, out = (turn @ np.array(thing.axis)).tolist()
        across = thing.across if upright else 0.0
        held[name] = HeldThing((x, y, z), across, thing.kind, (ahead, up, out), thing.bored, thing.hole)
    return FinishedPart(ImportedPart(mesh.box, held, finished.part.wound), mesh)


def _laid_mesh(mesh: ImportedMesh, turn: Floats) -> tuple[ImportedMesh, Floats, Floats]:
    """The mesh turned, its faces named; the corner of its box that came to the origin, and how much its
    sizes (3,) were stretched to reach the grid.
    """
    points = mesh.points @ turn.T
    low, high = points.min(axis=0), points.max(axis=0)
    plain = np.maximum(high - low, GRID)
    box = np.round(np.round(plain / GRID) * GRID, 9)
    box = np.where(box > 0, box, GRID)
    scale = box / plain
    labels = mesh.labels if mesh.faces else _sides(points, mesh.triangles)
    laid = ImportedMesh(
        (float(box[0]), float(box[1]), float(box[2])),
        np.minimum((points - low) * scale, box),
        mesh.triangles,
        labels,
        mesh.faces or (*SIDES, ""),
        mesh.hollows,
        None if mesh.twin is None else _laid_mesh(mesh.twin, turn)[0],
    )
    return laid, low, scale


def _sides(points: Floats, triangles: npt.NDArray[np.int32]) -> npt.NDArray[np.int32]:
    """For each triangle the side of the box it lies in, as a number into `SIDES`; the number behind the last
    for the rest.
    """
    labels = np.full(len(triangles), len(SIDES), dtype=np.int32)
    corners = points[triangles]
    for number in range(len(SIDES)):
        axis, end = divmod(number, 2)
        edge = points[:, axis].max() if end else points[:, axis].min()
        labels[(corners[:, :, axis] == edge).all(axis=1)] = number
    return labels


def _turn(angle: float) -> Floats:
    """Turn anticlockwise by an angle in degrees; exact for quarter turns."""
    c, s = math.cos(math.radians(angle)), math.sin(math.radians(angle))
    if angle % 90.0 == 0.0:
        c, s = float(round(c)), float(round(s))
    return np.array([[c, -s, 0.0], [s, c, 0.0], [0.0, 0.0, 1.0]])
