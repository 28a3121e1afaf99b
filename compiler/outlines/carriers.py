"""The endless line or whole circle that an edge lies on, moved sideways, and where two of them meet."""

from __future__ import annotations

import math

from ..quantities.vectors import XY
from .plane import add, apart, cross, dot, left, sub, unit
from .types import Bend, Edge, Straight

Carrier = tuple[XY, XY] | tuple[XY, float]
"""A line as (point, unit direction), or a circle as (centre, radius)."""


def moved(edge: Edge, by: float) -> Carrier | None:
    """The carrier of an edge moved to its left by `by` mm; None where an arc would shrink away."""
    if isinstance(edge, Straight):
        u = unit(sub(edge.end, edge.start))
        return add(edge.start, left(u), by), u
    radius = edge.radius - math.copysign(by, by * edge.sweep)
    return (edge.centre, radius) if radius > 0.0 else None


def meetings(one: Carrier, two: Carrier) -> tuple[XY, ...]:
    """Where two carriers meet: none, one or two places; a touch within 1e-9 mm counts as meeting once."""
    a, m = one
    b, n = two
    if isinstance(m, tuple):
        return _line_line(a, m, b, n) if isinstance(n, tuple) else _line_circle(a, m, b, n)
    return _line_circle(b, n, a, m) if isinstance(n, tuple) else _circle_circle(a, m, b, n)


def _line_line(a: XY, u: XY, b: XY, v: XY) -> tuple[XY, ...]:
    turn = cross(u, v)
    if abs(turn) < 1e-12:
        return ()
    return (add(a, u, cross(sub(b, a), v) / turn),)


def _line_circle(a: XY, u: XY, centre: XY, radius: float) -> tuple[XY, ...]:
    gap = cross(u, sub(centre, a))
    foot = add(centre, left(u), -gap)
    return _either_side(foot, u, radius, abs(gap))


def _circle_circle(a: XY, r: float, b: XY, s: float) -> tuple[XY, ...]:
    distance = apart(a, b)
    if distance < 1e-12:
        return ()
    along = (distance * distance + (r - s) * (r + s)) / (2.0 * distance)
    w = unit(sub(b, a))
    return _either_side(add(a, w, along), left(w), r, abs(along))


def _either_side(foot: XY, way: XY, radius: float, gap: float) -> tuple[XY, ...]:
    if gap > radius + 1e-9:
        return ()
    half = math.sqrt(max((radius - gap) * (radius + gap), 0.0))
    return (add(foot, way, -half), add(foot, way, half)) if half > 0.0 else (foot,)


def carried(edge: Edge, carrier: Carrier, start: XY, end: XY) -> Edge | None:
    """The edge on its moved carrier between new ends; None where it would run backwards or vanish."""
    if isinstance(edge, Straight):
        forward = dot(sub(edge.end, edge.start), sub(end, start)) > 0.0
        return Straight(start, end, edge.label) if forward else None
    return _carried_bend(edge, carrier, start, end)


def _carried_bend(edge: Bend, carrier: Carrier, start: XY, end: XY) -> Edge | None:
    radius = carrier[1]
    assert not isinstance(radius, tuple)
    sweep = edge.sweep + _turned(edge.centre, edge.end, end) - _turned(edge.centre, edge.start, start)
    if sweep * edge.sweep <= 0.0 or abs(sweep) > math.tau + 1e-9:
        return None
    return Bend(edge.centre, radius, start, end, sweep, edge.label)


def _turned(centre: XY, old: XY, new: XY) -> float:
    a, b = sub(old, centre), sub(new, centre)
    return math.atan2(cross(a, b), dot(a, b))
