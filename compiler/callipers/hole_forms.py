"""What is measured of holes that are not just round and straight: straight walls, flats, mouths, turns."""

from __future__ import annotations

import math

import numpy as np

from ..model.holes import Hole
from ..model.stated import Number
from ..model.types import Mouth
from ..quantities import tables
from ..quantities.vectors import Vector, along, dot
from .bench import Bench, height
from .holes import FOR_FIT, NO_WALL, fit_size, top
from .surfaces import Facets, FlatFace, flats_of, round_of
from .taking import sized
from .types import Taken

MATE = "it is what goes there, not the part"
NO_MOUTH = "no face of its mouth is left on the part"
STRAIGHT = 1 - 1e-6
SLANTS = 0.01
"""Facets of a cone lean by more than this (as a cosine) from its axis and from square to it."""
SQUARE_CONE = 1e-4
"""How far the lean of a countersink may be from 45 degrees (ISO 10642 heads: 90 degrees included)."""
ONE_CONE = 0.003
"""Planes of facets that touch one cone do so within this (mm)."""


def mouth(bench: Bench, hole: Hole, number: Number) -> Taken:
    """The counterbore or countersink of a hole: its size across at the flat it is in, or its depth."""
    told, frame = hole.mouth, bench.model.frame(hole)
    facets = bench.own(hole, 1, number.word)
    if told is None or facets.empty:
        return sized(hole, number, None, NO_MOUTH)
    start = _start(bench, hole, told)
    if told.conical:
        found = max(
            _cone_at(bench, hole, facets, start), key=lambda one: abs(one - number.size.value), default=None
        )
    elif number.key == "depth":
        heights = bench.level(facets, frame, told.out)
        found = (start - heights[0 if told.out > 0 else -1]) * told.out if heights else None
    else:
        face = bench.rounded(facets, frame.out, bench.home(hole))
        found = None if face is None else 2 * face.radius
    return sized(hole, number, found, NO_MOUTH if found is None else "")


def _start(bench: Bench, hole: Hole, told: Mouth) -> float:
    """How high over the plane of a hole the flat lies that its mouth is in."""
    if hole.depth is not None and hole.depth.flat == told.flat:
        return top(bench, hole, hole.depth)
    name, _, part = told.flat.partition(".")
    frame = bench.model.frame(hole)
    flat = bench.flat(name or hole.owners[0], part or "front") if name or part else None
    if flat is None and told.flat == "" and hole.on is not None and hole.on.part:
        flat = bench.flat(hole.on.thing, hole.on.part)
    if flat is None or abs(dot(flat.normal, frame.out)) < STRAIGHT:
        return told.start
    return height(frame, flat.point)


def _cone_at(bench: Bench, hole: Hole, facets: Facets, start: float) -> list[float]:
    """The size across of a cone at a height: its facets touch it in their middle, n . x = d; none where they
    touch no one cone about the middle of its hole.  Where it is no cone of 90 degrees, also the size that one
    as deep as it would have there.
    """
    frame = bench.model.frame(hole)
    out = np.asarray(frame.out)
    lean = np.abs(facets.normals @ out)
    slopes = facets.some((lean > SLANTS) & (lean < 1 - SLANTS))
    if slopes.empty:
        return []
    centre = np.asarray(frame.origin) + out * start
    planes = np.einsum("ij,ij->i", slopes.normals, slopes.corners[:, 0] - centre)
    square = slopes.normals - np.outer(slopes.normals @ out, out)
    # n . (c + r u) = d with u against the normal: c and r by least squares
    right, up = square @ np.asarray(frame.right), square @ np.asarray(frame.up)
    rows = np.column_stack([right, up, -np.hypot(right, up)])
    found = np.linalg.lstsq(rows, planes, rcond=1e-12)[0]
    if float(np.abs(rows @ found - planes).max()) > ONE_CONE:
        return []
    if np.allclose(np.abs(slopes.normals @ out), math.sqrt(0.5), atol=SQUARE_CONE):
        return [2 * float(found[2])]
    low, high = slopes.span(frame.out)
    narrow = low if abs(low - start - dot(frame.origin, frame.out)) > (high - low) / 2 else high
    deep = abs(narrow - start - dot(frame.origin, frame.out))
    slope = float(np.abs(slopes.normals @ out).mean())
    wide = 2 * float(found[2])
    return [wide, wide + 2 * deep - 2 * deep * slope / math.sqrt(1 - slope * slope)]


def facing(bench: Bench, hole: Hole, facets: Facets) -> float | None:
    """Which way the largest straight wall of some faces faces on the plane of a hole, out of its material
    (degrees).
    """
    frame = bench.model.frame(hole)
    for flat in flats_of(facets):
        if abs(dot(flat.normal, frame.out)) < 1 - STRAIGHT:
            return math.degrees(math.atan2(dot(flat.normal, frame.up), dot(flat.normal, frame.right)))
    return None


def over_flats(bench: Bench, hole: Hole, number: Number, both: bool) -> Taken:
    """Over the flat of a round hole to its far side, or over both flats; a fit makes them wider by as much as
    it makes the round.
    """
    out = bench.model.frame(hole).out
    face = bench.rounded(bench.own(hole, 1, ""), out, bench.home(hole))
    flats = flats_of(bench.own(hole, 1, "flat"))
    if both:
        found = apart(flats)
    elif face is None or not flats:
        found = None
    else:
        found = face.radius - dot(flats[0].normal, along(flats[0].point, (face.point, -1.0)))
    if found is None:
        return sized(hole, number, None, NO_WALL)
    more = _play(hole)
    return sized(hole, number, found, FOR_FIT if more else "", number.size.value + more)


def _play(hole: Hole) -> float:
    """How much wider (mm) than the shaft a fit makes a hole, by the table of fits; 0 without one."""
    fit = fit_size(hole)
    rule = None if fit is None else tables.FITS.get(fit.word)
    return 0.0 if fit is None or rule is None else fit.size.value - rule.pin_for(fit.size.value)


def apart(flats: list[FlatFace]) -> float | None:
    """How far the two flats that face one another are apart; None without both."""
    if not flats:
        return None
    way = flats[0].normal
    ends = [dot(flat.point, way) for flat in flats if abs(dot(flat.normal, way)) > STRAIGHT]
    return max(ends) - min(ends) if max(ends) - min(ends) > STRAIGHT - 1 + 1e-3 else None


def end_of(facets: Facets, out: Vector, way: Vector) -> float | None:
    """How far along a way the walls of a hole reach at that end: a round end by its middle and radius, a
    straight one by its wall; None where nothing is left of it.
    """
    from_there = facets.some(facets.normals @ np.asarray(way) < -1e-3)
    face = round_of(from_there, out)
    if face is not None and face.inside:
        return dot(face.point, way) + face.radius
    ends = [dot(flat.point, way) for flat in flats_of(from_there) if dot(flat.normal, way) < -STRAIGHT]
    return max(ends, default=None)
