"""A snap arm: its side profile, drawn once and pulled to its width."""

from __future__ import annotations

import contextlib
import math
from collections.abc import Iterator

import numpy as np

from ...diagnostics.types import Diagnostic, Severity, Trouble
from ...mesh.combine import join, overlap, place
from ...mesh.kernel import Solid
from ...mesh.prisms import prism
from ...mesh.workshop import Workshop
from ...model import Body
from ...outlines import Path, Region, canonical, facet
from ...outlines.marks import Marks
from ...outlines.types import Bend, Edge, Ring, Straight
from ...places.layout import Frame, Spot
from ...quantities.vectors import XY, Vector, along, clean, cross
from .model import Arm
from .sizes import ArmSizes as Sizes

ON_FLAT = 1e-9  # mm
UNDER = 0.05
"""A foot's fillet stands on a flat where material is found this far (mm) below it."""


def build(shop: Workshop, body: Arm) -> Solid:
    """The arm in space, standing at its spot."""
    return arm_solid(
        body.sizes, body.name, (body.frame, body.placed), shop.marks, shop.chord, _feet(shop, body)
    )


def told(shop: Workshop, body: Arm) -> Iterator[Diagnostic]:
    """A note where the fillet of its foot had to be made smaller than it was asked for."""
    asked, fillet = body.sizes.fillet, body.fillet
    radii = _feet(shop, body) if fillet is not None else ()
    if fillet is None or min(radii) >= asked:
        return
    sides = zip(("before", "behind"), radii, strict=True)
    where = " and ".join(f"{side} it" for side, radius in sides if radius < asked)
    left = " and ".join(f"{radius:.4g}" for radius in radii if radius < asked)
    yield Diagnostic(
        "flat-too-short",
        Severity.NOTE,
        f"the fillet of arm `{body.name}` is made {left} {where}: the flat it stands on ends there",
        fillet.span,
        advice=("the root is where an arm breaks: more flat there if there is room",),
    )


def _feet(shop: Workshop, body: Arm) -> tuple[float, float]:
    return (_room(shop, body, 1.0), _room(shop, body, -1.0)) if body.sizes.fillet else (0.0, 0.0)


def _room(shop: Workshop, body: Arm, way: float) -> float:
    """The radius of the foot's fillet on the side of the nose (way 1) or behind (-1): as much as there is
    flat to stand on, or it would hang in the air."""
    arm = body.sizes
    start = 0.5 * arm.thick * way
    ends = sorted((start, start + arm.fillet * way))
    points = np.array([(ends[0], -UNDER), (ends[1], -UNDER), (ends[1], 0.0), (ends[0], 0.0)])
    strip = _placed(arm, canonical([Ring(points, np.zeros(4, dtype=np.int32))]), body.frame, body.placed, 0)
    hosts = list(_hosts(shop))  # joined: two that lie in one place hold the foot once
    share = overlap(strip, join(hosts)) / strip.volume() if hosts else 0.0
    return arm.fillet * (1.0 if share > 0.999 else share if share > 0.001 else 0.0)


def _hosts(shop: Workshop) -> Iterator[Solid]:
    """All that an arm may stand on; what can't be built is answered where it stands."""
    for body in shop.model.of(Body):
        if body.stood_on:
            with contextlib.suppress(Trouble):
                yield shop.solid(body.name)


def arm_profile(arm: Sizes, side: int, nose: int, fillet: int, feet: tuple[float, float]) -> Path:
    """The outline of an arm seen from the side, anticlockwise: x towards the nose, y out of the flat; labels
    of its faces.

    The side of the nose stands square to the flat, a taper is taken off the other.  The fillet (both sides of
    the foot, across the width, their radii `feet` in mm) is hollow and touches the flat and the arm."""
    near, far, top = 0.5 * arm.thick, -0.5 * arm.thick, arm.high
    shoulder, peak = (near, arm.long), (near + arm.nose, arm.peak)
    back, foot = (near - arm.tip, arm.long), (far, 0.0)
    right, left = _foot((near, 0.0), feet[0], fillet), _left_foot(foot, back, feet[1], fillet)
    corners: list[tuple[XY, int]] = [
        (right[1], side),
        (shoulder, nose),
        (peak, nose),
        ((near, top), side),
        ((near - arm.tip, top), side),
        (back, side),
    ]
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


def _foot(corner: XY, radius: float, label: int) -> tuple[XY, XY, list[Edge]]:
    """Where the right foot leaves the flat, where it meets the arm, and the hollow between."""
    if not radius:
        return corner, corner, []
    flat, wall = (corner[0] + radius, 0.0), (corner[0], radius)
    return flat, wall, [Bend((corner[0] + radius, radius), radius, flat, wall, -0.5 * math.pi, label)]


def _left_foot(corner: XY, top: XY, radius: float, label: int) -> tuple[XY, XY, list[Edge]]:
    """Where the left foot leaves the arm, where it meets the flat, and the hollow between; the arm may
    lean.
    """
    if not radius:
        return corner, corner, []
    way = (top[0] - corner[0], top[1] - corner[1])
    size = math.hypot(*way)
    open_by = math.pi - math.atan2(way[1], way[0])  # angle of the corner outside the arm
    touch = radius / math.tan(0.5 * open_by)
    wall = (corner[0] + way[0] / size * touch, way[1] / size * touch)
    flat = (corner[0] - touch, 0.0)
    return wall, flat, [Bend((corner[0] - touch, radius), radius, wall, flat, open_by - math.pi, label)]


def arm_solid(
    arm: Sizes, name: str, at: tuple[Frame, Spot], marks: Marks, chord: float, feet: tuple[float, float]
) -> Solid:
    """The arm in space, standing at a spot of a frame (`at`)."""
    labels = [marks.of(name, detail) for detail in ("side", "nose", "fillet", "end")]
    ring = facet(arm_profile(arm, labels[0], labels[1], labels[2], feet), chord)
    # the facet of a hollow that touches the flat must lie in it, or the arm hangs a rounding error above it
    points = np.where(np.abs(ring.points) < ON_FLAT, ring.points * np.array([1.0, 0.0]), ring.points)
    return _placed(arm, canonical([Ring(points, ring.labels)]), *at, labels[3])


def _placed(arm: Sizes, region: Region, frame: Frame, spot: Spot, label: int) -> Solid:
    """A profile pulled to the arm's width, as it stands at its spot."""
    solid = prism(region, -0.5 * arm.wide, 0.5 * arm.wide, label, label)
    none: Vector = (0.0, 0.0, 0.0)
    forwards = clean(along(none, (frame.right, arm.facing[0]), (frame.up, arm.facing[1])))
    out = clean(along(none, (frame.out, float(spot.out))))
    axes = np.array([forwards, out, cross(forwards, out)], dtype=np.float64).T.copy()
    return place(solid, frame.point(spot.at, spot.base), axes)
