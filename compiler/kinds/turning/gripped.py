"""What is cut round a turning measured back: teeth counted and their depth, flats over or to the round."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from ...callipers.bench import Bench
from ...callipers.surfaces import Facets, flats_of
from ...callipers.taking import Seen, sized
from ...callipers.teeth import counted, deep
from ...callipers.turned import SAME, FoundAxis, upright, within
from ...callipers.types import Taken
from ...quantities.vectors import Vector, dot
from .model import CutFlats, Grip, Teeth, Turning

GONE = "no face of it is left on the part"
ENDS_BEFORE = "what it is cut from ends there, or something else cuts it"
NEAR_END = 0.02
"""mm from its ends: there the two sets of a diamond grip cross in their first teeth."""
AT = 1e-4
"""mm: an end is that of a place where it was built no further off."""


def grip_rows(bench: Bench, turning: Turning, axis: FoundAxis, grip: Grip) -> Iterator[Taken]:
    """Serrations, splines, a diamond grip, a hexagon, a square or a flat."""
    facets = bench.own(turning, 1, grip.word)
    facets = within(facets, axis, *grip.stretch) if not facets.empty else facets
    for number in turning.numbers:
        if number.size.said.span != grip.said.span:
            continue
        if facets.empty:
            seen: Seen = None, GONE
        elif number.key in ("start", "stop"):
            seen = _end(axis, facets, (grip.start if number.key == "start" else grip.stop).value)
        elif isinstance(grip, Teeth):
            if number.key == "count":
                found = counted(bench.own(turning), axis, _heights(grip, axis, facets))
            else:
                crowns = bench.own(turning, 1, "side", "bead", "hollow")
                crowns = within(crowns, axis, *grip.stretch) if not crowns.empty else crowns
                found = deep(upright(facets, axis, False), crowns, axis)
            seen = (found, "") if found is not None else (None, GONE)
        else:
            seen = _flats(bench, turning, axis, grip, facets)
        yield sized(turning, number, *seen)


def _end(axis: FoundAxis, facets: Facets, place: float) -> Seen:
    heights = axis.heights(facets.corners)
    near = [float(at) for at in (heights.min(), heights.max()) if abs(at - place) < AT]
    return (near[0], "") if near else (None, ENDS_BEFORE)


def _heights(grip: Teeth, axis: FoundAxis, facets: Facets) -> list[float]:
    """Where teeth are looked at: half way, and of a diamond grip near both ends, where its two sets meet."""
    heights = axis.heights(facets.corners)
    low, high = float(heights.min()), float(heights.max())
    if grip.word == "diamond":
        return [low + NEAR_END, high - NEAR_END]
    return [low + share * (high - low) for share in (0.5, 0.31, 0.77)]


def _flats(bench: Bench, turning: Turning, axis: FoundAxis, grip: CutFlats, facets: Facets) -> Seen:
    """Over two flats, or of a single one to the far side of the round."""
    way = np.asarray(axis.way)
    flats = flats_of(facets.some(np.abs(facets.normals @ way) < SAME))
    if not flats:
        return None, GONE
    if grip.single:
        normal = flats[0].normal
        across = within(bench.own(turning), axis, *grip.stretch)
        low = float((across.corners.reshape(-1, 3) @ np.asarray(normal)).min())
        return dot(flats[0].point, normal) - low, ""
    for flat in flats:
        opposite = [dot(one.point, flat.normal) for one in flats if _against(flat.normal, one.normal)]
        if opposite:
            return dot(flat.point, flat.normal) - min(opposite), ""
    return None, GONE


def _against(one: Vector, other: Vector) -> bool:
    return dot(one, other) < SAME - 1


__all__ = ["grip_rows"]
