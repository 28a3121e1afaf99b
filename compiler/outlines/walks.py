"""From the stops of a walk to a closed outline that runs anticlockwise round its material.

The problem: tangents depend on which side of the walk the material lies, and the writer may walk either way
round; a line that runs into a round cuts it twice.  The choice: build the outline for every such case (both
ways round, each crossing), and keep those that enclose something and do not cross themselves.  A simple
closed curve turns once, which is why the wrong way round can't pass for the right one.  Of several, the way
the stops themselves run decides, then how many lines end as they should (where they first meet the round),
then the larger area. Rejected: trusting the signed area of the stops alone; it is nothing for a row of
rounds, and it misjudges an outline whose large hollow rounds have their centres far outside."""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence

import numpy as np
from msgspec import Struct

from ..diagnostics.types import Trouble
from ..quantities.vectors import XY
from .facets import CHORD, facet, facet_owned
from .joints import Joint, joints
from .measure import crossing_edges, nearest_edge
from .plane import TINY, apart, at_angle, cross, dot, heading, path_area, sub, sweep_between, unit
from .stops import ArcStop, Corner, LineStop, PointStop, RoundStop, Stop
from .types import Bend, Edge, Path, Region, Ring, Straight

MOST_CROSSINGS = 8
LEAST_AREA = 1e-6


class Leg(Struct, frozen=True):
    """One edge of an outline under trial, with the names to say where it is."""

    edge: Edge
    name: str


def walk(stops: Sequence[Stop], edge_label: int = 0) -> Path:
    """The outline through the stops, anticlockwise, whichever way round they are listed.

    Edges between points and rounds get `edge_label`; arcs and lines their own.  Raises Trouble:
    `outline-too-short`, `no-tangent`, `no-arc`, `line-misses`, `outline-crosses`, `outline-two-sided` (both
    ways round make an outline and nothing tells which is meant)."""
    corners, arcs = _split(stops)
    if len(corners) == 1 and isinstance(corners[0], RoundStop) and not corners[0].hollow and not arcs[0]:
        only = corners[0]
        start = at_angle(only.centre, only.radius, 0.0)
        return (Bend(only.centre, only.radius, start, start, math.tau, only.label),)
    _check_enough(corners, arcs)
    turn = _stops_area(corners)
    ways = [(corners, arcs), _reversed(corners, arcs)]
    if turn < 0.0:
        ways.reverse()
    found: list[Path] = []
    troubles: list[Trouble] = []
    for way in ways:
        try:
            found.append(from_lowest(_best_outline(*way, edge_label)))
        except Trouble as trouble:
            troubles.append(trouble)
        if found and abs(turn) > LEAST_AREA:
            return found[0]
    if not found:
        raise troubles[0]
    if len(found) == 2 and not _same(found[0], found[1]):
        raise Trouble(
            "outline-two-sided",
            "the outline could lie on either side of its stops, and nothing says which",
            tuple(c.name for c in corners),
        )
    return found[0]


def _split(stops: Sequence[Stop]) -> tuple[list[Corner], list[ArcStop | None]]:
    """The corners, and for each the arc that follows it on the way to the next, if any."""
    if stops and isinstance(stops[0], ArcStop):
        stops = [*stops[1:], stops[0]]
    corners: list[Corner] = []
    arcs: list[ArcStop | None] = []
    for stop in stops:
        if not isinstance(stop, ArcStop):
            corners.append(stop)
            arcs.append(None)
        elif not arcs or arcs[-1] is not None:
            raise Trouble("no-arc", f"{stop.name} must stand between two points", (stop.name,))
        else:
            arcs[-1] = stop
    return corners, arcs


def _reversed(corners: list[Corner], arcs: list[ArcStop | None]) -> tuple[list[Corner], list[ArcStop | None]]:
    back = arcs[::-1]
    return corners[::-1], back[1:] + back[:1]


def _check_enough(corners: list[Corner], arcs: list[ArcStop | None]) -> None:
    curved = any(isinstance(c, RoundStop) for c in corners) or any(arcs)
    if len(corners) < 2 or (len(corners) == 2 and not curved):
        names = tuple(c.name for c in corners)
        told = " and ".join(names) if names else "nothing"
        raise Trouble(
            "outline-too-short",
            f"an outline of {told} alone encloses nothing: it takes three stops, or "
            "two of which one is round",
            names,
        )


def _stops_area(corners: Sequence[Corner]) -> float:
    at = [c.at if isinstance(c, PointStop) else c.centre for c in corners if not isinstance(c, LineStop)]
    return sum(cross(sub(p, at[0]), sub(q, at[0])) for p, q in itertools.pairwise(at)) / 2.0


def from_lowest(path: Path) -> Path:
    """The closed path begun at its lowest start by x, then y: the same for every way of listing the stops."""
    first = min(range(len(path)), key=lambda k: path[k].start)
    return path[first:] + path[:first]


def _same(one: Path, two: Path) -> bool:
    """Whether two outlines are one and the same, even if a smooth side is divided elsewhere."""
    points, region = facet(one).points, Region((facet(two),))
    middles = (points + np.roll(points, -1, axis=0)) / 2.0
    return all(
        nearest_edge(region, (x, y))[0] < 2.0 * CHORD for x, y in np.concatenate([points, middles]).tolist()
    )


def _best_outline(corners: list[Corner], arcs: list[ArcStop | None], label: int) -> Path:
    """The best outline of one way round; raises the trouble of the most natural one if there is none."""
    after = corners[1:] + corners[:1]
    ways = [joints(a, b, arc, label) for a, b, arc in zip(corners, after, arcs, strict=True)]
    best: tuple[tuple[int, float], Path] | None = None
    trouble: tuple[int, Trouble] | None = None
    for picks in itertools.product(*_limited(ways)):
        against = _against(corners, picks)
        try:
            path = checked(closed_legs(corners, picks))
        except Trouble as reason:
            trouble = (against, reason) if trouble is None or against < trouble[0] else trouble
            continue
        key = (against, -path_area(path))
        best = (key, path) if best is None or key < best[0] else best
    if best is not None:
        return best[1]
    assert trouble is not None
    raise trouble[1]


def _limited(ways: list[tuple[Joint, ...]]) -> list[tuple[Joint, ...]]:
    """All crossings of the first few lines that run into rounds; trying all of many would double for each."""
    open_ends = [k for k, way in enumerate(ways) if len(way) > 1]
    if len(open_ends) <= MOST_CROSSINGS:
        return ways
    raise Trouble(
        "outline-crosses",
        f"more than {MOST_CROSSINGS} ends of lines run into rounds in one outline: "
        "give some of them as points, or split it into two shapes",
    )


def _against(corners: list[Corner], picks: Sequence[Joint]) -> int:
    """How many line ends do not lie as they should: outside the round they run into, or inside if `far`."""
    count = 0
    for k, corner in enumerate(corners):
        if isinstance(corner, LineStop):
            begin, end = picks[k - 1].reach, picks[k].leave
            beside = ((corners[k - 1], begin, end), (corners[(k + 1) % len(corners)], end, begin))
            for other, here, there in beside:
                if isinstance(other, RoundStop):
                    inside = dot(sub(there, here), sub(other.centre, here)) > TINY
                    count += corner.into and inside != corner.far
    return count


def closed_legs(corners: Sequence[Corner], picks: Sequence[Joint]) -> list[Leg]:
    """The edges of a closed walk: each stop's own edge, then the joint that follows it."""
    legs: list[Leg] = []
    for k, corner in enumerate(corners):
        legs += own_leg(corner, picks[k - 1].reach, picks[k].leave)
        edge = picks[k].edge
        if edge is not None and apart(edge.start, edge.end) > TINY:
            after = corners[(k + 1) % len(corners)]
            legs.append(Leg(edge, f"{corner.name} to {after.name}"))
    _check_tangency(corners, picks)
    return legs


def own_leg(corner: Corner, begin: XY, end: XY) -> list[Leg]:
    """The stretch of a round or of a line that belongs to the outline; nothing for a point."""
    if isinstance(corner, LineStop):
        return [Leg(Straight(begin, end, corner.label), corner.name)] if apart(begin, end) > TINY else []
    if isinstance(corner, PointStop):
        return []
    sweep = sweep_between(corner.centre, begin, end, -1 if corner.hollow else 1)
    if abs(sweep) * corner.radius <= TINY:
        return []
    return [Leg(Bend(corner.centre, corner.radius, begin, end, sweep, corner.label), corner.name)]


def _check_tangency(corners: Sequence[Corner], picks: Sequence[Joint]) -> None:
    """A line that touches a round must run the way the walk goes round it, or the edge would turn back in a
    cusp.
    """
    for k, corner in enumerate(corners):
        if not isinstance(corner, LineStop):
            continue
        begin, end = picks[k - 1].reach, picks[k].leave
        way = unit(sub(end, begin))
        for other, here in ((corners[k - 1], begin), (corners[(k + 1) % len(corners)], end)):
            if isinstance(other, RoundStop):
                round_way = heading(
                    Bend(other.centre, other.radius, here, here, -1.0 if other.hollow else 1.0, 0), end=False
                )
                if dot(way, round_way) < -0.99:
                    word = "without" if other.hollow else "with"
                    raise Trouble(
                        "no-tangent",
                        f"{corner.name} touches {other.name} from the wrong side: the outline "
                        "would turn back on itself there",
                        (corner.name, other.name),
                        (here,),
                        (f"walk round {other.name} {word} `inside`",),
                    )


def checked(legs: list[Leg]) -> Path:
    """The path of the legs; raises `outline-too-short` if it encloses nothing, `outline-crosses` if it
    crosses.
    """
    path = tuple(leg.edge for leg in legs)
    if len(path) < 2:
        raise Trouble("outline-too-short", "the outline encloses nothing")
    ring, owner = facet_owned(path)
    if _flat(ring):
        raise Trouble(
            "outline-too-short",
            "the outline encloses nothing: its stops lie in one line",
            tuple(leg.name for leg in legs),
        )
    found = crossing_edges((ring,))
    if found is not None:
        one, two = legs[owner[found[0]]].name, legs[owner[found[1]]].name
        what = f"between {one} and {two}" if one != two else f"at {one}"
        raise Trouble(
            "outline-crosses",
            f"the outline crosses or touches itself near {{0}}, {what}",
            (one, two),
            (found[2],),
        )
    if path_area(path) <= LEAST_AREA:
        raise Trouble("outline-too-short", "the outline encloses nothing", tuple(leg.name for leg in legs))
    return path


def _flat(ring: Ring) -> bool:
    away = ring.points - ring.points[0]
    far = away[int(np.argmax(np.hypot(*away.T)))]
    size = float(np.hypot(*far))
    return size <= TINY or bool(
        (np.abs(away[:, 0] * far[1] - away[:, 1] * far[0]) / size).max() <= LEAST_AREA
    )
