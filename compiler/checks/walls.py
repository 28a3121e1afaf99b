"""Is a wall beside a hole too thin to print, and does a hole run out through the edge?

A nozzle of 0.4 lays strands 0.4 wide; a wall under two strands has a gap in it or is left out (common practice, no
source).  Walls are measured flat, on the page a hole is drawn on: to the edge of its body and to the other openings of
that body that are open at the same height.  A wall counts only where there is material: not where a third hole takes it,
and not where another body goes on beyond the edge.  The thinnest wall of each pair of statements is told.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

import numpy as np

from ..diagnostics.types import Diagnostic, Label, Severity, Span
from ..facts import Entry
from ..profiles import Region, contains
from ..profiles.measure import edges_of
from ..profiles.types import XY
from .gaps import Near, Stadiums, among, core_gaps, to_edges
from .openings import Group, Opening, Scene

WALL = 0.8
EXACT = 2e-3
"""Walls this little under the limit count as the limit: outlines are faceted to half of it."""
MEETS = 1e-6
SHOWN = 12
_BESIDE = 1e-3


@dataclass(frozen=True, slots=True)
class Wall:
    """A wall: how thick (0 or less: none is left), beside what, and what stands on its other side and where."""

    thick: float
    opening: Opening
    other: str
    other_span: Span
    key: tuple[str, ...]


def thin_walls(scene: Scene) -> list[Diagnostic]:
    """Warnings for walls beside holes that are too thin, notes for holes that run out through an edge."""
    found: list[Diagnostic] = []
    for group in scene.groups():
        stadiums = group.stadiums()
        region = scene.edge(group.body.name, group.page)
        walls = [*_to_edge(scene, group, stadiums, region), *_between(group, stadiums, region)]
        found.extend(told(walls))
    return found


def told(walls: Iterable[Wall], limit: float = WALL) -> list[Diagnostic]:
    """The messages for some walls, thinnest first: each pair of statements once, and no more than a screenful."""
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
        more = f"{left} more walls in this body are too thin as well"
        found[-1] = Diagnostic(last.code, last.severity, last.headline, last.span, last.label, last.others,
                               (*last.advice, more))  # fmt: skip
    return found


def shown(thick: float, limit: float = WALL) -> str:
    """A thickness as it is said: to a hundredth, finer where that would not tell it from the limit."""
    return f"{thick:.2f}" if round(thick, 2) < limit else f"{thick:.4g}"


def _thin(wall: Wall, limit: float) -> Diagnostic:
    said = f"the wall between {wall.opening.shown} and {wall.other} is only {shown(wall.thick, limit)} thick"
    advice = (f"two strands of a 0.4 nozzle need {limit:g}: check the readings, move one of the two or make it smaller",)
    return Diagnostic("thin-wall", Severity.WARNING, said, wall.opening.span,
                      others=(Label(wall.other_span, "the wall ends here"),), advice=advice)  # fmt: skip


def _runs_out(wall: Wall) -> Diagnostic:
    said = f"{wall.opening.shown} runs out through {wall.other}"
    advice = ("if it is meant to be open there, all is well (a notch says so); else check the readings of its place",)
    return Diagnostic("hole-runs-out", Severity.NOTE, said, wall.opening.span,
                      others=(Label(wall.other_span, "this edge"),), advice=advice)  # fmt: skip


def _to_edge(scene: Scene, group: Group, stadiums: Stadiums, region: Region | None) -> Iterator[Wall]:
    if region is None:
        return
    a, b, labels = edges_of(region.rings)
    near = to_edges(stadiums, a, b, WALL - EXACT)
    for k in np.argsort(near.gap, kind="stable").tolist():
        opening, edge = group.openings[near.first[k]], int(near.second[k])
        runs_out = bool(near.gap[k] <= MEETS)
        if opening.entry.kind == "notch" or _is_cone(opening) or (runs_out and opening.mouth is not None):
            continue
        if not runs_out and not _is_material(group, stadiums, region, near, k):
            continue
        if scene.joined_on(group, opening, _outside(a[edge], b[edge], near.at[k])):
            continue
        owner = _owner(scene, int(labels[edge]), group.body)
        shown = "the edge" if owner is group.body else f"the edge at `{owner.name}`"
        yield Wall(float(near.gap[k]), opening, f"{shown} of `{group.body.name}`", owner.span,
                   (opening.entry.name, "edge", owner.name))  # fmt: skip


def _between(group: Group, stadiums: Stadiums, region: Region | None) -> Iterator[Wall]:
    low = np.array([one.low for one in group.openings], dtype=np.float64)
    high = np.array([one.high for one in group.openings], dtype=np.float64)
    near = among(stadiums, low, high, WALL - EXACT)
    for k in np.flatnonzero(near.gap > MEETS).tolist():
        one, two = group.openings[near.first[k]], group.openings[near.second[k]]
        if _is_cone(one) or _is_cone(two) or (one.entry is two.entry and one.copy == two.copy):
            continue
        if not _is_material(group, stadiums, region, near, k):
            continue
        names = sorted((one.entry.name, two.entry.name))
        yield Wall(float(near.gap[k]), one, two.shown, two.span, (names[0], "hole", names[1]))


def _is_cone(opening: Opening) -> bool:
    return opening.mouth is not None and opening.mouth.word == "countersink"


def _is_material(group: Group, stadiums: Stadiums, region: Region | None, near: Near, k: int) -> bool:
    """True where the middle of a gap lies within the body and in none of its openings."""
    at = (float(near.at[k][0]), float(near.at[k][1]))
    if region is not None and not contains(region, at):
        return False
    return not in_opening(stadiums, at)


def in_opening(some: Stadiums, at: XY) -> bool:
    """True for a point in a stadium, or within a polygon made of cores without radius (crossings of a ray counted)."""
    point = np.array([at], dtype=np.float64)
    gap, _, _ = core_gaps(some.p, some.q, np.repeat(point, len(some.p), axis=0), np.repeat(point, len(some.p), axis=0))
    if bool((gap < some.radius).any()):
        return True
    p, q = some.p, some.q
    spans = ((p[:, 1] > at[1]) != (q[:, 1] > at[1])) & (some.radius == 0.0)
    p, q = p[spans], q[spans]
    x = p[:, 0] + (at[1] - p[:, 1]) * (q[:, 0] - p[:, 0]) / (q[:, 1] - p[:, 1])
    return bool((np.bincount(some.owner[spans][x > at[0]]) % 2).any())


def _outside(a: np.ndarray, b: np.ndarray, near: np.ndarray) -> XY:
    """A place just outside an edge (material lies to its left), beside the point of it nearest to another."""
    along = b - a
    share = min(max(float((near - a) @ along) / max(float(along @ along), 1e-300), 0.0), 1.0)
    foot, size = a + share * along, max(float(np.hypot(*along)), 1e-300)
    return (float(foot[0] + _BESIDE * along[1] / size), float(foot[1] - _BESIDE * along[0] / size))


def _owner(scene: Scene, label: int, body: Entry) -> Entry:
    """The statement that an edge came from."""
    return scene.claims.entries.get(scene.marks.faces[label][0], body)
