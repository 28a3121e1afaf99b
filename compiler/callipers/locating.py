"""Where things are on the finished mesh, seen on some plane: found by their faces, never by where they were
put.

Where a thing was put only chooses among faces that carry its name (copies, two halves of a bore).  What makes
nothing of its own (a neighbour, a bare point that no outline turns at) lies where the recipe has it; `real`
is False then."""

from __future__ import annotations

import math
from typing import cast

from msgspec import Struct

from ..kinds import own_file
from ..model import Thing
from ..model.things import DatumLine
from ..places.layout import Frame
from ..quantities.vectors import XY, Vector, along, cross, dot
from .bench import Bench
from .corners import corner
from .surfaces import FlatFace, RoundFace, flats_of

STRAIGHT = 1e-6


class Located(Struct, frozen=True):
    """A thing on a plane: what is known of its place, each a unit direction on the plane and how far along
    it (mm), and its half-sizes as read: of a round its radius, else along its own direction `turn` and across
    it."""

    known: tuple[tuple[XY, float], ...]
    real: bool
    radius: float = 0.0
    long: float = 0.0
    wide: float = 0.0
    turn: float = 0.0

    def along(self, way: XY) -> float | None:
        """How far along a direction it lies; None where that was not found."""
        for known, value in self.known:
            aligned = known[0] * way[0] + known[1] * way[1]
            if abs(aligned) > 1 - STRAIGHT:
                return value * aligned
        at = self.at
        return None if at is None else at[0] * way[0] + at[1] * way[1]

    @property
    def at(self) -> XY | None:
        """Its place, where two directions are known."""
        if len(self.known) < 2:
            return None
        (a, one), (b, two) = self.known[:2]
        area = a[0] * b[1] - a[1] * b[0]
        if abs(area) < STRAIGHT:
            return None
        return (one * b[1] - two * a[1]) / area, (two * a[0] - one * b[0]) / area

    def support(self, way: XY) -> float:
        """Its half-size as read in a direction."""
        along = abs(way[0] * math.cos(self.turn) + way[1] * math.sin(self.turn))
        across = abs(way[1] * math.cos(self.turn) - way[0] * math.sin(self.turn))
        return self.radius + along * self.long + across * self.wide


class EdgeSeen(Struct, frozen=True):
    """A flat or line seen edge-on on a plane: n . p = offset, n its normal there (of a flat out of its
    material).
    """

    normal: XY
    offset: float
    real: bool


def located(bench: Bench, name: str, part: str, frame: Frame) -> Located | None:
    """A thing, or a copy of it, on a plane; None where it has no place."""
    key = ("thing", name, part, frame)
    if key not in bench.kept:
        bench.kept[key] = _located(bench, name, part, frame)
    return cast("Located | None", bench.kept[key])


def _located(bench: Bench, name: str, part: str, frame: Frame) -> Located | None:
    thing = bench.model.things.get(name)
    if thing is None or thing.spot is None:
        return None
    number = int(part) if part.isdigit() else 1
    home = bench.home(thing, number)
    radius, long, wide = _half_read(thing)
    turn = thing.spot.turn
    if abs(dot(bench.model.frame(thing).out, frame.out)) < 1 - STRAIGHT:
        radius = long = wide = turn = 0.0
    known = _found(bench, thing, number, frame, home)
    real = bool(known)
    if not known:
        at, _ = frame.onto(home)
        known = (((1.0, 0.0), at[0]), ((0.0, 1.0), at[1]))
    return Located(known, real, radius, long, wide, turn)


def _half_read(thing: Thing) -> tuple[float, float, float]:
    """Radius, and half-sizes along and across, as read: together with what the places say of them."""
    radius, long, wide = thing.edges_read
    left = 0.5 * sum(number.residual for number in thing.numbers)
    return (radius + left if radius > 0 else 0.0), long, wide


def _found(
    bench: Bench, thing: Thing, number: int, frame: Frame, home: Vector
) -> tuple[tuple[XY, float], ...]:
    """What the faces of a thing say of its place on a plane."""
    own = own_file(thing.noun, "callipers")
    if own is not None and hasattr(own, "where"):
        told: tuple[tuple[XY, float], ...] = own.where(bench, thing, number, frame)
        return told
    facets = bench.own(thing, number)
    if facets.empty:
        return corner(bench, thing, frame, home) if thing.carries_places else ()
    out = bench.turned(thing, number, bench.model.frame(thing).out)
    face = None
    if not thing.straight_sided:
        face = bench.round_face(thing, number) or bench.rounded(facets, out, home)
    if face is not None:
        return on_axis(face, frame, home)
    return _between_walls(bench, thing, number, frame)


def on_axis(face: RoundFace, frame: Frame, home: Vector) -> tuple[tuple[XY, float], ...]:
    """An axis on a plane: a place where it stands square to it, one direction where it lies in it."""
    slant = dot(face.way, frame.out)
    steps = dot(home, face.way) - dot(face.point, face.way)
    at, _ = frame.onto(along(face.point, (face.way, steps)))
    if abs(slant) > 1 - STRAIGHT:
        return ((1.0, 0.0), at[0]), ((0.0, 1.0), at[1])
    way = dot(face.way, frame.right), dot(face.way, frame.up)
    size = math.hypot(*way)
    square = (-way[1] / size, way[0] / size)
    return ((square, at[0] * square[0] + at[1] * square[1]),)


def _between_walls(bench: Bench, thing: Thing, number: int, frame: Frame) -> tuple[tuple[XY, float], ...]:
    """The middle between the walls of something with four sides; from one wall by its size as made, where
    the other one is gone.
    """
    assert thing.spot is not None
    home = bench.model.frame(thing)
    known = []
    for turn, half in (
        (thing.spot.turn, thing.spot.half[0]),
        (thing.spot.turn + 0.5 * math.pi, thing.spot.half[1]),
    ):
        way = bench.turned(thing, number, home.direction(turn))
        seen = dot(way, frame.right), dot(way, frame.up)
        if math.hypot(*seen) < 1 - STRAIGHT:
            continue
        middle = middle_between(bench, thing, number, way, half)
        if middle is not None:
            origin = dot(frame.origin, way)
            known.append((seen, middle - origin))
    return tuple(known)


def middle_between(bench: Bench, thing: Thing, number: int, way: Vector, half: float) -> float | None:
    """How far along a direction the middle between two walls lies; from one by `half`; None without any."""
    walls = walls_along(bench, thing, number, way)
    home = dot(bench.home(thing, number), way)
    low = [at for at, _ in walls if at < home]
    high = [at for at, _ in walls if at > home]
    if low and high:
        return 0.5 * (
            min(low, key=lambda at: abs(at - home + half)) + min(high, key=lambda at: abs(at - home - half))
        )
    if low or high:
        one = (low or high)[0]
        return one + half if low else one - half
    return None


def walls_along(
    bench: Bench, thing: Thing, number: int, way: Vector, sides: tuple[str, ...] = ()
) -> list[tuple[float, FlatFace]]:
    """The flats of a thing (or some sides of it) that face along a direction or against it, by how far along
    it they lie.
    """
    flats = flats_of(bench.own(thing, number, *sides))
    return sorted(
        ((dot(flat.point, way), flat) for flat in flats if abs(dot(flat.normal, way)) > 1 - STRAIGHT),
        key=lambda wall: wall[0],
    )


def straight(bench: Bench, name: str, part: str, frame: Frame) -> EdgeSeen | None:
    """A side, flat or line seen edge-on on a plane; None for what is none there."""
    key = ("side", name, part, frame)
    if key not in bench.kept:
        bench.kept[key] = _straight(bench, name, part, frame)
    return cast("EdgeSeen | None", bench.kept[key])


def _straight(bench: Bench, name: str, part: str, frame: Frame) -> EdgeSeen | None:
    thing = bench.model.things.get(name)
    if isinstance(thing, DatumLine):
        return _line(bench, thing, frame)
    if thing is None or not part or part.isdigit():
        return None
    flats = flats_of(bench.own(thing, 1, part))
    told = bench.model.flats.get(f"{name}.{part}")
    if told is not None:
        # copies of a body carry its name: its own side faces the way that it was placed
        flats = [flat for flat in flats if dot(flat.normal, told.flat.normal) > 1 - STRAIGHT]
    if flats:
        found = seen(flats[0].point, flats[0].normal, frame, True)
        return None if found is None else _as_read(bench, thing, found, flats[0].normal)
    if told is None:
        return None
    return seen(told.flat.point, told.flat.normal, frame, False)


def _as_read(bench: Bench, thing: Thing, edge: EdgeSeen, normal: Vector) -> EdgeSeen:
    """A side of a body that is made larger or smaller than it was read, moved to where it was read."""
    _, long, wide = thing.edges_read
    if thing.spot is None or not (long and wide):
        return edge
    frame, turn = bench.model.frame(thing), thing.spot.turn
    for read, made, way in (
        (long, thing.spot.half[0], turn),
        (wide, thing.spot.half[1], turn + 0.5 * math.pi),
    ):
        if abs(dot(frame.direction(way), normal)) > 1 - STRAIGHT:
            return EdgeSeen(edge.normal, edge.offset + read - made, edge.real)
    return edge


def seen(point: Vector, normal: Vector, frame: Frame, real: bool) -> EdgeSeen | None:
    """A flat as a plane sees it edge-on; None where it does not."""
    way = dot(normal, frame.right), dot(normal, frame.up)
    if math.hypot(*way) < 1 - STRAIGHT:
        return None
    at, _ = frame.onto(point)
    return EdgeSeen(way, at[0] * way[0] + at[1] * way[1], real)


def _line(bench: Bench, line: DatumLine, frame: Frame) -> EdgeSeen | None:
    facets = bench.faces(line.name)
    if not facets.empty:
        flats = flats_of(facets)
        found = seen(flats[0].point, flats[0].normal, frame, True)
        if found is not None:
            return found
    edge = bench.model.edges.get(line.name)
    if edge is None:
        return None
    point, way, out = edge
    return seen(point, cross(way, out), frame, False)


__all__ = ["EdgeSeen", "Located", "located", "straight", "walls_along"]
