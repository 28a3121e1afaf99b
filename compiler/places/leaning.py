"""Planes that lean: told by a height at each of two places, and the sloping flat of a body that tapers."""

from __future__ import annotations

import math

from ..diagnostics.types import Trouble
from ..quantities.vectors import XY, Vector, along, clean, cross, dot
from .layout import Frame

NEAREST = 1e-6


def leaning(frame: Frame, a: XY, b: XY, heights: tuple[float, float]) -> Frame:
    """The plane that lies `heights` (mm) over the plane of `frame` at a and b and is level square to that
    direction.

    It faces as that plane does, and its right or up runs as near to that plane's as can be.
    Trouble('left-open') where a and b are one place."""
    (a, first), (b, second) = sorted(((a, heights[0]), (b, heights[1])))
    heights, way = (first, second), (b[0] - a[0], b[1] - a[1])
    size = math.hypot(*way)
    if size < NEAREST:
        raise Trouble(
            "left-open",
            "both heights are read at one place, so which way it slopes is open",
            advice=("read them at two places well apart",),
        )
    none: Vector = (0.0, 0.0, 0.0)
    level = clean(along(none, (frame.right, way[0] / size), (frame.up, way[1] / size)))
    steep = math.hypot(size, heights[1] - heights[0])
    slope = clean(along(none, (level, size / steep), (frame.out, (heights[1] - heights[0]) / steep)))
    side = clean(cross(frame.out, level))
    origin = frame.point(a, heights[0])
    if abs(way[0]) >= abs(way[1]):
        sign = math.copysign(1.0, way[0])
        right, up = along(none, (slope, sign)), along(none, (side, sign))
    else:
        sign = math.copysign(1.0, way[1])
        right, up = along(none, (side, -sign)), along(none, (slope, sign))
    normal = clean(cross(right, up))
    return Frame(origin, clean(right), clean(up), normal)


def height_over(frame: Frame, plane: Frame, at: XY) -> float:
    """Height over the plane of `frame` at which a plane lies at (x, y)."""
    point = frame.point(at)
    away = tuple(plane.origin[k] - point[k] for k in range(3))
    return dot((away[0], away[1], away[2]), plane.out) / dot(frame.out, plane.out)
