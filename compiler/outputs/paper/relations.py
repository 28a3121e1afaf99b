"""Distances that the writer read, as they came out: between which points of the finished part, how much, how
sure.

A thing that was read from another gets one distance for it, however many readings there are; round things
count from their centres, boxes from the edge that was read.  How sure: between two holes as all readings of
the page together say, else as the best of the readings says."""

from __future__ import annotations

import math
from collections.abc import Iterator

from msgspec import Struct

from ...facts import PATTERNS, Claim, Entry, Ref
from ...facts.extents import is_box
from ...facts.types import FLATS
from ...quantities import Standing
from ...quantities.vectors import Vector, along, cross, dot
from .amounts import EVEN_SPREAD, Amount, wanted
from .views import Scene, finished


class Gap(Struct, frozen=True):
    """The distance of a thing from another (a thing, line or side): its two ends in the finished part, and
    the amount.

    `claims` are the readings behind it; `reach` and `their_reach` how far each party goes from its end
    towards the other as made, in mm (0 for a line, a point, and where the end lies on an edge already)."""

    name: str
    other: str
    claims: tuple[Claim, ...]
    mine: Vector
    theirs: Vector
    amount: Amount
    out: Vector
    reach: float = 0.0
    their_reach: float = 0.0
    straight: bool = False


def gaps(scene: Scene) -> list[Gap]:
    """All distances that were read, in the order of the names of their things."""
    found: list[Gap] = []
    for entry in scene.claims.entries.values():
        if entry.name not in scene.layout.spots or entry.kind == "neighbour":
            continue
        groups: dict[tuple[str, str], list[Claim]] = {}
        for claim in entry.all("from"):
            box_edge = claim.word_of("edges") if is_box(entry) or entry.kind == "slot" else ""
            groups.setdefault((str(claim.ref("thing")), box_edge), []).append(claim)
        for (_, edge), claims in sorted(groups.items()):
            gap = _gap(scene, entry, tuple(claims), edge)
            if gap is not None and gap.amount.value > 1e-6:
                found.append(gap)
    return found


def _gap(scene: Scene, entry: Entry, claims: tuple[Claim, ...], edge: str) -> Gap | None:
    spot = scene.layout.spots[entry.name]
    frame = scene.layout.frames[spot.page]
    ref = claims[0].ref("thing")
    centre = frame.point(spot.at, spot.base)
    known = scene.spacings().get(frozenset((entry.name, str(ref))))
    u = min(claim.quantity("readings").u for claim in claims) if known is None else known
    standing = max(claim.quantity("readings").standing for claim in claims)
    straight = straight_edge(scene, ref)
    if straight is None:
        theirs = place_of(scene, ref)
        if theirs is None:
            return None
        theirs = along(theirs, (frame.out, dot(frame.out, along(centre, (theirs, -1.0)))))
        other = scene.layout.spots[ref.name]
        mine, reaches = centre, (spot.half[1], other.half[1])
    else:
        point, normal = straight
        away = dot(along(centre, (point, -1.0)), normal)
        side = math.copysign(1.0, away)
        if abs(dot(normal, frame.out)) > 1e-6:
            return None
        reach = support(scene, entry, normal)
        shift = {"near": -side * reach, "far": side * reach}.get(edge, 0.0)
        mine = along(centre, (normal, shift))
        theirs = along(mine, (normal, -(away + shift)))
        reaches = (0.0 if edge else reach, 0.0)
    value = math.dist(mine, theirs)
    give = u * EVEN_SPREAD
    amount = wanted(value) if standing is Standing.WANTED else Amount(value, give, give, standing)
    part = scene.part
    out = finished_way(frame.out, part.mirrored)
    return Gap(
        entry.name,
        str(ref),
        claims,
        finished(mine, part),
        finished(theirs, part),
        amount,
        out,
        reaches[0],
        reaches[1],
        straight is not None,
    )


def finished_way(way: Vector, mirrored: bool) -> Vector:
    """A direction in the finished part."""
    return (-way[0] + 0.0 if mirrored else way[0], way[1], way[2])


def straight_edge(scene: Scene, ref: Ref) -> tuple[Vector, Vector] | None:
    """A point of a line, side or flat and the unit normal across it, before the part is finished; None for a
    thing.
    """
    if ref.part in FLATS:
        flat = scene.pages.flat(ref)
        return None if flat is None else (flat.point, flat.normal)
    edge = scene.pages.edge_line(ref)
    if edge is not None:
        return edge[0], cross(edge[1], edge[2])
    entry = scene.claims.entries.get(ref.name)
    flat = scene.pages.flat(ref) if entry is not None and entry.kind == "plane" else None
    return None if flat is None else (flat.point, flat.normal)


def place_of(scene: Scene, ref: Ref) -> Vector | None:
    """Where a thing or a copy of it lies, before the part is finished."""
    spot = scene.layout.spots.get(ref.name)
    if spot is None:
        return None
    start = scene.layout.frames[spot.page].point(spot.at, spot.base)
    number = int(ref.part) if ref.part.isdigit() else 1
    moves = scene.layout.copies.get(ref.name, ())
    return start if number <= 1 or number > len(moves) + 1 else moves[number - 2].point(start)


def support(scene: Scene, entry: Entry, normal: Vector) -> float:
    """How far a thing reaches from its centre along a direction, as made, mm."""
    spot = scene.layout.spots[entry.name]
    frame = scene.layout.frames[spot.page]
    if not is_box(entry) and entry.kind != "slot":
        return spot.half[1]
    first, second = frame.direction(spot.turn), frame.direction(spot.turn + 0.5 * math.pi)
    if entry.kind == "slot":
        return (spot.half[0] - spot.half[1]) * abs(dot(first, normal)) + spot.half[1]
    return spot.half[0] * abs(dot(first, normal)) + spot.half[1] * abs(dot(second, normal))


def pitches(scene: Scene) -> Iterator[tuple[Entry, Entry, list[Vector]]]:
    """Every row and grid with each thing it copies and where the copies lie in the finished part."""
    for pattern in scene.claims.of_kind("row", "grid", "ring"):
        of = pattern.one("of")
        for ref in of.refs("things") if of is not None else ():
            entry = scene.claims.entries[ref.name]
            if entry.kind in PATTERNS:
                continue
            count = pattern.one("count")
            assert count is not None
            own = (
                count.number("across") * count.number("up")
                if pattern.kind == "grid"
                else count.number("count")
            )
            places = scene.places(entry)[: int(own)]  # more are made by patterns of this one
            if len(places) > 1:
                yield pattern, entry, places
