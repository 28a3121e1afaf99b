"""Readings of places taken again on the mesh: between the edges of two things, from a side or a line, at two
distances, at an angle.

Edges are taken as they were read, not as they are made: a hole made wider for its pin is still where it was
read.  How wide it is made, its own size tells."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator

from ..facts import Ref
from ..facts.placing import (
    AngleAt,
    AngleFrom,
    Around,
    At,
    Beside,
    From,
    LevelWith,
    LineAngled,
    MidwayBetween,
    Over,
    PlumbWith,
)
from ..model import Thing
from ..model.stated import PlacedBy
from ..model.things import DatumLine
from ..places.layout import Frame
from ..quantities.vectors import XY
from .bench import Bench
from .locating import EdgeSeen, Located, located, straight
from .taking import Seen, headed, placed
from .types import Taken

NOWHERE = "neither end of it is on the part"
NOT_FOUND = "its faces are not left on the part, or meet no plain surface"
_RIGHT, _UP = (1.0, 0.0), (0.0, 1.0)


def place_readings(bench: Bench, thing: Thing) -> Iterator[Taken]:
    """All readings that place a thing, taken again."""
    frame = bench.model.frames.get(thing.plane)
    if frame is None:
        return
    for by in thing.placed_by:
        take = _TAKERS.get(type(by.fact))
        if take is not None:
            yield from take(bench, thing, by, frame)


# -- from and over ------------------------------------------------------------------------------


def _from(bench: Bench, thing: Thing, by: PlacedBy, frame: Frame) -> Iterator[Taken]:
    fact = by.fact
    assert isinstance(fact, From)
    found, why = _from_found(bench, thing, fact, frame)
    yield placed(thing, by, "readings", fact.reading.value, (found, why))


def _from_found(bench: Bench, thing: Thing, fact: From, frame: Frame) -> Seen:
    edge = straight(bench, fact.thing.name, fact.thing.part, frame)
    if isinstance(thing, DatumLine):
        return _line_found(bench, thing, fact, frame, edge)
    mine = located(bench, thing.name, "", frame)
    if mine is None:
        return None, NOT_FOUND
    if edge is not None:
        return _to_straight(mine, edge, fact, _outside(thing, fact.thing, edge))
    other = located(bench, fact.thing.name, fact.thing.part, frame)
    if other is None:
        return None, NOT_FOUND
    if not (mine.real or other.real):
        return None, NOWHERE
    first, _, second = fact.edges.partition("-")
    if mine.wide > 0 or other.wide > 0:
        return _to_wall(mine, other, _way_beside(thing, fact.thing), first, second)
    if second:
        return _between(mine, other, _SIGN[first], _SIGN[second])
    sign = _SIGN.get(first, 0)
    return _between(mine, other, sign if mine.radius > 0 else 0, 0 if mine.radius > 0 else sign)


_SIGN = {"near": -1, "far": 1, "centre": 0, "centres": 0, "": 0}
_BESIDE: dict[str, XY] = {"left": (-1.0, 0.0), "right": _RIGHT, "above": _UP, "below": (0.0, -1.0)}


def _between(mine: Located, other: Located, own: int, theirs: int) -> Seen:
    """From edge to edge along the line through both middles; -1 a near edge, +1 a far one."""
    a, b = mine.at, other.at
    if a is None or b is None:
        return None, NOT_FOUND
    apart = math.dist(a, b)
    way = ((a[0] - b[0]) / apart, (a[1] - b[1]) / apart) if apart > 0 else _RIGHT
    return apart + own * mine.support(way) + theirs * other.support(way), ""


def _to_wall(mine: Located, other: Located, way: XY | None, own: str, theirs: str) -> Seen:
    """From a round (or a bare place) to a wall of something with four sides, the way it lies."""
    if way is None:
        return None, NOT_FOUND
    a, b = mine.along(way), other.along(way)
    if a is None or b is None:
        return None, NOT_FOUND
    return a - b + _SIGN.get(own, 0) * mine.support(way) + _SIGN.get(theirs, 0) * other.support(way), ""


def _to_straight(mine: Located, edge: EdgeSeen, fact: From, outside: bool) -> Seen:
    """From a side (into its body unless told `outside`) or a line (to whichever hand) to an edge."""
    if not (mine.real or edge.real):
        return None, NOWHERE
    along = mine.along(edge.normal)
    if along is None:
        return None, NOT_FOUND
    away = along - edge.offset
    away = (away if outside else -away) if fact.thing.part else abs(away)
    return away + _SIGN.get(fact.edges, 0) * mine.support(edge.normal), ""


def _line_found(bench: Bench, line: DatumLine, fact: From, frame: Frame, edge: EdgeSeen | None) -> Seen:
    """From a line to a thing, or to a side or another line along it."""
    own = straight(bench, line.name, "", frame)
    if own is None:
        return None, NOT_FOUND
    if edge is not None:
        if not (own.real or edge.real):
            return None, NOWHERE
        same = own.normal[0] * edge.normal[0] + own.normal[1] * edge.normal[1]
        away = math.copysign(1.0, same) * own.offset - edge.offset
        if not fact.thing.part:
            return abs(away), ""
        return (away if _outside(line, fact.thing, edge) else -away), ""
    other = located(bench, fact.thing.name, fact.thing.part, frame)
    if other is None:
        return None, NOT_FOUND
    if not (own.real or other.real):
        return None, NOWHERE
    along = other.along(own.normal)
    if along is None:
        return None, NOT_FOUND
    return abs(along - own.offset) + _SIGN.get(fact.edges, 0) * other.support(own.normal), ""


def _beside(thing: Thing, ref: Ref) -> list[str]:
    """The side words by which a thing was said to lie beside another, or a side of it."""
    facts = [by.fact for by in thing.placed_by]
    return [
        fact.way for fact in facts if isinstance(fact, Beside) and str(fact.thing) in (ref.name, str(ref))
    ]


def _outside(thing: Thing, ref: Ref, edge: EdgeSeen) -> bool:
    """Whether it was said to lie on the side that a flat faces: the reading runs away from its body."""
    ways = [_BESIDE[way] for way in _beside(thing, ref)]
    return any(way[0] * edge.normal[0] + way[1] * edge.normal[1] > 0.5 for way in ways)


def _way_beside(thing: Thing, ref: Ref) -> XY | None:
    ways = _beside(thing, ref)
    return _BESIDE[ways[0]] if len(ways) == 1 else None


def _over(bench: Bench, thing: Thing, by: PlacedBy, frame: Frame) -> Iterator[Taken]:
    fact = by.fact
    assert isinstance(fact, Over)
    mine, other = (
        located(bench, thing.name, "", frame),
        located(bench, fact.thing.name, fact.thing.part, frame),
    )
    found, why = (None, NOT_FOUND) if mine is None or other is None else (None, NOWHERE)
    if mine is not None and other is not None and (mine.real or other.real):
        found, why = _between(mine, other, 1, 1)
    yield placed(thing, by, "readings", fact.reading.value, (found, why))


# -- two distances, one middle ------------------------------------------------------------------


def _at(bench: Bench, thing: Thing, by: PlacedBy, frame: Frame) -> Iterator[Taken]:
    fact = by.fact
    assert isinstance(fact, At)
    mine = located(bench, thing.name, "", frame)
    other = _origin(bench, fact.other, frame)
    for which, (key, number, way) in enumerate((("x", fact.x, _RIGHT), ("y", fact.y, _UP))):
        found, why = _apart(mine, other, way)
        yield placed(thing, by, key, number.value, (found, why), which)


_ORIGIN = Located(((_RIGHT, 0.0), (_UP, 0.0)), False)


def _origin(bench: Bench, ref: Ref | None, frame: Frame) -> Located | None:
    return _ORIGIN if ref is None else located(bench, ref.name, ref.part, frame)


def _apart(mine: Located | None, other: Located | None, way: XY) -> Seen:
    if mine is None or other is None:
        return None, NOT_FOUND
    if not (mine.real or other.real):
        return None, NOWHERE
    a, b = mine.along(way), other.along(way)
    return (None, NOT_FOUND) if a is None or b is None else (a - b, "")


def _shared(bench: Bench, thing: Thing, by: PlacedBy, frame: Frame) -> Iterator[Taken]:
    """`around`, `level with`, `plumb with`: no distance in some directions."""
    fact = by.fact
    assert isinstance(fact, Around | LevelWith | PlumbWith)
    mine = located(bench, thing.name, "", frame)
    other = located(bench, fact.thing.name, fact.thing.part, frame)
    ways = {"x": _RIGHT, "y": _UP}
    for key in (
        ("y",) if isinstance(fact, LevelWith) else ("x",) if isinstance(fact, PlumbWith) else ("x", "y")
    ):
        found, why = _apart(mine, other, ways[key])
        yield placed(thing, by, key, 0.0, (found, why), int(isinstance(fact, Around) and key == "y"))


_ROUND_SIDES = {"left": "x", "right": "x", "top": "y", "bottom": "y"}
"""The way in which the middle between two opposite sides of a round is its own."""


def _midway(bench: Bench, thing: Thing, by: PlacedBy, frame: Frame) -> Iterator[Taken]:
    fact = by.fact
    assert isinstance(fact, MidwayBetween)
    if isinstance(thing, DatumLine):
        return
    mine = located(bench, thing.name, "", frame)
    sides = [straight(bench, ref.name, ref.part, frame) for ref in (fact.first, fact.second)]
    if mine is None:
        return
    if sides[0] is not None and sides[1] is not None:
        way = sides[0].normal
        along = mine.along(way)
        same = math.copysign(1.0, way[0] * sides[1].normal[0] + way[1] * sides[1].normal[1])
        middle = 0.5 * (sides[0].offset + same * sides[1].offset)
        found = None if along is None else along - middle
        why = NOT_FOUND if found is None else ""
        if not (mine.real or sides[0].real or sides[1].real):
            found, why = None, NOWHERE
        yield placed(thing, by, "", 0.0, (found, why))
        return
    if any(ref.part and not ref.part.isdigit() for ref in (fact.first, fact.second)):
        return  # between the sides of rounds: only across them, and these have no flats
    ends = [located(bench, ref.name, ref.part, frame) for ref in (fact.first, fact.second)]
    across = {_ROUND_SIDES.get(ref.part, "xy") for ref in (fact.first, fact.second)}
    if ends[0] is None or ends[1] is None:
        return
    for which, (key, way) in enumerate((("x", _RIGHT), ("y", _UP))):
        if not all(key in some for some in across):
            continue
        places = [one.along(way) for one in (mine, ends[0], ends[1])]
        a, b, c = places
        found = None if a is None or b is None or c is None else a - 0.5 * (b + c)
        real = mine.real or ends[0].real or ends[1].real
        why = NOWHERE if not real else NOT_FOUND if found is None else ""
        yield placed(thing, by, key, 0.0, (found if real else None, why), which)


# -- directions ---------------------------------------------------------------------------------


def _heading(bench: Bench, thing: Thing, by: PlacedBy, frame: Frame) -> Iterator[Taken]:
    fact = by.fact
    assert isinstance(fact, AngleFrom | AngleAt)
    mine, other = (
        located(bench, thing.name, "", frame),
        located(bench, fact.other.name, fact.other.part, frame),
    )
    corner = located(bench, fact.vertex.name, fact.vertex.part, frame) if isinstance(fact, AngleAt) else other
    found, why = None, NOT_FOUND
    if mine is not None and other is not None and corner is not None:
        a, b, c = mine.at, other.at, corner.at
        if not (mine.real or other.real or corner.real):
            why = NOWHERE
        elif a is not None and b is not None and c is not None:
            found, why = math.degrees(math.atan2(a[1] - c[1], a[0] - c[0])), ""
            if isinstance(fact, AngleAt):
                found -= math.degrees(math.atan2(b[1] - c[1], b[0] - c[0]))
    yield headed(thing, by, fact.angle.value, (found, why))


def _line_angle(bench: Bench, thing: Thing, by: PlacedBy, frame: Frame) -> Iterator[Taken]:
    fact = by.fact
    assert isinstance(fact, LineAngled)
    own = straight(bench, thing.name, "", frame)
    other = None if fact.other is None else straight(bench, fact.other.name, fact.other.part, frame)
    if own is None or (fact.other is not None and other is None):
        found, why = None, NOT_FOUND
    elif not (own.real or (other is not None and other.real)):
        found, why = None, NOWHERE
    else:
        found, why = _direction(own) - (0.0 if other is None else _direction(other)), ""
    yield headed(thing, by, fact.angle, (found, why), 180.0)


def _direction(edge: EdgeSeen) -> float:
    """Which way a flat runs on the plane, degrees from its right."""
    return math.degrees(math.atan2(edge.normal[1], edge.normal[0])) - 90.0


_TAKERS: dict[type, Callable[[Bench, Thing, PlacedBy, Frame], Iterator[Taken]]] = {
    From: _from,
    Over: _over,
    At: _at,
    Around: _shared,
    LevelWith: _shared,
    PlumbWith: _shared,
    MidwayBetween: _midway,
    AngleFrom: _heading,
    AngleAt: _heading,
    LineAngled: _line_angle,
}
