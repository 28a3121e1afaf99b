"""Where two neighbouring stops of a walk meet.

One formula serves points, convex and hollow rounds alike.  Walk with the material on the left and give each
round a signed radius: positive where the walk goes anticlockwise about it (centre on the left), negative
round a hollow, zero for a point.  A directed line with left normal n that touches both satisfies n.(c2 - c1)
= rho2 - rho1, so with d the distance of the centres the line is turned from them by the angle whose sine is
(rho1 - rho2) / d.  The same formula gives outer tangents between like rounds and the crossing tangent between
a convex round and a hollow one."""

from __future__ import annotations

import math

from msgspec import Struct

from ..diagnostics.types import Trouble
from ..quantities.vectors import XY
from .plane import add, apart, cross, dot, left, length, sub, unit
from .stops import ArcStop, Corner, LineStop, PointStop, RoundStop
from .types import Bend, Edge, Straight

ON_LINE = 1e-6
TANGENT = 1e-3


class Joint(Struct, frozen=True):
    """How a walk leaves one stop and comes to the next: the two places, and the edge between them if they
    differ.
    """

    leave: XY
    reach: XY
    edge: Edge | None = None


def joints(a: Corner, b: Corner, arc: ArcStop | None, label: int) -> tuple[Joint, ...]:
    """The ways from stop a to stop b: one, or the two crossings of a line that runs into a round.

    `arc` lies between them if given; other straight edges get `label`.  Raises Trouble `no-tangent`,
    `line-misses` or `no-arc`."""
    if arc is not None:
        if not (isinstance(a, PointStop) and isinstance(b, PointStop)):
            raise Trouble(
                "no-arc",
                f"{arc.name} must stand between two points; here it is between {a.name} and {b.name}",
                (arc.name, a.name, b.name),
            )
        return (Joint(a.at, b.at, arc_between(a.at, b.at, arc)),)
    if isinstance(a, LineStop):
        return tuple(Joint(q, q) for q in _on_line(a, b))
    if isinstance(b, LineStop):
        return tuple(Joint(q, q) for q in _on_line(b, a))
    return (_tangent(a, b, label),)


def _signed(stop: PointStop | RoundStop) -> tuple[XY, float]:
    if isinstance(stop, PointStop):
        return stop.at, 0.0
    return stop.centre, -stop.radius if stop.hollow else stop.radius


def _tangent(a: PointStop | RoundStop, b: PointStop | RoundStop, label: int) -> Joint:
    (c1, rho1), (c2, rho2) = _signed(a), _signed(b)
    distance = apart(c1, c2)
    if abs(rho1 - rho2) > distance + ON_LINE:
        raise Trouble("no-tangent", _why_no_tangent(a, b), (a.name, b.name), (c1, c2))
    if distance <= ON_LINE:
        if max(abs(rho1), abs(rho2)) > ON_LINE:
            raise Trouble(
                "no-tangent", f"{a.name} and {b.name} are the same round, twice in a row", (a.name, b.name)
            )
        return Joint(c1, c2)
    sine = min(1.0, max(-1.0, (rho1 - rho2) / distance))
    cosine = math.sqrt((1.0 - sine) * (1.0 + sine))
    w = unit(sub(c2, c1))
    n = add((-sine * w[0], -sine * w[1]), left(w), cosine)
    leave, reach = add(c1, n, -rho1), add(c2, n, -rho2)
    return Joint(leave, reach, Straight(leave, reach, label))


def _why_no_tangent(a: PointStop | RoundStop, b: PointStop | RoundStop) -> str:
    if isinstance(b, PointStop):
        a, b = b, a
    if isinstance(a, PointStop):
        return f"{a.name} lies inside {b.name}, so no straight edge can run from it along the round"
    if isinstance(b, RoundStop) and a.hollow != b.hollow:
        return f"{a.name} and {b.name} overlap, so no straight edge can cross over from one to the other"
    return f"one of {a.name} and {b.name} lies inside the other, so no straight edge can touch both"


def _on_line(line: LineStop, other: Corner) -> tuple[XY, ...]:
    """The place, or the two, where a line meets its neighbour in a walk."""
    if length(line.direction) == 0.0:
        raise Trouble("line-misses", f"{line.name} has no direction", (line.name,), (line.point,))
    u = unit(line.direction)
    if isinstance(other, PointStop):
        return (_point_on(line, u, other),)
    if isinstance(other, LineStop):
        return (_meeting(line, u, other),)
    return _line_round(line, u, other)


def _point_on(line: LineStop, u: XY, point: PointStop) -> XY:
    miss = abs(cross(u, sub(point.at, line.point)))
    if miss > ON_LINE:
        raise Trouble(
            "line-misses",
            f"{point.name} stands next to {line.name} in the outline, but lies {_mm(miss)} mm off it",
            (line.name, point.name),
            (point.at,),
        )
    return point.at


def _meeting(a: LineStop, u: XY, b: LineStop) -> XY:
    v = unit(b.direction)
    turn = cross(u, v)
    if abs(turn) < 1e-9:
        raise Trouble(
            "line-misses",
            f"{a.name} and {b.name} run side by side, so they meet in no corner",
            (a.name, b.name),
            (a.point,),
        )
    return add(a.point, u, cross(sub(b.point, a.point), v) / turn)


def _line_round(line: LineStop, u: XY, stop: RoundStop) -> tuple[XY, ...]:
    foot = add(line.point, u, dot(u, sub(stop.centre, line.point)))
    gap = apart(foot, stop.centre)
    if abs(gap - stop.radius) <= TANGENT:
        return (add(stop.centre, unit(sub(foot, stop.centre)), stop.radius),)
    if gap > stop.radius:
        raise Trouble(
            "line-misses",
            f"{line.name} passes {stop.name} at a distance of {_mm(gap - stop.radius)} mm",
            (line.name, stop.name),
            (foot,),
        )
    if not line.into:
        raise Trouble(
            "line-misses",
            f"{line.name} does not touch {stop.name} but cuts {_mm(stop.radius - gap)} mm into it",
            (line.name, stop.name),
            (foot,),
            (f"if it runs into the round: into {line.name}",),
        )
    half = math.sqrt((stop.radius - gap) * (stop.radius + gap))
    return add(foot, u, -half), add(foot, u, half)


def _mm(value: float) -> str:
    return f"{value:.2f}" if value >= 0.01 else f"{value:.2g}"


def arc_between(a: XY, b: XY, arc: ArcStop) -> Edge:
    """The arc from a to b with the material on the left: r = (h2 + (c/2)2) / 2h for rise h over the chord
    c.
    """
    half = apart(a, b) / 2.0
    if half == 0.0:
        raise Trouble("no-arc", f"{arc.name} begins and ends at the same place {{0}}", (arc.name,), (a,))
    rise = _rise(half, arc)
    if rise <= 1e-9:
        return Straight(a, b, arc.label)
    radius = (rise * rise + half * half) / (2.0 * rise)
    sense = 1 if arc.out else -1
    middle = ((a[0] + b[0]) / 2.0, (a[1] + b[1]) / 2.0)
    centre = add(middle, left(unit(sub(b, a))), sense * (radius - rise))
    return Bend(centre, radius, a, b, sense * 4.0 * math.atan2(rise, half), arc.label)


def _rise(half: float, arc: ArcStop) -> float:
    if (arc.rise is None) == (arc.radius is None):
        raise ValueError("an arc takes a rise or a radius, one of the two")
    if arc.rise is not None:
        if arc.rise < 0.0:
            raise Trouble("no-arc", f"the rise of {arc.name} is less than nothing", (arc.name,))
        return arc.rise
    radius = arc.radius or 0.0
    if radius < half - 1e-9:
        raise Trouble(
            "no-arc",
            f"a radius of {radius:.2f} mm is too small for {arc.name}: its ends are "
            f"{2 * half:.2f} mm apart, so at least {half:.2f} is needed",
            (arc.name,),
        )
    return radius - math.sqrt(max(radius * radius - half * half, 0.0))
