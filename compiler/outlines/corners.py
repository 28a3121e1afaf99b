"""Round the sharp corners of a path with arcs tangent to both edges.

A corner between two edges, straight or arc, takes a round of radius R whose centre lies R from both: on the
left of a walk (in the material) for a corner that sticks out, on the right for a hollow one.  So both edges
are moved sideways by R and intersected; the feet of the meeting point on the edges are where the round begins
and ends.  Two arcs can give two such points: the one that takes least of the edges is meant."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Literal

from msgspec import Struct

from ..diagnostics.types import Trouble
from ..quantities.vectors import XY
from .carriers import meetings, moved
from .facets import facet
from .measure import crossing
from .plane import (
    add,
    angle_of,
    apart,
    at_angle,
    cross,
    dot,
    edge_length,
    heading,
    sub,
    sweep_between,
    unit,
)
from .types import Bend, Edge, Path, Straight

SHARP = 2e-3
"""Turn in radians (0.1 degrees) below which two edges count as running smoothly into each other."""
Which = Literal["inside", "outside"]


class Rounding(Struct, frozen=True):
    """A round in a corner: its centre, and the lengths it takes off the edge before and the edge after."""

    centre: XY
    before: float
    after: float


def round_corners(
    path: Path, radius: float, which: Which = "outside", at: Sequence[XY] | None = None, label: int = 0
) -> Path:
    """The path with its corners rounded: those that stick out ('outside') or the hollow ones ('inside').

    `at` limits this to the corners nearest those places.  Smooth joins stay.  Raises Trouble
    `round-too-large` with the largest radius that fits, `no-corner` where there is none of that kind, or the
    one at a place is of the other kind."""
    chosen = _chosen(path, which, at)
    sense = 1 if which == "outside" else -1
    try:
        return _rounded(path, chosen, radius, sense, label)
    except TooLarge as found:
        most = _largest(path, chosen, radius, sense)
        raise Trouble(
            "round-too-large",
            f"a round of {radius:.2f} mm does not fit in the corner at {{0}}; "
            f"the largest that fits is {most:.2f} mm",
            places=(found.at,),
        ) from None


class TooLarge(Exception):
    """A round does not fit at the corner `at`."""

    def __init__(self, at: XY) -> None:
        super().__init__()
        self.at = at


def corners_of(path: Path) -> dict[int, float]:
    """The sharp corners of a closed path: index of the edge that begins there, and the turn (left is
    positive).
    """
    turns = {}
    for k, edge in enumerate(path):
        before, after = heading(path[k - 1], end=True), heading(edge, end=False)
        turn = math.atan2(cross(before, after), dot(before, after))
        if abs(turn) > SHARP:
            turns[k] = turn
    return turns


def _chosen(path: Path, which: Which, at: Sequence[XY] | None) -> list[int]:
    turns = corners_of(path)
    fit = [k for k, turn in turns.items() if (turn > 0.0) == (which == "outside")]
    if not fit:
        raise Trouble(
            "no-corner",
            "the outline has no sharp corner that sticks out"
            if which == "outside"
            else "the outline has no sharp hollow corner",
        )
    if at is None:
        return fit
    picked = set()
    for spot in at:
        nearest = min(turns, key=lambda k: (apart(path[k].start, spot), k))
        if nearest not in fit:
            kind, other = ("is hollow", "inside") if which == "outside" else ("sticks out", "outside")
            raise Trouble(
                "no-corner",
                f"the corner nearest {{0}} {kind}",
                places=(spot, path[nearest].start),
                advice=(f"round {other}",),
            )
        picked.add(nearest)
    return sorted(picked)


def _rounded(path: Path, chosen: Sequence[int], radius: float, sense: int, label: int) -> Path:
    """The path with rounds in the chosen corners, or TooLarge at the first corner where it does not fit."""
    rounds = {k: rounding(path[k - 1], path[k], radius, sense) for k in chosen}
    edges: list[Edge] = []
    for k, edge in enumerate(path):
        here, there = rounds.get(k), rounds.get((k + 1) % len(path))
        begin, end = here.after if here else 0.0, there.before if there else 0.0
        size = edge_length(edge)
        if begin + end > size + 1e-9:
            raise TooLarge(edge.start if here else edge.end)
        kept = trimmed(edge, begin, end)
        if here:
            start = point_at(path[k - 1], edge_length(path[k - 1]) - here.before)
            sweep = sweep_between(here.centre, start, kept.start, sense)
            edges.append(Bend(here.centre, radius, start, kept.start, sweep, label))
        if begin + end < size - 1e-9:
            edges.append(kept)
    result = tuple(edges)
    spot = crossing(facet(result))
    if spot is not None:
        raise TooLarge(min((path[k].start for k in chosen), key=lambda p: (apart(p, spot), p)))
    return result


def rounding(before: Edge, after: Edge, radius: float, sense: int) -> Rounding:
    """The round between two edges that meet in a corner, its centre on the left (+1) or the right (-1) of the
    walk.

    Raises TooLarge where it would need more than the whole of either edge."""
    one, two = moved(before, sense * radius), moved(after, sense * radius)
    best: Rounding | None = None
    for centre in meetings(one, two) if one and two else ():
        taken = edge_length(before) - _along(before, centre), _along(after, centre)
        if min(taken) > -1e-9 and (best is None or sum(taken) < best.before + best.after):
            best = Rounding(centre, max(taken[0], 0.0), max(taken[1], 0.0))
    if best is None or best.before > edge_length(before) + 1e-9 or best.after > edge_length(after) + 1e-9:
        raise TooLarge(after.start)
    return best


def _along(edge: Edge, point: XY) -> float:
    """How far along an edge (mm from its start) the foot of a point lies; beyond either end for feet outside
    it.
    """
    if isinstance(edge, Straight):
        return dot(unit(sub(edge.end, edge.start)), sub(point, edge.start))
    sense = 1 if edge.sweep > 0.0 else -1
    turn = sense * (angle_of(sub(point, edge.centre)) - angle_of(sub(edge.start, edge.centre)))
    middle = abs(edge.sweep) / 2.0
    return edge.radius * (middle + math.remainder(turn - middle, math.tau))


def point_at(edge: Edge, distance: float) -> XY:
    """The point of an edge `distance` mm along from its start."""
    if isinstance(edge, Straight):
        return add(edge.start, unit(sub(edge.end, edge.start)), distance)
    turn = math.copysign(distance / edge.radius, edge.sweep)
    return at_angle(edge.centre, edge.radius, angle_of(sub(edge.start, edge.centre)) + turn)


def trimmed(edge: Edge, begin: float, end: float) -> Edge:
    """The edge less a length (mm) at its beginning and at its end."""
    start = point_at(edge, begin) if begin > 0.0 else edge.start
    stop = point_at(edge, edge_length(edge) - end) if end > 0.0 else edge.end
    if isinstance(edge, Straight):
        return Straight(start, stop, edge.label)
    sweep = math.copysign(abs(edge.sweep) - (begin + end) / edge.radius, edge.sweep)
    return Bend(edge.centre, edge.radius, start, stop, sweep, edge.label)


def _largest(path: Path, chosen: Sequence[int], radius: float, sense: int) -> float:
    """The largest radius that fits all the chosen corners, rounded down to 0.01 mm."""
    low, high = 0.0, radius
    while high - low > 1e-3:
        middle = (low + high) / 2.0
        try:
            _rounded(path, chosen, middle, sense, 0)
            low = middle
        except TooLarge:
            high = middle
    return math.floor((low + 1.5e-3) * 100.0) / 100.0
