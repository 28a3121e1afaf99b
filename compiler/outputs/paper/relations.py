"""Distances that the writer read, as they came out: between which points of the finished part, how much, how
sure.

A thing that was read from another gets one distance for it, however many readings there are; round things
count from their centres, boxes from the edge that was read.  How sure: between two holes as all readings of
the page together say, else as the best of the readings says."""

from __future__ import annotations

import math
from collections.abc import Iterator

from msgspec import Struct

from ...kinds.types import FLATS
from ...model import Model, Thing
from ...model.holes import Hole
from ...model.sections import SlotSection
from ...model.things import Neighbour, Plane
from ...model.types import Mention, Pattern, ReadDistance
from ...quantities import Standing
from ...quantities.vectors import Vector, along, cross, dot
from .amounts import EVEN_SPREAD, Amount, shown, wanted
from .types import Dimension
from .views import Scene, finished


class Gap(Struct, frozen=True):
    """The distance of a thing from another (a thing, line or side): its two ends in the finished part, and
    the amount.

    `readings` are those behind it; `reach` and `their_reach` how far each party goes from its end towards the
    other as made, in mm (0 for a line, a point, and where the end lies on an edge already)."""

    name: str
    other: str
    readings: tuple[ReadDistance, ...]
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
    for thing in scene.model.things.values():
        if thing.spot is None or isinstance(thing, Neighbour):
            continue
        groups: dict[tuple[str, str], list[ReadDistance]] = {}
        for read in thing.distances:
            groups.setdefault((read.other, read.edges if thing.straight_sided else ""), []).append(read)
        for (_, edge), some in sorted(groups.items()):
            gap = _gap(scene, thing, tuple(some), bool(edge))
            if gap is not None and gap.amount.value > 1e-6:
                found.append(gap)
    return found


def _gap(scene: Scene, thing: Thing, some: tuple[ReadDistance, ...], from_edge: bool) -> Gap | None:
    """The distance behind some readings to one other thing; `from_edge`: to which side of it they were
    read.
    """
    spot, frame = thing.placed, scene.model.frames[thing.placed.plane]
    other = some[0]
    centre = frame.point(spot.at, spot.base)
    straight = straight_edge(scene.model, other.other, other.name, other.part)
    if straight is None:
        theirs = place_of(scene.model, other.name, other.part)
        if theirs is None:
            return None
        theirs = along(theirs, (frame.out, dot(frame.out, along(centre, (theirs, -1.0)))))
        mine, reaches = centre, (spot.half[1], scene.model.things[other.name].placed.half[1])
    else:
        point, normal = straight
        away = dot(along(centre, (point, -1.0)), normal)
        if abs(dot(normal, frame.out)) > 1e-6:
            return None
        reach = support(scene.model, thing, normal)
        side = (other.sides or (0,))[0] if from_edge and len(other.sides) < 2 else 0
        shift = side * math.copysign(1.0, away) * reach
        mine = along(centre, (normal, shift))
        theirs = along(mine, (normal, -(away + shift)))
        reaches = (0.0 if from_edge else reach, 0.0)
    out = scene.way(frame.out)
    amount = _amount(scene, thing.name, some, math.dist(mine, theirs))
    ends = (finished(mine, scene.part), finished(theirs, scene.part))
    return Gap(thing.name, other.other, some, *ends, amount, out, *reaches, straight is not None)


def _amount(scene: Scene, name: str, some: tuple[ReadDistance, ...], value: float) -> Amount:
    known = scene.spacings().get(frozenset((name, some[0].other)))
    give = (min(read.reading.u for read in some) if known is None else known) * EVEN_SPREAD
    standing = max(read.reading.standing for read in some)
    return wanted(value) if standing is Standing.WANTED else Amount(value, give, give, standing)


def straight_edge(model: Model, mention: str, name: str, part: str) -> tuple[Vector, Vector] | None:
    """A point of a line, side or flat and the unit normal across it, before the part is finished; None for a
    thing.
    """
    edge = model.edges.get(mention)
    if edge is not None and part not in FLATS:
        return edge[0], cross(edge[1], edge[2])
    if part in FLATS or isinstance(model.things.get(name), Plane):
        flat = model.flats.get(mention)
        return None if flat is None else (flat.flat.point, flat.flat.normal)
    return None


def place_of(model: Model, name: str, part: str) -> Vector | None:
    """Where a thing or a copy of it lies, before the part is finished."""
    thing = model.things.get(name)
    if thing is None or thing.spot is None:
        return None
    start = model.frames[thing.spot.plane].point(thing.spot.at, thing.spot.base)
    number = int(part) if part.isdigit() else 1
    return start if not 1 < number <= len(thing.copies) + 1 else thing.copies[number - 2].point(start)


def support(model: Model, thing: Thing, normal: Vector) -> float:
    """How far a thing reaches from its centre along a direction, as made, mm."""
    spot, frame = thing.placed, model.frames[thing.placed.plane]
    if not thing.straight_sided:
        return spot.half[1]
    first, second = frame.direction(spot.turn), frame.direction(spot.turn + 0.5 * math.pi)
    if isinstance(thing, Hole) and isinstance(thing.section, SlotSection):
        return (spot.half[0] - spot.half[1]) * abs(dot(first, normal)) + spot.half[1]
    return spot.half[0] * abs(dot(first, normal)) + spot.half[1] * abs(dot(second, normal))


def copied(scene: Scene, pattern: Pattern) -> Iterator[tuple[Thing, list[Vector]]]:
    """Each thing that a pattern copies, and where its copies lie in the finished part."""
    for mention in pattern.of:
        thing = scene.model.things[mention.thing]
        if isinstance(thing, Pattern):
            continue
        places = scene.places(thing)[: pattern.total]  # more are made by patterns of this one
        if len(places) > 1:
            yield thing, places


def centre_of(scene: Scene, mention: Mention) -> Vector | None:
    """Where a thing that is spoken of lies, before the part is finished."""
    return place_of(scene.model, mention.thing, mention.part)


def pitch(scene: Scene, thing: Thing, ends: tuple[Vector, Vector], step: Amount, times: int) -> Dimension:
    """The distance of the first and the last of evenly spaced copies, written as so many steps."""
    out = scene.way(scene.model.frames[thing.placed.plane].out)
    value = times * step.value
    said = step.text() if times == 1 else f"{times} \u00d7 {step.text()} (= {shown(value)})"
    return Dimension(thing.name, (ends,), said, value, out)
