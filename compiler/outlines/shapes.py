"""Outlines that need no walk: rectangles, circles, bars, slots, regular polygons, flatted rounds."""

from __future__ import annotations

import math

from ..diagnostics.types import Trouble
from ..quantities.vectors import XY
from .belts import belt
from .plane import add, apart, at_angle, left, sub, unit
from .stops import RoundStop
from .types import Bend, Path, Straight


def rectangle(low: XY, high: XY, labels: tuple[int, int, int, int] = (0, 0, 0, 0)) -> Path:
    """A rectangle by two corners; labels for its sides left, bottom, right, top.  Trouble
    `outline-too-short`.
    """
    if high[0] <= low[0] or high[1] <= low[1]:
        raise Trouble("outline-too-short", "the rectangle has no width or no height", places=(low, high))
    at = (low, (high[0], low[1]), high, (low[0], high[1]))
    order = (labels[1], labels[2], labels[3], labels[0])
    return tuple(Straight(at[k], at[(k + 1) % 4], order[k]) for k in range(4))


def circle(centre: XY, radius: float, label: int = 0) -> Path:
    """A whole circle, one edge that begins and ends to the right of its centre."""
    start = at_angle(centre, radius, 0.0)
    return (Bend(centre, radius, start, start, math.tau, label),)


def web(a: XY, b: XY, width: float, label: int = 0) -> Path:
    """A straight bar of the given width from centre a to centre b, its ends square at the centres."""
    if apart(a, b) <= 1e-6 or width <= 0.0:
        raise Trouble("outline-too-short", "a web needs two different places and a width", places=(a, b))
    side = left(unit(sub(b, a)))
    at = (
        add(a, side, -width / 2.0),
        add(b, side, -width / 2.0),
        add(b, side, width / 2.0),
        add(a, side, width / 2.0),
    )
    return tuple(Straight(at[k], at[(k + 1) % 4], label) for k in range(4))


def slot_path(a: XY, b: XY, radius: float, label: int = 0) -> Path:
    """A slot or bar with round ends about a and b; a circle where they coincide."""
    if apart(a, b) <= 1e-9:
        return circle(a, radius, label)
    return belt((RoundStop(a, radius, label=label), RoundStop(b, radius, label=label)), label)


def polygon(centre: XY, across_flats: float, sides: int, turn: float = 0.0, label: int = 0) -> Path:
    """A regular polygon: every flat half of `across_flats` from the centre, one flat facing the direction
    `turn`.
    """
    if sides < 3 or across_flats <= 0.0:
        raise Trouble(
            "outline-too-short", "a polygon needs at least three sides and a size", places=(centre,)
        )
    reach = across_flats / 2.0 / math.cos(math.pi / sides)
    at = [at_angle(centre, reach, turn + (2 * k - 1) * math.pi / sides) for k in range(sides)]
    return tuple(Straight(at[k], at[(k + 1) % sides], label) for k in range(sides))


def two_flatted(
    centre: XY, radius: float, flat_distance: float, towards_angle: float, label: int, flat_label: int
) -> Path:
    """A round with two flats opposite each other, `flat_distance` from the centre towards an angle and away
    from it.

    0 < flat_distance < radius."""
    half = math.acos(flat_distance / radius)
    ends = [
        at_angle(centre, radius, towards_angle + turn)
        for turn in (half, math.pi - half, math.pi + half, -half)
    ]
    arcs = [Bend(centre, radius, ends[k], ends[k + 1], math.pi - 2.0 * half, label) for k in (0, 2)]
    return arcs[0], Straight(ends[1], ends[2], flat_label), arcs[1], Straight(ends[3], ends[0], flat_label)


def flatted(
    centre: XY,
    radius: float,
    flat_distance: float,
    towards_angle: float,
    label: int = 0,
    flat_label: int | None = None,
) -> Path:
    """A round with one flat (D): cut by a chord `flat_distance` from the centre on the side of
    `towards_angle`.

    A distance below 0 leaves less than half of the round.  Trouble `line-misses` where the flat misses the
    round."""
    if abs(flat_distance) >= radius:
        raise Trouble(
            "line-misses",
            f"a flat {flat_distance:.2f} mm from the middle misses a round of radius {radius:.2f} mm",
            places=(centre,),
        )
    half = math.acos(flat_distance / radius)
    begin, end = (
        at_angle(centre, radius, towards_angle + half),
        at_angle(centre, radius, towards_angle - half),
    )
    arc = Bend(centre, radius, begin, end, math.tau - 2.0 * half, label)
    return arc, Straight(end, begin, label if flat_label is None else flat_label)
