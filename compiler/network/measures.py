"""What each kind of row misses by at a trial layout, and how that changes with every unknown.

A layout is one flat list; item i (a thing or a line) owns entries 2i and 2i + 1: x, y of a centre (mm) or
normal angle (rad) and offset (mm) of a line.  A measure takes it with a sign (+1 or -1, for rows that may be
met on either side) and gives one or two scalars, each a miss (found minus given, mm or rad) with slopes."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence

from msgspec import Struct

from .types import Centred

Slopes = tuple[tuple[int, float], ...]
MissAndSlopes = tuple[float, Slopes]
Unknowns = Sequence[float]
MissFunction = Callable[[Unknowns, int], list[MissAndSlopes]]

TINY = 1e-12


def wrap(angle: float, period: float) -> float:
    """`angle` brought into [-period/2, period/2]."""
    return math.remainder(angle, period)


def half_size(thing: Centred, nx: float, ny: float) -> tuple[float, float, float]:
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


def _round_distance(a: int, b: int, between: float) -> MissFunction:
    ax, ay, bx, by = 2 * a, 2 * a + 1, 2 * b, 2 * b + 1

    def measure(at: Unknowns, _: int) -> list[MissAndSlopes]:
        dx, dy = at[bx] - at[ax], at[by] - at[ay]
        d = math.hypot(dx, dy)
        nx, ny = (dx / d, dy / d) if d > TINY else (1.0, 0.0)
        return [(d - between, ((ax, -nx), (ay, -ny), (bx, nx), (by, ny)))]

    return measure


def _is_round(thing: Centred) -> bool:
    return not (thing.half_long or thing.half_wide)


class EdgeOf(Struct, frozen=True):
    """What a distance is read to: the edge (-1 near, 0 centre, 1 far) of a thing, and the thing's item."""

    item: int
    thing: Centred
    edge: int


def distance(one: EdgeOf, other: EdgeOf, value: float) -> MissFunction:
    """Between edges of two things."""

    a, ta, ea = one.item, one.thing, one.edge
    b, tb, eb = other.item, other.thing, other.edge
    if _is_round(ta) and _is_round(tb):
        return _round_distance(a, b, value - ea * ta.radius - eb * tb.radius)

    def measure(at: Unknowns, _: int) -> list[MissAndSlopes]:
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


def same_place_as(a: int, b: int) -> MissFunction:
    """Two things have one centre."""

    def measure(at: Unknowns, _: int) -> list[MissAndSlopes]:
        return [(at[2 * b + k] - at[2 * a + k], ((2 * a + k, -1.0), (2 * b + k, 1.0))) for k in (0, 1)]

    return measure


def _round_to_line(p: int, line: int, away: float, side: int) -> MissFunction:
    px, py, angle, offset = 2 * p, 2 * p + 1, 2 * line, 2 * line + 1

    def measure(at: Unknowns, sign: int) -> list[MissAndSlopes]:
        s, x, y = side or sign, at[px], at[py]
        nx, ny = math.cos(at[angle]), math.sin(at[angle])
        slopes = ((px, s * nx), (py, s * ny), (angle, s * (nx * y - ny * x)), (offset, -float(s)))
        return [(s * (nx * x + ny * y - at[offset]) - away, slopes)]

    return measure


def to_line(p: int, line: int, thing: Centred, edge: int, value: float, side: int) -> MissFunction:
    """From a line to an edge of a thing; `side` 0 leaves the side of the line open."""

    if _is_round(thing):
        return _round_to_line(p, line, value - edge * thing.radius, side)

    def measure(at: Unknowns, sign: int) -> list[MissAndSlopes]:
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


def coordinate(a: int, b: int | None, angle: float, value: float, side: int = 0) -> MissFunction:
    """A thing's coordinate along an angle, from another thing or the plane's origin."""

    cx, cy = direction(angle, side)

    def measure(at: Unknowns, _: int) -> list[MissAndSlopes]:
        found = cx * at[2 * a] + cy * at[2 * a + 1]
        slopes: Slopes = ((2 * a, cx), (2 * a + 1, cy))
        if b is not None:
            found -= cx * at[2 * b] + cy * at[2 * b + 1]
            slopes += ((2 * b, -cx), (2 * b + 1, -cy))
        return [(found - value, slopes)]

    return measure


def mid_thing(a: int, f: int, s: int) -> MissFunction:
    """A thing lies half-way between two others."""

    def measure(at: Unknowns, _: int) -> list[MissAndSlopes]:
        return [
            (
                at[2 * a + k] - (at[2 * f + k] + at[2 * s + k]) / 2,
                ((2 * a + k, 1.0), (2 * f + k, -0.5), (2 * s + k, -0.5)),
            )
            for k in (0, 1)
        ]

    return measure


def _even_sign(at: Unknowns, f: int, g: int, sign: int) -> int:
    """Parallel lines have one middle only; the other sign would be a line at infinity."""
    between = at[2 * f] - at[2 * g]
    if abs(math.sin(between)) > 1e-6:
        return sign
    return -1 if math.cos(between) > 0 else 1


def thing_between_lines(a: int, f: int, g: int) -> MissFunction:
    """A thing is as far from one line as from another."""

    def measure(at: Unknowns, sign: int) -> list[MissAndSlopes]:
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


def line_between_things(line: int, f: int, g: int) -> MissFunction:
    """The middle line of two things is square to the line of their centres, half-way: their mirror axis."""

    def measure(at: Unknowns, _: int) -> list[MissAndSlopes]:
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


def line_between_lines(line: int, f: int, g: int) -> MissFunction:
    """Points as far from f as from g: normal n_f - s n_g, offset c_f - s c_g; s = -1 is the middle of
    parallels.
    """

    def measure(at: Unknowns, sign: int) -> list[MissAndSlopes]:
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


def line_angle(line: int, other: int | None, value: float) -> MissFunction:
    """The direction of a line, from the plane's x or from another line's."""

    def measure(at: Unknowns, _: int) -> list[MissAndSlopes]:
        if other is None:
            return [(wrap(at[2 * line] - math.pi / 2 - value, math.pi), ((2 * line, 1.0),))]
        return [(wrap(at[2 * line] - at[2 * other] - value, math.pi), ((2 * line, 1.0), (2 * other, -1.0)))]

    return measure


def heading(a: int, b: int, other: int | None, value: float) -> MissFunction:
    """The direction from one thing to another, from the plane's x or from a line's."""

    def measure(at: Unknowns, _: int) -> list[MissAndSlopes]:
        dx, dy = at[2 * b] - at[2 * a], at[2 * b + 1] - at[2 * a + 1]
        d2 = max(dx * dx + dy * dy, 1e-18)
        base = at[2 * other] - math.pi / 2 if other is not None else 0.0
        sx, sy = -dy / d2, dx / d2
        slopes: Slopes = ((2 * a, -sx), (2 * a + 1, -sy), (2 * b, sx), (2 * b + 1, sy))
        if other is not None:
            slopes += ((2 * other, -1.0),)
        return [(wrap(math.atan2(dy, dx) - base - value, 2 * math.pi), slopes)]

    return measure


def line_gap(line: int, other: int, value: float, side: int) -> MissFunction:
    """Two parallel lines are some way apart."""

    def measure(at: Unknowns, sign: int) -> list[MissAndSlopes]:
        s = side or sign
        facing = 1.0 if math.cos(at[2 * line] - at[2 * other]) >= 0 else -1.0
        miss = s * (facing * at[2 * line + 1] - at[2 * other + 1]) - value
        return [(miss, ((2 * line + 1, s * facing), (2 * other + 1, -float(s))))]

    return measure


def line_offset(line: int) -> MissFunction:
    """A line runs through the plane's origin; only used to choose a frame."""

    def measure(at: Unknowns, _: int) -> list[MissAndSlopes]:
        return [(at[2 * line + 1], ((2 * line + 1, 1.0),))]

    return measure
