"""Where one thing can lie, given what is already placed: every reading is a circle, a line or a point.

Two readings cross in at most two places; an unknown side doubles them.  Circles that miss each other are
relaxed to the nearest place (the caller then sees the miss).  Of more than two readings the pair that crosses
squarest is taken; the others are for the caller to check."""

from __future__ import annotations

import math
from collections.abc import Sequence

from msgspec import Struct

from ..quantities.vectors import XY
from .equations import Equation
from .problem import Problem
from .types import Centred, Coordinate, Distance, Heading, Midway, Tangent, ToLine

DOUBLE = 1e-12
NEAR_PAIRS = 8
SQUARE = 0.8  # sine of a crossing that needs no better one
LOOSE = (
    1.1  # where an open thing is shown: off every special direction, so that what would hold it can be scored
)


class CircleLocus(Struct, frozen=True):
    """All places `r` mm from (x, y); r below 0 is a reading that can't be, kept as 0."""

    x: float
    y: float
    r: float


class LineLocus(Struct, frozen=True):
    """All places with nx x + ny y = c."""

    nx: float
    ny: float
    c: float


class PointLocus(Struct, frozen=True):
    """One place."""

    x: float
    y: float


Locus = CircleLocus | LineLocus | PointLocus


def _line(at: Sequence[float], line: int) -> tuple[float, float, float]:
    return math.cos(at[2 * line]), math.sin(at[2 * line]), at[2 * line + 1]


def _mean_half(thing: Centred) -> float:
    return thing.radius + (thing.half_long + thing.half_wide) * 2 / math.pi


def _half_to(thing: Centred, nx: float, ny: float) -> float:
    along = abs(nx * math.cos(thing.turn) + ny * math.sin(thing.turn))
    across = abs(ny * math.cos(thing.turn) - nx * math.sin(thing.turn))
    return thing.radius + along * thing.half_long + across * thing.half_wide


def loci(eq: Equation, item: int, at: Sequence[float], things: dict[int, Centred]) -> list[Locus]:
    """The alternatives one equation leaves for thing `item`, all its other members being placed in `at`."""
    row, m = eq.row, eq.members
    match row:
        case Distance():
            other = m[1] if m[0] == item else m[0]
            x, y = at[2 * other], at[2 * other + 1]
            if len(eq.us) == 2:
                return [PointLocus(x, y)]
            return [
                CircleLocus(
                    x, y, max(row.value - sum(e * _mean_half(things[i]) for i, e in eq.edges if e), 0.0)
                )
            ]
        case ToLine() | Tangent():
            nx, ny, c = _line(at, m[1])
            h = _half_to(things[item], nx, ny)
            d = (row.value if isinstance(row, ToLine) else 0.0) - eq.edges[0][1] * h
            return [LineLocus(nx, ny, c + s * d) for s in ((row.side,) if row.side else (1, -1))]
        case Midway():
            return _midway(m, item, at, things)
        case Heading():
            return _heading(m, item, at, row.value)
        case Coordinate():
            other_xy = (
                (0.0, 0.0)
                if len(m) == 1
                else (at[2 * m[1 - m.index(item)]], at[2 * m[1 - m.index(item)] + 1])
            )
            sign = (1 if m[0] == item else -1) * (row.side or 1)
            reach = (
                row.edge.value * _half_to(things[m[0]], math.cos(row.angle), math.sin(row.angle))
                if eq.edges
                else 0.0
            )
            return [_across(row.angle, other_xy, sign * (row.value - reach))]
        case _:
            return _frame(eq, item, at)


def _across(angle: float, base: XY, value: float) -> LineLocus:
    cx, cy = (0.0 if abs(v) < 1e-15 else v for v in (math.cos(angle), math.sin(angle)))
    return LineLocus(cx, cy, cx * base[0] + cy * base[1] + value)


def _frame(eq: Equation, item: int, at: Sequence[float]) -> list[Locus]:
    """Frame choices are linear in the item: read the line off the slopes."""
    if len(eq.members) == 2:
        a = eq.members[0]
        trial = list(at)
        trial[2 * item], trial[2 * item + 1] = at[2 * a] + 1.0, at[2 * a + 1]
        miss = eq.measure(trial, 1)[0][0]
        return [_ray(at[2 * a], at[2 * a + 1], -miss)]
    miss, slopes = eq.measure(at, 1)[0]
    (_, nx), (_, ny) = slopes
    return [LineLocus(nx, ny, nx * at[2 * item] + ny * at[2 * item + 1] - miss)]


def _ray(x: float, y: float, angle: float) -> LineLocus:
    nx, ny = (0.0 if abs(v) < 1e-15 else v for v in (-math.sin(angle), math.cos(angle)))
    return LineLocus(nx, ny, nx * x + ny * y)


def _heading(m: tuple[int, ...], item: int, at: Sequence[float], value: float) -> list[Locus]:
    other = m[1] if m[0] == item else m[0]
    base = at[2 * m[2]] - math.pi / 2 if len(m) == 3 else 0.0
    return [_ray(at[2 * other], at[2 * other + 1], value + base)]


def _midway(m: tuple[int, ...], item: int, at: Sequence[float], things: dict[int, Centred]) -> list[Locus]:
    a, f, g = m
    if f not in things:
        (fx, fy, fc), (gx, gy, gc) = _line(at, f), _line(at, g)
        both = [(fx - s * gx, fy - s * gy, fc - s * gc) for s in (-1, 1)]
        return [LineLocus(x / n, y / n, c / n) for x, y, c in both if (n := math.hypot(x, y)) > 1e-6]
    if item == a:
        return (
            [PointLocus((at[2 * f] + at[2 * g]) / 2, (at[2 * f + 1] + at[2 * g + 1]) / 2)]
            if a in things
            else []
        )
    if a not in things:
        other = g if item == f else f
        nx, ny, c = _line(at, a)
        d = nx * at[2 * other] + ny * at[2 * other + 1] - c
        return [PointLocus(at[2 * other] - 2 * d * nx, at[2 * other + 1] - 2 * d * ny)]
    other = g if item == f else f
    return [PointLocus(2 * at[2 * a] - at[2 * other], 2 * at[2 * a + 1] - at[2 * other + 1])]


def _circle_line(c: CircleLocus, s: LineLocus) -> tuple[list[XY], float]:
    d = s.nx * c.x + s.ny * c.y - s.c
    fx, fy = c.x - d * s.nx, c.y - d * s.ny
    t = 1.0 - (d / c.r) ** 2 if c.r > 0 else -1.0
    if t <= DOUBLE:
        gap = c.r - abs(d)
        pull = math.copysign(gap / 2, d)
        return [(fx - pull * s.nx, fy - pull * s.ny)] if abs(gap) > 1e-9 else [(fx, fy)], 0.0
    h = c.r * math.sqrt(t)
    return [(fx - k * h * s.ny, fy + k * h * s.nx) for k in (1, -1)], math.sqrt(t)


def _circle_circle(a: CircleLocus, b: CircleLocus) -> tuple[list[XY], float]:
    dx, dy = b.x - a.x, b.y - a.y
    d = math.hypot(dx, dy)
    if d < 1e-9 * max(1.0, a.r):
        return [], -1.0
    ux, uy = dx / d, dy / d
    along = (d + (a.r - b.r) * ((a.r + b.r) / d)) / 2
    t = 1.0 - (along / a.r) ** 2 if a.r > 0 else -1.0
    if t <= DOUBLE:
        far_a, far_b = (
            (a.r, d - b.r) if d >= max(a.r, b.r) else (-a.r, d - b.r) if b.r > a.r else (a.r, d + b.r)
        )
        along = (far_a + far_b) / 2 if a.r > 0 else far_b / 2
        return [(a.x + along * ux, a.y + along * uy)], 0.0
    h = a.r * math.sqrt(t)
    places = [(a.x + along * ux - k * h * uy, a.y + along * uy + k * h * ux) for k in (1, -1)]
    return places, h * d / (a.r * b.r) if b.r > 0 else 0.0


def crossings(a: Locus, b: Locus) -> tuple[list[XY], float]:
    """Places where two loci cross and how squarely (sine of the angle; below 0: they never single out a
    place).
    """
    if isinstance(a, PointLocus):
        return [(a.x, a.y)], 1.0
    if isinstance(b, PointLocus):
        return [(b.x, b.y)], 1.0
    if isinstance(a, CircleLocus):
        return _circle_circle(a, b) if isinstance(b, CircleLocus) else _circle_line(a, b)
    if isinstance(b, CircleLocus):
        return _circle_line(b, a)
    det = a.nx * b.ny - a.ny * b.nx
    if abs(det) < 1e-9:
        return [], -1.0
    return [((a.c * b.ny - b.c * a.ny) / det, (a.nx * b.c - b.nx * a.c) / det)], abs(det)


def along(locus: Locus, count: int, reach: float, turn: float) -> list[XY]:
    """`count` places on one locus, the first at `turn` radians (circle) or off the foot of the origin
    (line).
    """
    if isinstance(locus, PointLocus):
        return [(locus.x, locus.y)]
    if isinstance(locus, CircleLocus):
        angles = [turn + 2 * math.pi * k / count for k in range(count)]
        return [(locus.x + locus.r * math.cos(t), locus.y + locus.r * math.sin(t)) for t in angles]
    steps = [0.29 * reach] + [reach * (k // 2 + 1) * (1 if k % 2 else -1) / 2 for k in range(count - 1)]
    return [(locus.nx * locus.c - t * locus.ny, locus.ny * locus.c + t * locus.nx) for t in steps]


def thing_places(
    problem: Problem,
    eqs: Sequence[Equation],
    item: int,
    at: Sequence[float],
    guesses: int,
    lent: Sequence[tuple[Equation, int]] = (),
) -> list[XY]:
    """Candidate centres of thing `item` from the equations whose other members are placed, and from those
    `lent`.
    """
    read = [*((eq, item) for eq in eqs), *lent]
    alternatives = [found for eq, of in read if (found := loci(eq, of, at, problem.things))]
    # lines first: two of them cross once, so that nothing has to be chosen
    alternatives.sort(key=lambda found: (len(found), isinstance(found[0], CircleLocus)))
    best: list[XY] = []
    quality = -0.5
    for k, first in enumerate(alternatives[:NEAR_PAIRS]):
        for second in alternatives[k + 1 : NEAR_PAIRS]:
            crossed = [crossings(a, b) for a in first for b in second]
            places = [p for found, _ in crossed for p in found]
            score = max((q for _, q in crossed), default=-1.0)
            if places and score > quality + 1e-9:
                best, quality = places, score
            if quality > SQUARE:
                return best
    if best:
        return best
    if alternatives:
        return [p for locus in alternatives[0] for p in along(locus, guesses, problem.lever, LOOSE)]
    if guesses == 1:
        return [(0.37 * problem.lever, 0.23 * problem.lever)]
    reach = problem.lever / 2
    return [(reach * a, reach * b) for a in (0, 1, -1) for b in (0, 1, -1)]


def forward(item: int, eqs: list[Equation], places: list[XY], at: list[float]) -> list[XY]:
    """Without the places that lie opposite to a heading: its locus is half a line only."""
    headings = [eq for eq in eqs if isinstance(eq.row, Heading) or (eq.row is None and len(eq.members) == 2)]
    kept = []
    for place in places if headings else []:
        at[2 * item : 2 * item + 2] = place
        if all(abs(eq.measure(at, 1)[0][0]) < math.pi / 2 for eq in headings):
            kept.append(place)
    return kept or places
