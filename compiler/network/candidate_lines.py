"""Where one line can lie, given what is already placed.

A line needs a direction and an offset.  Every pair of its readings that fixes both is tried in closed form:
two things it is read to or touches (a common tangent: n . (q - p) = e - d, at most two directions per choice
of sides), or a direction with one thing, or the middle between two things or two lines."""

from __future__ import annotations

import math
from collections.abc import Sequence

from msgspec import Struct

from ..quantities.vectors import XY
from .candidate_places import _half_to, _mean_half
from .equations import Equation
from .types import Centred, Heading, LineAngle, LineGap, Midway, Tangent, ToLine

LinePlace = tuple[float, float]


class _Reach(Struct, frozen=True):
    """The line passes (x, y) so that n . p - c = d(n), d one of `sides` times what the thing's size
    leaves.
    """

    x: float
    y: float
    thing: Centred
    edge: int
    value: float
    sides: tuple[int, ...]

    def offsets(self, angle: float) -> list[float]:
        nx, ny = math.cos(angle), math.sin(angle)
        d = self.value - self.edge * _half_to(self.thing, nx, ny)
        return [nx * self.x + ny * self.y - s * d for s in self.sides]

    @property
    def plain(self) -> float:
        return self.value - self.edge * _mean_half(self.thing)


def _reach(eq: Equation, at: Sequence[float], things: dict[int, Centred]) -> _Reach | None:
    row = eq.row
    if not isinstance(row, ToLine | Tangent):
        return None
    p = eq.members[0]
    value, edge = (row.value, row.edge.value) if isinstance(row, ToLine) else (0.0, -1)
    sides = (row.side,) if row.side else (1, -1)
    return _Reach(at[2 * p], at[2 * p + 1], things[p], edge, value, sides)


def _angles(eq: Equation, item: int, at: Sequence[float]) -> list[float]:
    """Normal angles that one equation fixes by itself."""
    row, m = eq.row, eq.members
    if isinstance(row, LineAngle):
        if len(m) == 1:
            base = math.pi / 2 + row.value
        else:
            base = at[2 * m[1]] + row.value if m[0] == item else at[2 * m[0]] - row.value
        return [base, base + math.pi]
    if isinstance(row, LineGap):
        other = m[1] if m[0] == item else m[0]
        return [at[2 * other], at[2 * other] + math.pi]
    if isinstance(row, Heading):
        a, b, _ = m
        return [math.atan2(at[2 * b + 1] - at[2 * a + 1], at[2 * b] - at[2 * a]) - row.value + math.pi / 2]
    if row is None and eq.measure(at, 1)[0][1][0][0] == 2 * item:
        base = at[2 * item] - eq.measure(at, 1)[0][0]
        return [base, base + math.pi]
    return []


def _offsets(
    eq: Equation, item: int, angle: float, at: Sequence[float], things: dict[int, Centred]
) -> list[float]:
    """Offsets that one equation allows at a given normal angle."""
    row, m = eq.row, eq.members
    reach = _reach(eq, at, things)
    if reach is not None:
        return reach.offsets(angle)
    if isinstance(row, LineGap):
        other = m[1] if m[0] == item else m[0]
        facing = 1.0 if math.cos(angle - at[2 * other]) >= 0 else -1.0
        sides = (row.side,) if row.side else (1, -1)
        if m[0] == item:
            return [facing * (at[2 * other + 1] + s * row.value) for s in sides]
        return [facing * at[2 * other + 1] - s * row.value for s in sides]
    if isinstance(row, Midway) and m[0] != item and m[0] in things:
        other = m[2] if m[1] == item else m[1]
        x, y = at[2 * m[0]], at[2 * m[0] + 1]
        d = math.cos(at[2 * other]) * x + math.sin(at[2 * other]) * y - at[2 * other + 1]
        return [math.cos(angle) * x + math.sin(angle) * y - s * d for s in (1, -1)]
    if row is None and eq.measure(at, 1)[0][1][0][0] == 2 * item + 1:
        return [0.0]
    return []


def _middle(eq: Equation, item: int, at: Sequence[float], things: dict[int, Centred]) -> list[LinePlace]:
    """Places of a line from one middle row alone."""
    a, f, g = eq.members
    if item == a and f in things:
        dx, dy = at[2 * g] - at[2 * f], at[2 * g + 1] - at[2 * f + 1]
        angle = math.atan2(dy, dx)
        mx, my = (at[2 * g] + at[2 * f]) / 2, (at[2 * g + 1] + at[2 * f + 1]) / 2
        return [(angle, math.cos(angle) * mx + math.sin(angle) * my)]
    if item == a:
        found = []
        for s in (-1, 1):
            mx = math.cos(at[2 * f]) - s * math.cos(at[2 * g])
            my = math.sin(at[2 * f]) - s * math.sin(at[2 * g])
            size = math.hypot(mx, my)
            if size > 1e-6:
                found.append((math.atan2(my, mx), (at[2 * f + 1] - s * at[2 * g + 1]) / size))
        return found
    if a in things:
        return []
    other = g if item == f else f  # the mirror image of the other line in the middle one
    angle = 2 * at[2 * a] - at[2 * other]
    foot = _foot(at[2 * other], at[2 * other + 1])
    nx, ny, c = math.cos(at[2 * a]), math.sin(at[2 * a]), at[2 * a + 1]
    d = nx * foot[0] + ny * foot[1] - c
    x, y = foot[0] - 2 * d * nx, foot[1] - 2 * d * ny
    return [(angle, math.cos(angle) * x + math.sin(angle) * y)]


def _foot(angle: float, offset: float) -> XY:
    return math.cos(angle) * offset, math.sin(angle) * offset


def _common(p: _Reach, q: _Reach) -> list[LinePlace]:
    """Lines that meet two reaches: n . (q - p) = e - d."""
    dx, dy = q.x - p.x, q.y - p.y
    dist, base = math.hypot(dx, dy), math.atan2(dy, dx)
    if dist < 1e-9:
        return []
    found = []
    for s in p.sides:
        for t in q.sides:
            share = (t * q.plain - s * p.plain) / dist
            spread = 0.0 if share >= 1 - 1e-12 else math.pi if share <= -1 + 1e-12 else math.acos(share)
            for angle in (base + spread, base - spread)[: 1 if spread in (0.0, math.pi) else 2]:
                offset = math.cos(angle) * p.x + math.sin(angle) * p.y - s * p.plain
                found.append((angle, offset))
    return found


def line_places(
    eqs: Sequence[Equation], item: int, at: Sequence[float], things: dict[int, Centred]
) -> list[LinePlace]:
    """Candidate places (normal angle, offset) of line `item`; empty where the readings don't fix one."""
    for eq in eqs:
        if isinstance(eq.row, Midway) and (found := _middle(eq, item, at, things)):
            return found
    for eq in eqs:
        for other in eqs:
            if other is not eq and (angles := _angles(eq, item, at)):
                places = [(angle, c) for angle in angles for c in _offsets(other, item, angle, at, things)]
                if places:
                    return places
    for gap in eqs:
        if isinstance(gap.row, LineGap) and any(isinstance(e.row, LineAngle) for e in eqs):
            return [(a, c) for a in _angles(gap, item, at) for c in _offsets(gap, item, a, at, things)]
    reaches = [r for eq in eqs if (r := _reach(eq, at, things)) is not None]
    if len(reaches) >= 2:
        pairs = [(p, q) for k, p in enumerate(reaches) for q in reaches[k + 1 :]]
        p, q = max(pairs, key=lambda pq: math.hypot(pq[0].x - pq[1].x, pq[0].y - pq[1].y))
        return _common(p, q)
    return []


def line_guesses(
    eqs: Sequence[Equation],
    item: int,
    at: Sequence[float],
    things: dict[int, Centred],
    count: int,
    turn: float,
) -> list[LinePlace]:
    """Places to start from where one reading at most is at hand."""
    angles = next((a for eq in eqs if (a := _angles(eq, item, at))), None)
    if angles is None:
        angles = [turn + math.pi / 2 + math.pi * k / count for k in range(count)]
    found = []
    for angle in angles:
        offsets = next((o for eq in eqs if (o := _offsets(eq, item, angle, at, things))), [0.0])
        found += [(angle, c) for c in offsets]
    return found[: 2 * count]
