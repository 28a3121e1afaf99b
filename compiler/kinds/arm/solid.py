"""A snap arm: its side profile, drawn once and pulled to its width."""

from __future__ import annotations

import math

import numpy as np

from ...facts import Entry
from ...positions.layout import Frame, Spot, Vector, along, clean, cross
from ...profiles import Path, canonical, facet
from ...profiles.marks import Marks
from ...profiles.types import XY, Bend, Edge, Ring, Straight
from ...solids.bodies import Bodies
from ...solids.combine import place
from ...solids.kernel import Solid
from ...solids.prisms import prism
from .sizes import Arm, arm_of

ON_FLAT = 1e-9  # mm


def build(bodies: Bodies, entry: Entry) -> Solid:
    """The arm in space, standing at its spot."""
    return arm_solid(arm_of(entry), entry.name, bodies.frame(entry.name), bodies.spot(entry), bodies.marks, bodies.chord)


def arm_profile(arm: Arm, side: int, nose: int, fillet: int) -> Path:
    """The outline of an arm seen from the side, anticlockwise: x towards the nose, y out of the flat; labels of its faces.

    The side of the nose stands square to the flat, a taper is taken off the other.  The fillet (both sides of the foot, across
    the width) is hollow and touches the flat and the arm.
    """
    near, far, top = 0.5 * arm.thick, -0.5 * arm.thick, arm.high
    shoulder, peak = (near, arm.long), (near + arm.nose, arm.peak)
    back, foot = (near - arm.tip, arm.long), (far, 0.0)
    right, left = _foot((near, 0.0), (0.0, 1.0), arm.fillet, fillet), _left_foot(foot, back, arm.fillet, fillet)
    corners: list[tuple[XY, int]] = [
        (right[1], side), (shoulder, nose), (peak, nose), ((near, top), side), ((near - arm.tip, top), side), (back, side),
    ]  # fmt: skip
    if arm.tip == arm.thick:
        corners.pop()
    path: list[Edge] = []
    ends = [*[at for at, _ in corners[1:]], left[0]]
    path += [Straight(at, end, label) for (at, label), end in zip(corners, ends, strict=True)]
    start = right[0]
    path += left[2]
    path.append(Straight(left[1], start, side))
    path += right[2]
    return tuple(path)


def _foot(corner: XY, up: XY, radius: float, label: int) -> tuple[XY, XY, list[Edge]]:
    """Where the right foot leaves the flat, where it meets the arm, and the hollow between."""
    if not radius:
        return corner, corner, []
    flat, wall = (corner[0] + radius, 0.0), (corner[0], radius)
    return flat, wall, [Bend((corner[0] + radius, radius), radius, flat, wall, -0.5 * math.pi, label)]


def _left_foot(corner: XY, top: XY, radius: float, label: int) -> tuple[XY, XY, list[Edge]]:
    """Where the left foot leaves the arm, where it meets the flat, and the hollow between; the arm may lean."""
    if not radius:
        return corner, corner, []
    way = (top[0] - corner[0], top[1] - corner[1])
    size = math.hypot(*way)
    open_by = math.pi - math.atan2(way[1], way[0])  # angle of the corner outside the arm
    touch = radius / math.tan(0.5 * open_by)
    wall = (corner[0] + way[0] / size * touch, way[1] / size * touch)
    flat = (corner[0] - touch, 0.0)
    return wall, flat, [Bend((corner[0] - touch, radius), radius, wall, flat, open_by - math.pi, label)]


def arm_solid(arm: Arm, name: str, frame: Frame, spot: Spot, marks: Marks, chord: float) -> Solid:
    """The arm in space, standing at its spot."""
    labels = [marks.of(name, detail) for detail in ("side", "nose", "fillet", "end")]
    ring = facet(arm_profile(arm, labels[0], labels[1], labels[2]), chord)
    # the facet of a hollow that touches the flat must lie in it, or the arm hangs a rounding error above it
    points = np.where(np.abs(ring.points) < ON_FLAT, ring.points * np.array([1.0, 0.0]), ring.points)
    region = canonical([Ring(points, ring.labels)])
    solid = prism(region, -0.5 * arm.wide, 0.5 * arm.wide, labels[3], labels[3])
    none: Vector = (0.0, 0.0, 0.0)
    forwards = clean(along(none, (frame.right, arm.facing[0]), (frame.up, arm.facing[1])))
    out = clean(along(none, (frame.out, float(spot.out))))
    axes = np.array([forwards, out, cross(forwards, out)], dtype=np.float64).T.copy()
    return place(solid, frame.point(spot.at, spot.base), axes)
