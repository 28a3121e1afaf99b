"""From exact paths to polygons, always on the free side.

A faceted edge can't lie on an arc everywhere, so it must err somewhere.  It errs towards less material:
convex arcs have their corners on the arc, hollow arcs have their facets touching it from within the material.
So a peg never grows, and a true round of the nominal size passes every hollow.  The error stays within
`chord` on either kind.

Facets stand at fixed directions from the centre, not counted from where an arc begins: two outlines that
share a round (a row of belts, a plate and its boss) then share its facets, and joining them leaves no
sawtooth of slivers."""

from __future__ import annotations

import itertools
import math

import numpy as np

from ..quantities.vectors import XY
from .plane import angle_of, at_angle, backwards, sub
from .types import Bend, Path, Ring, Straight

CHORD = 0.01
"""Usual distance in mm between an arc and its facets."""
FEWEST = 12
SLIVER = 1e-4
"""A facet corner nearer than this (mm) to the end of its arc is left out; it costs less than 0.1 % of the
chord.
"""


def facet_count(radius: float, chord: float = CHORD, around: bool = False) -> int:
    """Facets of a whole circle, at least 12, such that they leave it by no more than `chord` mm.

    A multiple of 4, so that the outermost corners lie on the page's axes and widths across and up are true.

    Corners on the circle: the middle of a facet lies r (1 - cos(pi / n)) inside it.  With `around` the facets
    touch the circle and their corners lie r (1 / cos(pi / n) - 1) outside it, which asks for a little more.
    """
    cosine = radius / (radius + chord) if around else 1.0 - chord / max(radius, 1e-12)
    if cosine <= math.cos(math.pi / FEWEST):
        return FEWEST
    return max(FEWEST, 4 * math.ceil((math.pi / math.acos(cosine) - 1e-9) / 4.0))


def facet(path: Path, chord: float = CHORD, hole: bool = False) -> Ring:
    """The polygon of a closed path; `chord` is the largest error in mm.  Ends of edges are kept exactly.

    With `hole` the path (anticlockwise all the same) bounds a hole: the ring comes back clockwise and its
    facets err into the material round it."""
    if hole:
        path = backwards(path)
    ring, _ = facet_owned(path, chord)
    return ring


def facet_owned(path: Path, chord: float = CHORD, extra: float = 0.0) -> tuple[Ring, list[int]]:
    """As `facet`, and for each facet the index of its path edge.  Counts are made for radii larger by
    `extra`.
    """
    points: list[XY] = []
    owner: list[int] = []
    for index, edge in enumerate(path):
        own = [edge.start] if isinstance(edge, Straight) else _arc_points(edge, chord, extra)
        points += own
        owner += [index] * len(own)
    labels = np.array([path[i].label for i in owner], dtype=np.int32)
    return Ring(np.array(points, dtype=np.float64), labels), owner


def _arc_points(bend: Bend, chord: float, extra: float) -> list[XY]:
    """Corners of a faceted arc, its start included and its end left to the next edge."""
    hollow = bend.sweep < 0.0
    count = facet_count(bend.radius + extra, chord, around=hollow)
    touch = _touches(bend, count)
    if not hollow:
        return [bend.start] + [at_angle(bend.centre, bend.radius, angle) for angle in touch[1:-1]]
    whole = abs(bend.sweep) >= math.tau - 1e-9
    corners = [
        at_angle(bend.centre, bend.radius / math.cos((b - a) / 2.0), (a + b) / 2.0)
        for a, b in itertools.pairwise(touch)
    ]
    return corners if whole else [bend.start, *corners]


def _touches(bend: Bend, count: int) -> list[float]:
    """Directions from the centre where the facets of an arc meet it: both ends, and the fixed grid between
    them.
    """
    sense = 1 if bend.sweep > 0.0 else -1
    step = math.tau / count
    first = sense * angle_of(sub(bend.start, bend.centre))
    margin = min(SLIVER / max(bend.radius, SLIVER), step / 4.0)
    lowest, highest = first + margin, first + abs(bend.sweep) - margin
    grid = range(math.floor(lowest / step) + 1, math.ceil(highest / step))
    return [sense * angle for angle in (first, *(k * step for k in grid), first + abs(bend.sweep))]


def hole_ring(centre: XY, radius: float, chord: float = CHORD, label: int = 0) -> Ring:
    """A round hole: clockwise, facets touching the circle from outside, corners at radius / cos(pi / n)."""
    start = at_angle(centre, radius, 0.0)
    return facet((Bend(centre, radius, start, start, math.tau, label),), chord, hole=True)
