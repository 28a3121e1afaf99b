"""Material in the inside corner of two flats: a straight gusset or a hollow fillet."""

from __future__ import annotations

from math import acos, atan2, ceil, cos, hypot, pi

import numpy as np
from msgspec import Struct

from ..diagnostics.types import Trouble
from ..outlines.types import Region, Ring
from ..quantities.arrays import Floats
from ..quantities.vectors import Vector
from .combine import place
from .kernel import Solid
from .prisms import prism


class InsideCorner(Struct, frozen=True):
    """Where two flats meet: the line through `point` along `edge`, from `start` to `stop` mm; `first` and
    `second` are directions in the flats, away from the edge and square to it.
    """

    point: Vector
    edge: Vector
    first: Vector
    second: Vector
    start: float
    stop: float


class FillSection(Struct, frozen=True):
    """What fills a corner, across its edge: how far (mm) it reaches along each of the flats.

    Straight: a triangle.  `hollow`: a fillet tangent to both flats, both reaches its radius; the tangent
    points lie r / tan(half the angle between the flats) from the edge.  `behind`: how far (mm) a straight one
    reaches behind each of the flats along all of its reach, where the flat only touches a round body."""

    reach_a: float
    reach_b: float
    hollow: bool = False
    behind: tuple[float, float] = (0.0, 0.0)


def corner_fill(corner: InsideCorner, section: FillSection, label: int, chord: float = 0.01) -> Solid:
    """The material that fills a corner.

    The facets of a hollow touch the true round from the material's side, so a gauge of the true radius sits
    in it.  Section of a fillet: r^2 (1 / tan(angle / 2) - (pi - angle) / 2), (1 - pi / 4) r^2 when
    square.  Raises Trouble: 'flat-corner', 'no-thickness', 'uneven-fillet'; ValueError where the directions
    are not square to the edge."""
    ways = (corner.edge, corner.first, corner.second)
    along, first, second = (_unit(np.array(way, dtype=np.float64)) for way in ways)
    if max(abs(along @ first), abs(along @ second)) > 1e-6:
        raise ValueError("both directions must be square to the edge")
    first = _unit(first - (first @ along) * along)
    reach_a, reach_b, start, stop = section.reach_a, section.reach_b, corner.start, corner.stop
    if not (reach_a > 0 and reach_b > 0 and stop > start):
        raise Trouble("no-thickness", "a corner fill needs a reach along both flats and a length")
    across = np.cross(along, first)
    if across @ second < 0:  # the section is drawn with b anticlockwise from a; turn the edge round otherwise
        along, across, start, stop = -along, -across, -stop, -start
    b = _unit(np.array([first @ second, across @ second]))
    if b[1] < 1e-3:
        raise Trouble("flat-corner", "these two flats don't make a corner that could be filled")
    points = (
        _hollow(b, reach_a, reach_b, chord)
        if section.hollow
        else _triangle(b, reach_a, reach_b, section.behind)
    )
    ring = Ring(points, np.full(len(points), label, dtype=np.int32))
    frame = np.column_stack([first, across, along])
    return place(prism(Region((ring,)), start, stop, label, label), corner.point, frame)


def hollow_section(radius: float, chord: float) -> Floats:
    """The section (n, 2) of a fillet in a square corner: the corner, then its hollow from the first flat to
    the second.
    """
    return _hollow(np.array([0.0, 1.0]), radius, radius, chord)


def _triangle(b: Floats, reach_a: float, reach_b: float, behind: tuple[float, float]) -> Floats:
    """The corner and the ends along both flats; behind the first flat (y < 0) or the second a strip of the
    reach's length.
    """
    low, far = behind[0], behind[1] / float(b[1])
    square = np.array([b[1], -b[0]])  # from the second flat towards its back side is against this
    corner = -low / float(b[1]) * b - np.array([far, 0.0])
    points = [corner, [reach_a, -low], [reach_a, 0.0], reach_b * b, reach_b * b - behind[1] * square]
    kept = [np.asarray(one, dtype=np.float64) for one in points]
    return np.array(
        [one for k, one in enumerate(kept) if k == 0 or float(np.abs(one - kept[k - 1]).max()) > 0.0]
    )


def _hollow(b: Floats, radius: float, other: float, chord: float) -> Floats:
    """The corner, then the meeting points of lines tangent to the round, the first and last of them on the
    flats.
    """
    if abs(radius - other) > 1e-9:
        raise Trouble("uneven-fillet", "a hollow fillet has one radius; give the same for both flats")
    sweep = pi - atan2(b[1], b[0])
    n = max(3, ceil(sweep / (2 * acos(1 / (1 + chord / radius)))))
    step, touch = sweep / n, radius * (1 + b[0]) / b[1]  # 1 / tan(half) = (1 + cos) / sin
    points = [[0.0, 0.0]]
    for k in range(n):
        # the round's centre is (touch, radius); it touches flat a straight below itself and is walked
        # clockwise
        turn = -pi / 2 - (k + 0.5) * step
        far = radius / cos(step / 2)
        points.append([touch + far * cos(turn), radius + far * cos(turn - pi / 2)])
    points[1][1] = 0.0
    section = np.array(points)
    section[-1] = hypot(*points[-1]) * b  # both ends exactly on their flats
    return section


def _unit(v: Floats) -> Floats:
    length = float(np.sqrt(v @ v))
    if not length > 0:
        raise ValueError("a direction needs a length")
    return np.asarray(v / length)
