"""Rows of a network as equations: what a row misses by at a trial layout, and how that changes with every
unknown.

A layout is one flat list; item i (a thing or a line) owns entries 2i and 2i + 1: x, y of a centre (mm) or
normal angle (rad) and offset (mm) of a line.  An equation gives one or two scalars, each a miss (found minus
given, mm or rad) with its slopes.  Rows whose side word is unknown carry an open sign; it is picked once from
the trial layout, by the smaller miss, and then held while a fit runs, so that a fit never jumps between
mirror answers."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence

from msgspec import Struct

from .types import Coordinate, Distance, Heading, LineAngle, LineGap, Midway, Row, Tangent, Thing, ToLine

Slopes = tuple[tuple[int, float], ...]
Scalar = tuple[float, Slopes]
Layout = Sequence[float]
Measure = Callable[[Layout, int], list[Scalar]]

TINY = 1e-12


class Equation(Struct, frozen=True, eq=False):
    """One row ready to evaluate: the items it ties, one u per scalar, whether its sign is still open; and
    (item, edge) of every thing whose half-size plays into it."""

    row: Row | None
    members: tuple[int, ...]
    us: tuple[float, ...]
    measure: Measure
    open_sign: bool = False
    edges: tuple[tuple[int, int], ...] = ()

    def sign(self, at: Layout) -> int:
        """The sign that fits the layout best: +1 unless -1 misses by less."""
        if not self.open_sign:
            return 1
        plus, minus = (sum(abs(miss) for miss, _ in self.measure(at, s)) for s in (1, -1))
        return 1 if plus <= minus + TINY else -1

    def scalars(self, at: Layout) -> list[Scalar]:
        """Misses and slopes with the sign that fits best."""
        return self.measure(at, self.sign(at))

    def misses(self, at: Layout) -> float:
        """The largest miss in units of u."""
        found = self.measure(at, self.sign(at) if self.open_sign else 1)
        if len(found) == 1:
            return abs(found[0][0]) / self.us[0]
        return max(abs(miss) / u for (miss, _), u in zip(found, self.us, strict=True))


def standing_in(eq: Equation, of: int, item: int) -> Equation:
    """The equation of thing `of`, asked of `item`, which lies in the same place."""

    def measure(at: Layout, sign: int) -> list[Scalar]:
        there = list(at)
        there[2 * of : 2 * of + 2] = at[2 * item : 2 * item + 2]
        found = eq.measure(there, sign)
        return [
            (miss, tuple((c + 2 * (item - of) if c // 2 == of else c, v) for c, v in ss))
            for miss, ss in found
        ]

    return Equation(eq.row, tuple(item if m == of else m for m in eq.members), eq.us, measure, eq.open_sign)


def wrap(angle: float, period: float) -> float:
    """`angle` brought into [-period/2, period/2]."""
    return math.remainder(angle, period)


def half_size(thing: Thing, nx: float, ny: float) -> tuple[float, float, float]:
    """Half-size of a thing towards unit (nx, ny), and its slopes with nx and ny; a kink has slope zero."""
    if not (thing.half_long or thing.half_wide):
        return thing.radius, 0.0, 0.0
    ux, uy = math.cos(thing.turn), math.sin(thing.turn)
    along, across = nx * ux + ny * uy, ny * ux - nx * uy
    along, across = (0.0 if abs(v) < 1e-9 else v for v in (along, across))
    size = thing.radius + abs(along) * thing.half_long + abs(across) * thing.half_wide
    ka = math.copysign(thing.half_long, along) if along else 0.0
    kb = math.copysign(thing.half_wide, across) if across else 0.0
    return size, ka * ux - kb * uy, ka * uy + kb * ux


def _round_distance(a: int, b: int, between: float) -> Measure:
    ax, ay, bx, by = 2 * a, 2 * a + 1, 2 * b, 2 * b + 1

    def measure(at: Layout, _: int) -> list[Scalar]:
        dx, dy = at[bx] - at[ax], at[by] - at[ay]
        d = math.hypot(dx, dy)
        nx, ny = (dx / d, dy / d) if d > TINY else (1.0, 0.0)
        return [(d - between, ((ax, -nx), (ay, -ny), (bx, nx), (by, ny)))]

    return measure


def _is_round(thing: Thing) -> bool:
    return not (thing.half_long or thing.half_wide)


def _distance(a: int, b: int, ta: Thing, tb: Thing, ea: int, eb: int, value: float) -> Measure:
    if _is_round(ta) and _is_round(tb):
        return _round_distance(a, b, value - ea * ta.radius - eb * tb.radius)

    def measure(at: Layout, _: int) -> list[Scalar]:
        dx, dy = at[2 * b] - at[2 * a], at[2 * b + 1] - at[2 * a + 1]
        d = math.hypot(dx, dy)
        nx, ny = (dx / d, dy / d) if d > TINY else (1.0, 0.0)
        ha, hax, hay = half_size(ta, nx, ny)
        hb, hbx, hby = half_size(tb, nx, ny)
        hx, hy = ea * hax + eb * hbx, ea * hay + eb * hby
        turn = (hy * nx - hx * ny) / d if d > TINY else 0.0
        gx, gy = nx - ny * turn, ny + nx * turn
        return [
            (d + ea * ha + eb * hb - value, ((2 * a, -gx), (2 * a + 1, -gy), (2 * b, gx), (2 * b + 1, gy)))
        ]

    return measure


def _same_place(a: int, b: int) -> Measure:
    def measure(at: Layout, _: int) -> list[Scalar]:
        return [(at[2 * b + k] - at[2 * a + k], ((2 * a + k, -1.0), (2 * b + k, 1.0))) for k in (0, 1)]

    return measure


def _round_to_line(p: int, line: int, away: float, side: int) -> Measure:
    px, py, angle, offset = 2 * p, 2 * p + 1, 2 * line, 2 * line + 1

    def measure(at: Layout, sign: int) -> list[Scalar]:
        s, x, y = side or sign, at[px], at[py]
        nx, ny = math.cos(at[angle]), math.sin(at[angle])
        slopes = ((px, s * nx), (py, s * ny), (angle, s * (nx * y - ny * x)), (offset, -float(s)))
        return [(s * (nx * x + ny * y - at[offset]) - away, slopes)]

    return measure


def _to_line(p: int, line: int, thing: Thing, edge: int, value: float, side: int) -> Measure:
    if _is_round(thing):
        return _round_to_line(p, line, value - edge * thing.radius, side)

    def measure(at: Layout, sign: int) -> list[Scalar]:
        s = side or sign
        x, y, angle, c = at[2 * p], at[2 * p + 1], at[2 * line], at[2 * line + 1]
        nx, ny = math.cos(angle), math.sin(angle)
        h, hx, hy = half_size(thing, nx, ny)
        swing = s * (nx * y - ny * x) + edge * (hy * nx - hx * ny)
        slopes = ((2 * p, s * nx), (2 * p + 1, s * ny), (2 * line, swing), (2 * line + 1, -float(s)))
        return [(s * (nx * x + ny * y - c) + edge * h - value, slopes)]

    return measure


def direction(angle: float, side: int = 0) -> tuple[float, float]:
    """Unit vector at an angle, turned round for side -1; exact along the axes."""
    s = side or 1
    cx, cy = (0.0 if abs(v) < 1e-15 else s * v for v in (math.cos(angle), math.sin(angle)))
    return cx, cy


def _coordinate(a: int, b: int | None, angle: float, value: float, side: int = 0) -> Measure:
    cx, cy = direction(angle, side)

    def measure(at: Layout, _: int) -> list[Scalar]:
        found = cx * at[2 * a] + cy * at[2 * a + 1]
        slopes: Slopes = ((2 * a, cx), (2 * a + 1, cy))
        if b is not None:
            found -= cx * at[2 * b] + cy * at[2 * b + 1]
            slopes += ((2 * b, -cx), (2 * b + 1, -cy))
        return [(found - value, slopes)]

    return measure


def _mid_thing(a: int, f: int, s: int) -> Measure:
    def measure(at: Layout, _: int) -> list[Scalar]:
        return [
            (
                at[2 * a + k] - (at[2 * f + k] + at[2 * s + k]) / 2,
                ((2 * a + k, 1.0), (2 * f + k, -0.5), (2 * s + k, -0.5)),
            )
            for k in (0, 1)
        ]

    return measure


def _even_sign(at: Layout, f: int, g: int, sign: int) -> int:
    """Parallel lines have one middle only; the other sign would be a line at infinity."""
    between = at[2 * f] - at[2 * g]
    if abs(math.sin(between)) > 1e-6:
        return sign
    return -1 if math.cos(between) > 0 else 1


def _thing_between_lines(a: int, f: int, g: int) -> Measure:
    def measure(at: Layout, sign: int) -> list[Scalar]:
        s = _even_sign(at, f, g, sign)
        x, y = at[2 * a], at[2 * a + 1]
        fx, fy, gx, gy = math.cos(at[2 * f]), math.sin(at[2 * f]), math.cos(at[2 * g]), math.sin(at[2 * g])
        miss = (fx * x + fy * y - at[2 * f + 1]) - s * (gx * x + gy * y - at[2 * g + 1])
        slopes = (
            (2 * a, (fx - s * gx) / 2),
            (2 * a + 1, (fy - s * gy) / 2),
            (2 * f, (fx * y - fy * x) / 2),
            (2 * f + 1, -0.5),
            (2 * g, -s * (gx * y - gy * x) / 2),
            (2 * g + 1, s / 2),
        )
        return [(miss / 2, slopes)]

    return measure


def _line_between_things(line: int, f: int, g: int) -> Measure:
    """The middle line of two things is square to the line of their centres, half-way: their mirror axis."""

    def measure(at: Layout, _: int) -> list[Scalar]:
        nx, ny = math.cos(at[2 * line]), math.sin(at[2 * line])
        mx, my = (at[2 * f] + at[2 * g]) / 2, (at[2 * f + 1] + at[2 * g + 1]) / 2
        dx, dy = (at[2 * g] - at[2 * f]) / 2, (at[2 * g + 1] - at[2 * f + 1]) / 2
        half = ((2 * f, nx / 2), (2 * f + 1, ny / 2), (2 * g, nx / 2), (2 * g + 1, ny / 2))
        turn = ((2 * f, ny / 2), (2 * f + 1, -nx / 2), (2 * g, -ny / 2), (2 * g + 1, nx / 2))
        return [
            (
                nx * mx + ny * my - at[2 * line + 1],
                (*half, (2 * line, nx * my - ny * mx), (2 * line + 1, -1.0)),
            ),
            (nx * dy - ny * dx, (*turn, (2 * line, -nx * dx - ny * dy))),
        ]

    return measure


def _line_between_lines(line: int, f: int, g: int) -> Measure:
    """Points as far from f as from g: normal n_f - s n_g, offset c_f - s c_g; s = -1 is the middle of
    parallels.
    """

    def measure(at: Layout, sign: int) -> list[Scalar]:
        s = _even_sign(at, f, g, sign)
        af, cf, ag, cg = at[2 * f], at[2 * f + 1], at[2 * g], at[2 * g + 1]
        angle, c = at[2 * line], at[2 * line + 1]
        mx, my = math.cos(af) - s * math.cos(ag), math.sin(af) - s * math.sin(ag)
        size = max(math.hypot(mx, my), 1e-7)
        k = cf - s * cg
        facing = 1.0 if mx * math.cos(angle) + my * math.sin(angle) >= 0 else -1.0
        bend = (
            s * math.sin(af - ag) / size
        )  # d|m|/d(af); minus that for ag, because |m|^2 = 2 - 2 s cos(af - ag)
        swing = facing * k / (size * size) * bend
        target = (af + ag) / 2 + (math.pi / 2 if s > 0 else 0.0)
        return [
            (wrap(angle - target, math.pi), ((2 * line, 1.0), (2 * f, -0.5), (2 * g, -0.5))),
            (
                c - facing * k / size,
                (
                    (2 * line + 1, 1.0),
                    (2 * f + 1, -facing / size),
                    (2 * g + 1, facing * s / size),
                    (2 * f, swing),
                    (2 * g, -swing),
                ),
            ),
        ]

    return measure


def _line_angle(line: int, other: int | None, value: float) -> Measure:
    def measure(at: Layout, _: int) -> list[Scalar]:
        if other is None:
            return [(wrap(at[2 * line] - math.pi / 2 - value, math.pi), ((2 * line, 1.0),))]
        return [(wrap(at[2 * line] - at[2 * other] - value, math.pi), ((2 * line, 1.0), (2 * other, -1.0)))]

    return measure


def _heading(a: int, b: int, other: int | None, value: float) -> Measure:
    def measure(at: Layout, _: int) -> list[Scalar]:
        dx, dy = at[2 * b] - at[2 * a], at[2 * b + 1] - at[2 * a + 1]
        d2 = max(dx * dx + dy * dy, 1e-18)
        base = at[2 * other] - math.pi / 2 if other is not None else 0.0
        sx, sy = -dy / d2, dx / d2
        slopes: Slopes = ((2 * a, -sx), (2 * a + 1, -sy), (2 * b, sx), (2 * b + 1, sy))
        if other is not None:
            slopes += ((2 * other, -1.0),)
        return [(wrap(math.atan2(dy, dx) - base - value, 2 * math.pi), slopes)]

    return measure


def _line_gap(line: int, other: int, value: float, side: int) -> Measure:
    def measure(at: Layout, sign: int) -> list[Scalar]:
        s = side or sign
        facing = 1.0 if math.cos(at[2 * line] - at[2 * other]) >= 0 else -1.0
        miss = s * (facing * at[2 * line + 1] - at[2 * other + 1]) - value
        return [(miss, ((2 * line + 1, s * facing), (2 * other + 1, -float(s))))]

    return measure


def line_offset(line: int) -> Measure:
    """A line runs through the page's origin; only used to choose a frame."""

    def measure(at: Layout, _: int) -> list[Scalar]:
        return [(at[2 * line + 1], ((2 * line + 1, 1.0),))]

    return measure


def equation(row: Row, where: dict[str, int], things: dict[int, Thing], lever: float) -> Equation:
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
                return Equation(row, (a, b), u * 2, _same_place(a, b))
            measure = _distance(a, b, things[a], things[b], ea, eb, row.value)
            return Equation(row, (a, b), u, measure, False, ((a, ea), (b, eb)))
        case ToLine():
            p, k = thing(row.thing), line(row.line)
            edge = row.edge.value
            return Equation(
                row,
                (p, k),
                u,
                _to_line(p, k, things[p], edge, row.value, row.side),
                row.side == 0,
                ((p, edge),),
            )
        case Tangent():
            p, k = thing(row.thing), line(row.line)
            return Equation(
                row, (p, k), u, _to_line(p, k, things[p], -1, 0.0, row.side), row.side == 0, ((p, -1),)
            )
        case Coordinate():
            a, o = thing(row.a), None if row.b is None else thing(row.b)
            edge = row.edge.value
            value = row.value - edge * half_size(things[a], *direction(row.angle))[0]
            measure = _coordinate(a, o, row.angle, value, row.side)
            return Equation(
                row, (a,) if o is None else (a, o), u, measure, False, ((a, edge),) if edge else ()
            )
        case LineAngle():
            k, o = line(row.line), None if row.other is None else line(row.other)
            return Equation(row, (k,) if o is None else (k, o), u, _line_angle(k, o, row.value))
        case Heading():
            a, b, o = thing(row.a), thing(row.b), None if row.other is None else line(row.other)
            return Equation(row, (a, b) if o is None else (a, b, o), u, _heading(a, b, o, row.value))
        case LineGap():
            k, m = line(row.line), line(row.other)
            return Equation(row, (k, m), u, _line_gap(k, m, row.value, row.side), row.side == 0)
        case Midway():
            return _midway(row, where, things, lever)


def _midway(row: Midway, where: dict[str, int], things: dict[int, Thing], lever: float) -> Equation:
    for name in (row.a, row.first, row.second):
        if name not in where:
            raise ValueError(f"{name} is not in this plane")
    a, f, g = where[row.a], where[row.first], where[row.second]
    members = (a, f, g)
    if (f in things) != (g in things):
        raise ValueError(f"the middle between a thing and a line ({row.first}, {row.second}) has no meaning")
    if f in things:
        return Equation(
            row, members, (row.u, row.u), (_mid_thing if a in things else _line_between_things)(a, f, g)
        )
    if a in things:
        return Equation(row, members, (row.u,), _thing_between_lines(a, f, g), True)
    return Equation(row, members, (row.u / lever, row.u), _line_between_lines(a, f, g), True)


def coordinate_equation(a: int, angle: float, u: float) -> Equation:
    """A thing's coordinate along `angle` is 0: chooses a frame, is no reading."""
    return Equation(None, (a,), (u,), _coordinate(a, None, angle, 0.0))


def heading_equation(a: int, b: int, angle: float, u: float) -> Equation:
    """The direction from a to b is `angle`: chooses a frame, is no reading."""
    return Equation(None, (a, b), (u,), _heading(a, b, None, angle))


def normal_equation(line: int, angle: float, u: float) -> Equation:
    """A line's direction is `angle`: chooses a frame, is no reading."""
    return Equation(None, (line,), (u,), _line_angle(line, None, angle))


def offset_equation(line: int, u: float) -> Equation:
    """A line runs through the page's origin: chooses a frame, is no reading."""
    return Equation(None, (line,), (u,), line_offset(line))
