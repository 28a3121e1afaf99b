"""Beads, coves, vees and eased edges of a turning measured back, on the half profile of their faces."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from ...callipers.bench import Bench
from ...callipers.taking import Seen, sized
from ...callipers.turned import SAME, FoundAxis, Rings, arc_radius, rings, upright, within
from ...callipers.types import Taken
from .model import Eased, Shaped, Turning

GONE = "no face of it is left on the part"
COVERED = "something covers its crown or floor"
UNEVEN = "what it stands on is not of one size on both sides of it"
MOUTH = "it is the opening that the bead goes through, not on the part"
NO_END = "no level face is left at that edge to measure from"
AT = 1e-4
"""mm: a ring is that of a place where it was built no further off."""


def shaped_rows(bench: Bench, turning: Turning, axis: FoundAxis, shaped: Shaped) -> Iterator[Taken]:
    """A bead, cove or vee: over its crown or floor, where that is, and how wide it is at the surface."""
    middle, half = shaped.station.value, 0.5 * shaped.wide.value
    found = _rings(bench, turning, axis, shaped.word, shaped.inside, (middle - half, middle + half))
    crown = _crown(found, shaped.word == "bead" and not shaped.inside)
    uneven = found.empty or abs(found.radii[0] - found.radii[-1]) > AT
    for number in turning.numbers:
        if number.size.said.span != shaped.said.span:
            continue
        if number.key == "mouth":
            yield sized(turning, number, None, MOUTH)
        elif number.key == "wide":
            seen: Seen = (None, UNEVEN) if uneven or crown is None else (found.high - found.low, "")
            yield sized(turning, number, *seen)
        elif crown is None:
            yield sized(turning, number, None, GONE if found.empty else COVERED)
        else:
            yield sized(turning, number, 2 * crown[0] if number.key == "size" else crown[1])


def _crown(found: Rings, stands: bool) -> tuple[float, float] | None:
    """The radius of the crown or floor and the middle of it along the axis; None where it is not between
    lower rings, so that something may cover it."""
    if found.empty:
        return None
    best = float(found.radii.max() if stands else found.radii.min())
    there = np.flatnonzero(np.abs(found.radii - best) < SAME)
    if there[0] == 0 or there[-1] == len(found.radii) - 1:
        return None
    return best, float(0.5 * (found.heights[there[0]] + found.heights[there[-1]]))


def eased_rows(bench: Bench, turning: Turning, axis: FoundAxis, eased: Eased) -> Iterator[Taken]:
    """A bevel, round or hollow: how far it reaches, and the edge it is at."""
    place, size = eased.station.value, eased.size.value
    stretch = (place - size - SAME, place + size + SAME)
    found = _rings(bench, turning, axis, eased.word, not eased.outside, stretch)
    edge = _edge(found, place)
    for number in turning.numbers:
        if number.size.said.span != eased.said.span:
            continue
        if found.empty:
            seen: Seen = None, GONE
        elif number.key == "station":
            seen = (None, NO_END) if edge is None else (edge, "")
        elif eased.bevel:
            seen = _bevel(found, edge)
        else:
            around = arc_radius(found.heights, found.radii, eased.word == "hollow")
            seen = (None, GONE) if around is None else (around, "")
        yield sized(turning, number, *seen)


def _edge(found: Rings, place: float) -> float | None:
    """The ring at the level face of the edge that was worked."""
    near = [at for at in found.heights[[0, -1]].tolist() if abs(at - place) < AT] if not found.empty else []
    return near[0] if near else None


def _bevel(found: Rings, edge: float | None) -> Seen:
    """How far a bevel reaches along the level face and along the other one, which may lean: both the same L,
    so (a - L)^2 + b^2 = L^2, a and b what lies between its rims off and along the axis."""
    if edge is None or len(found.heights) < 2:
        return None, NO_END
    a, b = abs(found.radii[-1] - found.radii[0]), found.high - found.low
    return (float(0.5 * (a * a + b * b) / a), "") if a > SAME else (None, NO_END)


def _rings(
    bench: Bench, turning: Turning, axis: FoundAxis, word: str, inside: bool, stretch: tuple[float, float]
) -> Rings:
    """The rings of faces of that name which lie within a stretch of the axis."""
    facets = bench.own(turning, 1, word)
    if not facets.empty:
        facets = within(upright(facets, axis, inside), axis, *stretch)
    if not facets.empty:
        heights = axis.heights(facets.corners)
        low, high = stretch[0] - SAME, stretch[1] + SAME
        facets = facets.some((heights.min(axis=1) > low) & (heights.max(axis=1) < high))
    return rings(facets, axis, inside)


__all__ = ["eased_rows", "shaped_rows"]
