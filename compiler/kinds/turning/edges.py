"""The edges of a turning's half profile: bevelled, rounded, or filled with a hollow.

The profile is a ring of corners anticlockwise in (r, z).  A round keeps its corners on the true arc, a hollow
touches it from within the material: both err towards less."""

from __future__ import annotations

import math

from msgspec import Struct

from ...diagnostics.types import Trouble
from ...outlines.marks import Marks
from .model import Eased

SAME = 1e-9
"""mm: corners this close are one."""
Corner = tuple[float, float, bool, int]  # r, z, belongs to an outer surface, label of the edge that follows
Place = tuple[float, float]  # r, z


class _Wedge(Struct, frozen=True):
    """A corner of the profile: where it is, the unit vectors along its two edges, the angle between them."""

    at: Place
    u: Place
    v: Place
    opening: float

    def ends(self, reach: float) -> list[Place]:
        """The places on both edges so far (mm) from the corner."""
        return [(self.at[0] + reach * x, self.at[1] + reach * y) for x, y in (self.u, self.v)]


def eased(name: str, ring: list[Corner], edge: Eased, marks: Marks, chord: float) -> list[Corner]:
    """The ring with the edge that a `bevel`, `round` or `hollow` speaks of worked; `inside` picks the mouth
    of a bore.

    Trouble: 'bad-station' where there is no such edge, 'bevel-too-large' where it is larger than the edge
    beside it."""
    i = _edge_at(name, ring, edge)
    size, corner = edge.size.value, ring[i]
    before, after = ring[i - 1], ring[(i + 1) % len(ring)]
    ways = [((one[0] - corner[0]), (one[1] - corner[1])) for one in (before, after)]
    lengths = [math.hypot(*way) for way in ways]
    u, v = ((x / size_, y / size_) for (x, y), size_ in zip(ways, lengths, strict=True))
    opening = math.acos(max(-1.0, min(1.0, u[0] * v[0] + u[1] * v[1])))
    wedge = _Wedge(corner[:2], u, v, opening)
    reach = size if edge.word == "bevel" else size / math.tan(0.5 * opening)
    if reach > min(lengths) + SAME:
        raise Trouble(
            "bevel-too-large",
            f"a {edge.word} of {size:g} at {edge.station.value:g} is larger than the edge "
            f"beside it ({min(lengths):.4g})",
            (name,),
            span=edge.said.span,
        )
    label = marks.of(name, edge.word)
    line = (
        wedge.ends(reach)
        if edge.word == "bevel"
        else _arc(wedge, size, reach, chord, hollow=edge.word == "hollow")
    )
    cut = [(r, z, corner[2], label) for r, z in line[:-1]]
    eased_ring = [*ring[:i], *cut, (*line[-1], corner[2], corner[3]), *ring[i + 1 :]]
    # an edge that is used up to its end has no length left: its two corners are one
    gone = {(i - 1) % len(ring) if i else len(eased_ring) - 1} if lengths[0] - reach <= SAME else set[int]()
    if lengths[1] - reach <= SAME:
        gone.add(i + len(cut))
    return [one for k, one in enumerate(eased_ring) if k not in gone]


def _edge_at(name: str, ring: list[Corner], edge: Eased) -> int:
    """The corner at a station: the outermost that sticks out (or, for a hollow, the innermost that does
    not).
    """
    station, outer = edge.station.value, edge.outside
    hollow = edge.word == "hollow"
    best: tuple[float, int] | None = None
    for i, (r, z, is_outer, _) in enumerate(ring):
        if (
            is_outer == outer
            and abs(z - station) < 1e-6
            and r > 0
            and _turn(ring, i) * (-1 if hollow else 1) > 1e-12
        ):
            weight = r if outer != hollow else -r
            if best is None or weight > best[0]:
                best = (weight, i)
    if best is None:
        where = f"{'outer' if outer else 'bored'}{' inner' if hollow else ''}"
        stations = ", ".join(sorted({f"{z:g}" for _, z, o, _ in ring if o == outer}))
        does = {"bevel": "bevel", "round": "round", "hollow": "fill with a hollow"}[edge.word]
        raise Trouble(
            "bad-station",
            f"turning `{name}` has no {where} edge at {station:g} to {does}",
            (name,),
            advice=(f"its edges lie at {stations}",),
        )
    return best[1]


def _arc(wedge: _Wedge, size: float, reach: float, chord: float, *, hollow: bool) -> list[Place]:
    """Corners of the arc of radius `size` that touches both edges `reach` from the corner, from the first end
    to the second.
    """
    ends = wedge.ends(reach)
    way = (wedge.u[0] + wedge.v[0], wedge.u[1] + wedge.v[1])
    far = size / math.sin(0.5 * wedge.opening) / math.hypot(*way)
    centre = (wedge.at[0] + far * way[0], wedge.at[1] + far * way[1])
    start = math.atan2(ends[0][1] - centre[1], ends[0][0] - centre[0])
    stop = math.atan2(ends[1][1] - centre[1], ends[1][0] - centre[0])
    sweep = math.remainder(stop - start, math.tau)
    count = max(2, math.ceil(abs(sweep) / (2.0 * math.acos(size / (size + chord)))))
    step = sweep / count

    def at(angle: float, radius: float) -> Place:
        return centre[0] + radius * math.cos(angle), centre[1] + radius * math.sin(angle)

    if not hollow:
        return [ends[0], *(at(start + k * step, size) for k in range(1, count)), ends[1]]
    around = size / math.cos(0.5 * step)
    return [ends[0], *(at(start + (k + 0.5) * step, around) for k in range(count)), ends[1]]


def _turn(ring: list[Corner], i: int) -> float:
    """More than 0 for a corner of material (the ring runs anticlockwise in r, z)."""
    (a, az, *_), (b, bz, *_), (c, cz, *_) = ring[i - 1], ring[i], ring[(i + 1) % len(ring)]
    return (b - a) * (cz - bz) - (bz - az) * (c - b)
