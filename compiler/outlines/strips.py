"""A strip of one thickness bent along an open path.

One face of the strip (left or right of the walk), or its middle, lies on the path.  Bends are made on the
path with the radius that leaves the asked radius on the inside of the bend; then both faces are the path
moved sideways, which is exact for straights and arcs alike, and square ends close the outline."""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence
from typing import Literal

from msgspec.structs import replace

from ..diagnostics.types import Trouble
from ..quantities.vectors import XY
from .corners import SHARP, Rounding, TooLarge, rounding, trimmed
from .joints import Joint, joints
from .plane import TINY, add, apart, backwards, cross, dot, edge_length, heading, left, sub
from .stops import Corner, LineStop, PointStop, RoundStop
from .types import Bend, Edge, Path, Straight
from .walks import Leg, checked, own_leg

STRAIGHT = 1e-6
"""mm2: a path whose corners turn by less in all turns to neither side."""
Side = Literal["left", "right", "middle"]


def strip(
    points: Sequence[Corner],
    thick: float,
    side: Side = "middle",
    bend_radius: float = 0.0,
    labels: tuple[int, int, int, int] = (0, 0, 0, 0),
) -> Path:
    """The outline of a strip `thick` mm thick along stops, its `side` lying on them; every bend `bend_radius`
    inside.

    Both ends are points.  A round is wrapped on the side on which the path turns (with `hollow` on the
    other); its own radius is that of the path.  Labels: left face, right face, first end, last end.  Raises
    Trouble `bend-too-tight` (legs too short for the bends, or a round smaller than the strip is thick),
    `outline-too-short`, `outline-crosses`, and those of `walk`."""
    to_left = {"left": 0.0, "right": thick, "middle": thick / 2.0}[side]
    path = _bent(open_path(points), bend_radius, to_left, thick - to_left)
    lefts = _face(path, to_left, labels[0])
    rights = _face(path, to_left - thick, labels[1])
    last = Straight(rights[-1].end, lefts[-1].end, labels[3])
    first = Straight(lefts[0].start, rights[0].start, labels[2])
    edges = [*rights, last, *backwards(tuple(lefts)), first]
    names = f"the strip from {points[0].name} to {points[-1].name}"
    return checked([Leg(edge, names) for edge in edges if edge_length(edge) > TINY])


def open_path(stops: Sequence[Corner]) -> Path:
    """The edges of an open walk from the first point to the last, corners left sharp."""
    if len(stops) < 2 or not (isinstance(stops[0], PointStop) and isinstance(stops[-1], PointStop)):
        raise Trouble(
            "outline-too-short", "a strip needs a point at either end", tuple(s.name for s in stops)
        )
    turned = [_wrapped(stops, k) for k in range(len(stops))]
    picks = [_nearest_joint(turned, k) for k in range(len(turned) - 1)]
    edges: list[Edge] = []
    for k, stop in enumerate(turned):
        if 0 < k < len(turned) - 1:
            edges += [leg.edge for leg in own_leg(stop, picks[k - 1].reach, picks[k].leave)]
        edge = picks[k].edge if k < len(picks) else None
        if edge is not None and apart(edge.start, edge.end) > TINY:
            edges.append(edge)
    if not edges:
        raise Trouble("outline-too-short", "the strip has no length", tuple(s.name for s in stops))
    return tuple(edges)


def _place(stop: Corner) -> XY:
    if isinstance(stop, PointStop):
        return stop.at
    return stop.centre if isinstance(stop, RoundStop) else stop.point


def _wrapped(stops: Sequence[Corner], k: int) -> Corner:
    """The stop, a round with `hollow` set where the walk goes clockwise about it (`joints` counts that
    way).
    """
    stop = stops[k]
    if not isinstance(stop, RoundStop):
        return stop
    before, here, after = (_place(stops[m]) for m in (k - 1, k, k + 1))
    turns_right = cross(sub(here, before), sub(after, here)) < 0.0
    return replace(stop, hollow=turns_right != stop.hollow)


def _nearest_joint(stops: Sequence[Corner], k: int) -> Joint:
    """The joint to the next stop; of a line's two crossings the one it meets first, or the other with
    `far`.
    """
    one, two = stops[k], stops[k + 1]
    found = joints(one, two, None, 0)
    line, other = (k, k - 1) if isinstance(one, LineStop) else (k + 1, k + 2)
    if len(found) == 1:
        return found[0]
    own, far_end = stops[line], _place(stops[other])
    ranked = sorted(found, key=lambda joint: (apart(joint.leave, far_end), joint.leave))
    return ranked[-1 if isinstance(own, LineStop) and own.far else 0]


def _bent(path: Path, inside: float, to_left: float, to_right: float) -> Path:
    """The open path with an arc in each corner; a bend without any radius stays as an arc of radius 0."""
    turns = [_turn(a, b) for a, b in itertools.pairwise(path)]
    radii = [inside + (to_left if turn > 0.0 else to_right) for turn in turns]
    rounds: list[Rounding | None] = [None]
    for a, b, turn, radius in zip(path[:-1], path[1:], turns, radii, strict=True):
        try:
            rounds.append(rounding(a, b, radius, 1 if turn > 0.0 else -1) if abs(turn) > SHARP else None)
        except TooLarge as reason:
            raise _too_tight(reason.at, inside) from None
    rounds.append(None)
    edges: list[Edge] = []
    for k, edge in enumerate(path):
        here, there = rounds[k], rounds[k + 1]
        begin, end = here.after if here else 0.0, there.before if there else 0.0
        if begin + end > edge_length(edge) + TINY:
            raise _too_tight(edge.start if here else edge.end, inside)
        kept = trimmed(edge, begin, end)
        if here:
            before = edges[-1]
            edges.append(Bend(here.centre, radii[k - 1], before.end, kept.start, _turn(before, kept), 0))
        edges.append(kept)
    return tuple(edges)


def _turn(before: Edge, after: Edge) -> float:
    a, b = heading(before, end=True), heading(after, end=False)
    return math.atan2(cross(a, b), dot(a, b))


def _too_tight(at: XY, inside: float) -> Trouble:
    bend = f"a bend of {inside:.2f} mm on its inside" if inside > TINY else "its own thickness"
    advice = ["move the points before and behind the corner farther from it", "make the strip thinner"]
    advice += ["say a smaller `turns inside`"] if inside > TINY else ["say `inside on path`"]
    return Trouble(
        "bend-too-tight",
        f"the strip is too short beside its corner at {{0}}: there is no room for {bend}",
        places=(at,),
        advice=(f"{', '.join(advice[:-1])} or {advice[-1]}",),
    )


def _face(path: Path, by: float, label: int) -> list[Edge]:
    """The bent path moved `by` mm to its left; the radius of an arc may come down to 0."""
    ends = [_moved_ends(edge, by) for edge in path]
    for k, edge in enumerate(path):
        if _is_point(edge):
            # A bend of no radius has no direction of its own: it begins and ends as its neighbours do.
            ends[k] = (ends[k - 1][1], ends[k + 1][0])
    for k in range(1, len(ends)):
        # A turn too slight to be bent would leave a gap: both edges go to its middle, the mitre to second
        # order.
        (a, b), (p, q) = ends[k - 1], ends[k]
        middle = ((b[0] + p[0]) / 2.0, (b[1] + p[1]) / 2.0)
        ends[k - 1], ends[k] = (a, middle), (middle, q)
    return [_shifted(edge, by, begin, end, label) for edge, (begin, end) in zip(path, ends, strict=True)]


def _is_point(edge: Edge) -> bool:
    return isinstance(edge, Bend) and edge.radius <= TINY


def _moved_ends(edge: Edge, by: float) -> tuple[XY, XY]:
    return (
        add(edge.start, left(heading(edge, end=False)), by),
        add(edge.end, left(heading(edge, end=True)), by),
    )


def _shifted(edge: Edge, by: float, begin: XY, end: XY, label: int) -> Edge:
    if isinstance(edge, Straight):
        return Straight(begin, end, label)
    radius = edge.radius - math.copysign(by, by * edge.sweep)
    if radius < -TINY:
        raise Trouble(
            "bend-too-tight",
            f"a round of radius {edge.radius:.2f} mm is too small for a strip that lies "
            f"{abs(by):.2f} mm thick on its inside",
            places=(edge.centre,),
        )
    return Bend(edge.centre, max(radius, 0.0), begin, end, edge.sweep, label)


def strip_side(lies: str, places: Sequence[XY]) -> Side:
    """Left or right of the path, from the `outside` or `inside` of its bends that lies on it: by the way the
    path turns in all.  Raises Trouble('straight-path') for a path that turns to neither side."""
    if lies == "middle":
        return "middle"
    turning = sum(
        (b[0] - a[0]) * (c[1] - b[1]) - (b[1] - a[1]) * (c[0] - b[0])
        for a, b, c in zip(places, places[1:], places[2:], strict=False)
    )
    if abs(turning) < STRAIGHT:
        raise Trouble(
            "straight-path",
            f"`{lies} on path` says nothing of a path that turns to neither side: it has no {lies}",
            advice=("middle on path, with its places read to the middle of its thickness",),
        )
    return "left" if (lies == "inside") == (turning > 0) else "right"
