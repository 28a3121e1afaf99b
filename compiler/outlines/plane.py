"""Small sums in the plane that every file of this room leans on.  Points are (x, y) in mm, angles in
radians.
"""

from __future__ import annotations

import math

from ..quantities.vectors import XY
from .types import Bend, Edge, Path, Straight

TINY = 1e-9
"""Edges shorter than this (mm) are left out of a path; it is far below anything a printer can show."""


def add(a: XY, b: XY, times: float = 1.0) -> XY:
    """The point a + times * b."""
    return (a[0] + times * b[0], a[1] + times * b[1])


def sub(a: XY, b: XY) -> XY:
    """The vector from b to a."""
    return (a[0] - b[0], a[1] - b[1])


def dot(a: XY, b: XY) -> float:
    """Scalar product."""
    return a[0] * b[0] + a[1] * b[1]


def cross(a: XY, b: XY) -> float:
    """Signed area of the parallelogram of a and b: positive where b lies to the left of a."""
    return a[0] * b[1] - a[1] * b[0]


def left(a: XY) -> XY:
    """The vector turned a quarter to the left."""
    return (-a[1], a[0])


def length(a: XY) -> float:
    """Length of a vector."""
    return math.hypot(a[0], a[1])


def unit(a: XY) -> XY:
    """The vector made one long; (0, 0) stays."""
    size = length(a)
    return (a[0] / size, a[1] / size) if size > 0.0 else (0.0, 0.0)


def apart(a: XY, b: XY) -> float:
    """Distance of two points."""
    return math.hypot(a[0] - b[0], a[1] - b[1])


def angle_of(a: XY) -> float:
    """Direction of a vector, from -pi to pi."""
    return math.atan2(a[1], a[0])


def at_angle(centre: XY, radius: float, angle: float) -> XY:
    """The point of a circle in the given direction from its centre."""
    return (centre[0] + radius * math.cos(angle), centre[1] + radius * math.sin(angle))


def sweep_between(centre: XY, start: XY, end: XY, sense: int) -> float:
    """The turn from start to end about the centre in one sense (+1 anticlockwise), less than a whole turn.

    A turn that rounding alone makes just under a whole one is none at all: the ends are the same point.
    """
    turn = (sense * (angle_of(sub(end, centre)) - angle_of(sub(start, centre)))) % math.tau
    return 0.0 if turn > math.tau - 1e-9 else sense * turn


def heading(edge: Edge, end: bool) -> XY:
    """Unit direction of travel at the start of an edge, or at its end."""
    if isinstance(edge, Straight):
        return unit(sub(edge.end, edge.start))
    spoke = unit(sub(edge.end if end else edge.start, edge.centre))
    return left(spoke) if edge.sweep > 0.0 else (spoke[1], -spoke[0])


def edge_length(edge: Edge) -> float:
    """Length along an edge in mm."""
    return apart(edge.start, edge.end) if isinstance(edge, Straight) else edge.radius * abs(edge.sweep)


def path_area(path: Path) -> float:
    """Exact area of a closed path in mm2, positive where it runs anticlockwise.

    Shoelace sum of the chords plus r2 (sweep - sin sweep) / 2 for each arc (area of a circular segment).
    """
    twice = 0.0
    for edge in path:
        twice += cross(sub(edge.start, path[0].start), sub(edge.end, path[0].start))
        if isinstance(edge, Bend):
            twice += edge.radius**2 * (edge.sweep - math.sin(edge.sweep))
    return twice / 2.0


def backwards(path: Path) -> Path:
    """The same path walked the other way."""
    return tuple(_turned(edge) for edge in reversed(path))


def _turned(edge: Edge) -> Edge:
    if isinstance(edge, Straight):
        return Straight(edge.end, edge.start, edge.label)
    return Bend(edge.centre, edge.radius, edge.end, edge.start, -edge.sweep, edge.label)
