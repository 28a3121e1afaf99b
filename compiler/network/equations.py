"""Rows of a network as equations that can be evaluated at a trial layout (see `measures`): their misses and
their slopes, which are the rows of the Jacobian.

Rows whose side word is unknown carry an open sign; it is picked once from the trial layout, by the smaller
miss, and then held while a fit runs, so that a fit never jumps between mirror answers."""

from __future__ import annotations

from msgspec import Struct

from .measures import (
    TINY,
    EdgeOf,
    MissAndSlopes,
    MissFunction,
    Unknowns,
    coordinate,
    direction,
    distance,
    half_size,
    heading,
    line_angle,
    line_between_lines,
    line_between_things,
    line_gap,
    line_offset,
    mid_thing,
    same_place_as,
    thing_between_lines,
    to_line,
)
from .types import (
    Centred,
    Coordinate,
    Distance,
    Heading,
    LineAngle,
    LineGap,
    Midway,
    ReadingRow,
    Tangent,
    ToLine,
)


class Equation(Struct, frozen=True, eq=False):
    """One row ready to evaluate: the items it ties, one u per scalar, whether its sign is still open; and
    (item, edge) of every thing whose half-size plays into it."""

    row: ReadingRow | None
    members: tuple[int, ...]
    us: tuple[float, ...]
    measure: MissFunction
    open_sign: bool = False
    edges: tuple[tuple[int, int], ...] = ()

    def sign(self, at: Unknowns) -> int:
        """The sign that fits the layout best: +1 unless -1 misses by less."""
        if not self.open_sign:
            return 1
        plus, minus = (sum(abs(miss) for miss, _ in self.measure(at, s)) for s in (1, -1))
        return 1 if plus <= minus + TINY else -1

    def scalars(self, at: Unknowns) -> list[MissAndSlopes]:
        """Misses and slopes with the sign that fits best."""
        return self.measure(at, self.sign(at))

    def misses(self, at: Unknowns) -> float:
        """The largest miss in units of u."""
        found = self.measure(at, self.sign(at) if self.open_sign else 1)
        if len(found) == 1:
            return abs(found[0][0]) / self.us[0]
        return max(abs(miss) / u for (miss, _), u in zip(found, self.us, strict=True))


def standing_in(eq: Equation, of: int, item: int) -> Equation:
    """The equation of thing `of`, asked of `item`, which lies in the same place."""

    def measure(at: Unknowns, sign: int) -> list[MissAndSlopes]:
        there = list(at)
        there[2 * of : 2 * of + 2] = at[2 * item : 2 * item + 2]
        found = eq.measure(there, sign)
        return [
            (miss, tuple((c + 2 * (item - of) if c // 2 == of else c, v) for c, v in ss))
            for miss, ss in found
        ]

    return Equation(eq.row, tuple(item if m == of else m for m in eq.members), eq.us, measure, eq.open_sign)


def equation(row: ReadingRow, where: dict[str, int], things: dict[int, Centred], lever: float) -> Equation:
    """The equation of one row.  `where` gives item numbers by name, `lever` (mm) weighs angles of a middle
    line.

    Raises ValueError where a row names something unknown, or ties things of the wrong kind."""

    def thing(name: str) -> int:
        if where.get(name) not in things:
            raise ValueError(f"{name} is no thing of this plane")
        return where[name]

    def line(name: str) -> int:
        if name not in where or where[name] in things:
            raise ValueError(f"{name} is no line of this plane")
        return where[name]

    u = (row.u,)
    match row:
        case Distance():
            a, b = thing(row.a), thing(row.b)
            ea, eb = row.edge_a.value, row.edge_b.value
            if ea == 0 and eb == 0 and row.value == 0:
                return Equation(row, (a, b), u * 2, same_place_as(a, b))
            measure = distance(EdgeOf(a, things[a], ea), EdgeOf(b, things[b], eb), row.value)
            return Equation(row, (a, b), u, measure, False, ((a, ea), (b, eb)))
        case ToLine():
            p, k = thing(row.thing), line(row.line)
            edge = row.edge.value
            return Equation(
                row,
                (p, k),
                u,
                to_line(p, k, things[p], edge, row.value, row.side),
                row.side == 0,
                ((p, edge),),
            )
        case Tangent():
            p, k = thing(row.thing), line(row.line)
            return Equation(
                row, (p, k), u, to_line(p, k, things[p], -1, 0.0, row.side), row.side == 0, ((p, -1),)
            )
        case Coordinate():
            a, o = thing(row.a), None if row.b is None else thing(row.b)
            edge = row.edge.value
            value = row.value - edge * half_size(things[a], *direction(row.angle))[0]
            measure = coordinate(a, o, row.angle, value, row.side)
            return Equation(
                row, (a,) if o is None else (a, o), u, measure, False, ((a, edge),) if edge else ()
            )
        case LineAngle():
            k, o = line(row.line), None if row.other is None else line(row.other)
            return Equation(row, (k,) if o is None else (k, o), u, line_angle(k, o, row.value))
        case Heading():
            a, b, o = thing(row.a), thing(row.b), None if row.other is None else line(row.other)
            return Equation(row, (a, b) if o is None else (a, b, o), u, heading(a, b, o, row.value))
        case LineGap():
            k, m = line(row.line), line(row.other)
            return Equation(row, (k, m), u, line_gap(k, m, row.value, row.side), row.side == 0)
        case Midway():
            return _midway(row, where, things, lever)


def _midway(row: Midway, where: dict[str, int], things: dict[int, Centred], lever: float) -> Equation:
    for name in (row.a, row.first, row.second):
        if name not in where:
            raise ValueError(f"{name} is not in this plane")
    a, f, g = where[row.a], where[row.first], where[row.second]
    members = (a, f, g)
    if (f in things) != (g in things):
        raise ValueError(f"the middle between a thing and a line ({row.first}, {row.second}) has no meaning")
    if f in things:
        return Equation(
            row, members, (row.u, row.u), (mid_thing if a in things else line_between_things)(a, f, g)
        )
    if a in things:
        return Equation(row, members, (row.u,), thing_between_lines(a, f, g), True)
    return Equation(row, members, (row.u / lever, row.u), line_between_lines(a, f, g), True)


def coordinate_equation(a: int, angle: float, u: float) -> Equation:
    """A thing's coordinate along `angle` is 0: chooses a frame, is no reading."""
    return Equation(None, (a,), (u,), coordinate(a, None, angle, 0.0))


def heading_equation(a: int, b: int, angle: float, u: float) -> Equation:
    """The direction from a to b is `angle`: chooses a frame, is no reading."""
    return Equation(None, (a, b), (u,), heading(a, b, None, angle))


def normal_equation(line: int, angle: float, u: float) -> Equation:
    """A line's direction is `angle`: chooses a frame, is no reading."""
    return Equation(None, (line,), (u,), line_angle(line, None, angle))


def offset_equation(line: int, u: float) -> Equation:
    """A line runs through the plane's origin: chooses a frame, is no reading."""
    return Equation(None, (line,), (u,), line_offset(line))
