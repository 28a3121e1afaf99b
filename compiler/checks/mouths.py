"""Does a countersink or counterbore run past the edge of its body, into another hole, or into a bevel?

The mouth is a circle on its flat, or a nut's hexagon.  What it meets there leaves an edge that a screw head
can't rest on."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from ..diagnostics.types import Diagnostic, Label, Severity, Span
from ..outlines.measure import edges_of
from .gaps import among, to_edges
from .openings import Opening, PlaneOpenings, Survey
from .walls import MEETS, _outside

TOUCHES = 2e-3


def eaten_mouths(scene: Survey, group: PlaneOpenings) -> list[Diagnostic]:
    """A warning for each mouth of a hole that is eaten: by the edge, a bevel, or another hole; each pair
    once.
    """
    if all(one.mouth is None for one in group.openings):
        return []
    return _once([*_edges(scene, group), *_holes(group)])


def _once(some: list[Diagnostic]) -> list[Diagnostic]:
    kept: dict[tuple[Span | None, Span], Diagnostic] = {}
    for one in some:
        kept.setdefault((one.span, one.others[0].span), one)
    return list(kept.values())


def _edges(scene: Survey, group: PlaneOpenings) -> Iterator[Diagnostic]:
    region = scene.edge(group.body, group.plane)
    if region is None:
        yield from _turned(group)
        return
    a, b, _ = edges_of(region.rings)
    bevels = group.body.bevelled
    near = to_edges(group.stadiums(), a, b, max((size.value for _, size in bevels), default=0.0) + 0.1)
    out = {
        (one.hole.name, one.copy)
        for one, gap in _rows(group, near.first, near.gap)
        if one.mouth is None and gap < MEETS
    }
    for k, (opening, gap) in enumerate(_rows(group, near.first, near.gap)):
        if opening.mouth is None or (opening.hole.name, opening.copy) in out:
            continue
        edge = int(near.second[k])
        if gap < -TOUCHES or (gap < MEETS and _is_hexagon(opening)):
            if not scene.joined_on(group, opening, _outside(a[edge], b[edge], near.at[k])):
                yield _eaten(
                    opening,
                    f"reaches {_far(opening, gap)}past the edge of `{group.body.name}`",
                    group.body.span,
                )
            continue
        for where, size in dict(bevels).items():
            if where in ("both", _flat_of(group, opening)) and gap < size.value - TOUCHES:
                yield _eaten(opening, f"is eaten by the bevel of `{group.body.name}`", size.said.span)


def _rows(group: PlaneOpenings, first: np.ndarray, gap: np.ndarray) -> Iterator[tuple[Opening, float]]:
    for i, one in zip(first.tolist(), gap.tolist(), strict=True):
        yield group.openings[i], float(one)


def _flat_of(group: PlaneOpenings, opening: Opening) -> str:
    """Which flat a mouth opens at; nothing where the body's flats are not seen on this plane."""
    if group.body.plane != group.plane:
        return ""
    return "front" if opening.high > group.body.high else "back"


def _turned(group: PlaneOpenings) -> Iterator[Diagnostic]:
    """Mouths in the end of a turning: past its largest round."""
    spot, radius = group.body.spot, group.body.round_radius
    if radius is None or spot is None or spot.plane != group.plane:
        return
    for opening in group.openings:
        if opening.mouth is not None:
            away = max(float(np.hypot(at[0] - spot.at[0], at[1] - spot.at[1])) for at, _ in opening.cores)
            past = away + opening.radius - radius
            if past > TOUCHES:
                yield _eaten(
                    opening, f"reaches {past:.2f} past the edge of `{group.body.name}`", group.body.span
                )


def _holes(group: PlaneOpenings) -> Iterator[Diagnostic]:
    low = np.array([one.low for one in group.openings], dtype=np.float64)
    high = np.array([one.high for one in group.openings], dtype=np.float64)
    near = among(group.stadiums(), low, high, MEETS)
    pairs = [
        (group.openings[i], group.openings[j])
        for i, j in zip(near.first.tolist(), near.second.tolist(), strict=True)
    ]
    joined = {_pair(one, two) for one, two in pairs if one.mouth is None and two.mouth is None}
    for (one, two), gap in zip(pairs, near.gap.tolist(), strict=True):
        if (one.mouth is None and two.mouth is None) or _pair(one, two) in joined:
            continue
        if gap > -TOUCHES and not (gap < MEETS and _is_hexagon(one) and _is_hexagon(two)):
            continue
        if (one.hole, one.copy) == (two.hole, two.copy):
            continue
        eaten, eater = (one, two) if one.mouth is not None else (two, one)
        yield _eaten(eaten, f"reaches {_far(eaten, gap)}into {eater.shown}", eater.span)


def _is_hexagon(opening: Opening) -> bool:
    """True for an outline of bare edges: its gap to what it crosses is nothing, however far it reaches
    beyond.
    """
    return opening.radius == 0.0


def _far(opening: Opening, gap: float) -> str:
    return "" if _is_hexagon(opening) else f"{-gap:.2f} "


def _pair(one: Opening, two: Opening) -> frozenset[tuple[str, int]]:
    return frozenset({(one.hole.name, one.copy), (two.hole.name, two.copy)})


def _eaten(opening: Opening, what: str, other: Span) -> Diagnostic:
    advice = ("a screw head has nothing to rest on there: make the mouth smaller, or move one of the two",)
    return Diagnostic(
        "eaten-edge",
        Severity.WARNING,
        f"{opening.shown} {what}",
        opening.span,
        others=(Label(other, "it meets this"),),
        advice=advice,
    )
