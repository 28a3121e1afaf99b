"""Is a wall beside a hole too thin to print, and does a hole run out through the edge?

A nozzle of 0.4 lays strands 0.4 wide; a wall under two strands has a gap in it or is left out (common
practice, no source).  Walls are measured flat, on the page a hole is drawn on: to the edge of its body and to
the other openings of that body that are open at the same height.  A wall counts only where there is material:
not where a third hole takes it, and not where another body goes on beyond the edge.  The thinnest wall of
each pair of statements is told."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from math import floor

import numpy as np
from msgspec import Struct

from ..diagnostics.types import Diagnostic, Label, Severity, Span
from ..model import Thing
from ..model.sections import BoxSection, SlotSection
from ..outlines import Region, contains
from ..outlines.measure import edges_of
from ..quantities.vectors import XY
from .gaps import Near, Stadiums, among, core_gaps, to_edges
from .openings import Opening, PlaneOpenings, Survey

WALL = 0.8
EXACT = 2e-3
"""Walls this little under the limit count as the limit: outlines are faceted to half of it."""
MEETS = 1e-6
SHOWN = 12
BESIDE = 1e-3


class ThinWall(Struct, frozen=True):
    """A wall: how thick (0 or less: none is left), beside what, and what stands on its other side and
    where.
    """

    thick: float
    opening: Opening
    other: str
    other_span: Span
    key: tuple[str, ...]


def thin_walls(scene: Survey, group: PlaneOpenings) -> list[Diagnostic]:
    """Warnings for walls beside the holes of a body that are too thin, notes for holes that run out through
    an edge."""
    stadiums = group.stadiums()
    region = scene.edge(group.body, group.plane)
    voids = Voids(stadiums)
    return told([*_to_edge(scene, group, stadiums, region, voids), *_between(group, stadiums, region, voids)])


def told(walls: Iterable[ThinWall], limit: float = WALL) -> list[Diagnostic]:
    """The messages for some walls, thinnest first: each pair of statements once, and no more than a
    screenful.
    """
    found: list[Diagnostic] = []
    keys: set[tuple[str, ...]] = set()
    left = 0
    for wall in sorted(walls, key=lambda one: (round(one.thick, 6), one.key, one.opening.copy)):
        if wall.key in keys:
            continue
        keys.add(wall.key)
        if len(found) < SHOWN:
            found.append(_thin(wall, limit) if wall.thick > MEETS else _runs_out(wall))
        else:
            left += 1
    if left:
        last = found[-1]
        more = f"{left} more walls of this body may be as thin"
        found[-1] = Diagnostic(
            last.code, last.severity, last.headline, last.span, last.label, last.others, (*last.advice, more)
        )
    return found


def shown(thick: float, limit: float = WALL) -> str:
    """A thickness as it is said: to a hundredth, finer where that would not tell it from the limit."""
    return f"{thick:.2f}" if round(thick, 2) < limit else f"{thick:.4g}"


def _thin(wall: ThinWall, limit: float) -> Diagnostic:
    said = f"the wall between {wall.opening.shown} and {wall.other} is only {shown(wall.thick, limit)} thick"
    advice = (
        (
            f"two strands of a 0.4 nozzle need {limit:g}: check "
            "the readings, move one of the two or make it smaller"
        ),
    )
    return Diagnostic(
        "thin-wall",
        Severity.WARNING,
        said,
        wall.opening.span,
        others=(Label(wall.other_span, "the wall ends here"),),
        advice=advice,
    )


def _runs_out(wall: ThinWall) -> Diagnostic:
    said = f"{wall.opening.shown} runs out through {wall.other}"
    meant = "all is well (a notch says so)"
    if isinstance(wall.opening.hole.section, SlotSection):
        # a hair less than half, so that the rounds of both corners always find room
        wide, inside = 2.0 * wall.opening.radius, floor(1000.0 * wall.opening.radius) / 1000.0
        meant = f"a notch says so:  one wide {wide:.4g} that ends past the edge, round inside {inside:g}"
    advice = (f"if it is meant to be open there, {meant}", "else check the readings of its place")
    return Diagnostic(
        "hole-runs-out",
        Severity.NOTE,
        said,
        wall.opening.span,
        others=(Label(wall.other_span, "this edge"),),
        advice=advice,
    )


def _to_edge(
    scene: Survey, group: PlaneOpenings, some: Stadiums, region: Region | None, voids: Voids
) -> Iterator[ThinWall]:
    if region is None:
        return
    a, b, labels = edges_of(region.rings)
    near = to_edges(some, a, b, WALL - EXACT)
    seen = _Seen()
    for k in _thinnest_first(near):
        opening, edge = group.openings[near.first[k]], int(near.second[k])
        runs_out = bool(near.gap[k] <= MEETS)
        if (
            isinstance(opening.hole.section, BoxSection)
            or _is_cone(opening)
            or (runs_out and opening.mouth is not None)
        ):
            continue
        owner = _owner(scene, int(labels[edge]), group.body)
        shown = "the edge" if owner is group.body else f"the edge at `{owner.name}`"
        wall = ThinWall(
            float(near.gap[k]),
            opening,
            f"{shown} of `{group.body.name}`",
            owner.span,
            (opening.hole.name, "edge", owner.name),
        )
        if seen.settled(wall):
            yield from seen.counted(wall)
        elif (runs_out or _is_material(voids, region, near, k)) and not scene.joined_on(
            group, opening, _outside(a[edge], b[edge], near.at[k])
        ):
            yield seen.shown(wall)


def _between(group: PlaneOpenings, some: Stadiums, region: Region | None, voids: Voids) -> Iterator[ThinWall]:
    low = np.array([one.low for one in group.openings], dtype=np.float64)
    high = np.array([one.high for one in group.openings], dtype=np.float64)
    near = among(some, low, high, WALL - EXACT)
    seen = _Seen()
    for k in _thinnest_first(near):
        one, two = group.openings[near.first[k]], group.openings[near.second[k]]
        if (
            near.gap[k] <= MEETS
            or _is_cone(one)
            or _is_cone(two)
            or (one.hole is two.hole and one.copy == two.copy)
        ):
            continue
        names = sorted((one.hole.name, two.hole.name))
        wall = ThinWall(float(near.gap[k]), one, two.shown, two.span, (names[0], "hole", names[1]))
        if seen.settled(wall):
            yield from seen.counted(wall)
        elif _is_material(voids, region, near, k):
            yield seen.shown(wall)


class _Seen:
    """Spares the closer look at walls that will not be shown: those of a pair that is told already, and, once
    there is a screenful, all that are thicker (they are only counted)."""

    def __init__(self) -> None:
        self.keys: set[tuple[str, ...]] = set()
        self.full = 0

    def settled(self, wall: ThinWall) -> bool:
        """True where no closer look is needed."""
        return wall.key in self.keys or self.full >= SHOWN

    def counted(self, wall: ThinWall) -> Iterator[ThinWall]:
        """The wall, if it belongs to a pair that was not told yet."""
        if wall.key not in self.keys:
            yield self.shown(wall)

    def shown(self, wall: ThinWall) -> ThinWall:
        """The wall, kept in mind."""
        self.keys.add(wall.key)
        self.full += 1
        return wall


def _thinnest_first(near: Near) -> list[int]:
    order: list[int] = np.argsort(np.round(near.gap, 9), kind="stable").tolist()
    return order


def _is_cone(opening: Opening) -> bool:
    return opening.mouth is not None and opening.mouth.conical


def _is_material(voids: Voids, region: Region | None, near: Near, k: int) -> bool:
    """True where the middle of a gap lies within the body and in none of its openings."""
    at = (float(near.at[k][0]), float(near.at[k][1]))
    return not voids.holds(at) and (region is None or contains(region, at))


class Voids:
    """Answers whether a point lies in an opening: in a stadium, or within a polygon made of cores without
    radius.
    """

    def __init__(self, some: Stadiums) -> None:
        self.some = some
        self.low, self.high = some.boxes(0.0)
        flat = some.radius == 0.0
        self.p, self.q, self.owner = some.p[flat], some.q[flat], some.owner[flat]

    def holds(self, at: XY) -> bool:
        """True for a point in some opening."""
        point = np.array([at], dtype=np.float64)
        rows = np.flatnonzero(((self.low < point) & (point < self.high)).all(axis=1))
        there = np.repeat(point, len(rows), axis=0)
        gap, _, _ = core_gaps(self.some.p[rows], self.some.q[rows], there, there)
        return bool((gap < self.some.radius[rows]).any()) or self._in_polygon(at)

    def _in_polygon(self, at: XY) -> bool:
        """By the crossings of a ray to the right with the edges of each polygon."""
        spans = (self.p[:, 1] > at[1]) != (self.q[:, 1] > at[1])
        p, q, owner = self.p[spans], self.q[spans], self.owner[spans]
        x = p[:, 0] + (at[1] - p[:, 1]) * (q[:, 0] - p[:, 0]) / (q[:, 1] - p[:, 1])
        return bool((np.bincount(owner[x > at[0]]) % 2).any())


def _outside(a: np.ndarray, b: np.ndarray, near: np.ndarray) -> XY:
    """A place just outside an edge (material lies to its left), beside the point of it nearest to another."""
    along = b - a
    share = min(max(float((near - a) @ along) / max(float(along @ along), 1e-300), 0.0), 1.0)
    foot, size = a + share * along, max(float(np.hypot(*along)), 1e-300)
    return (float(foot[0] + BESIDE * along[1] / size), float(foot[1] - BESIDE * along[0] / size))


def _owner(scene: Survey, label: int, body: Thing) -> Thing:
    """The statement that an edge came from."""
    return scene.model.things.get(scene.marks.faces[label][0], body)
