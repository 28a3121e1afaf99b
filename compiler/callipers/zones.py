"""Zones measured back: how far a flat was moved, how thick the body is there, over which area, its ramp."""

from __future__ import annotations

import math

import numpy as np

from ..model.stated import Number
from ..model.zones import CollarAt, Zone
from ..quantities.vectors import along, cross, dot
from .bench import Bench, height
from .locating import located
from .surfaces import Facets, flats_of
from .taking import sized
from .types import ALLOWED, Taken

NO_FLAT = "no level flat of it is left on the part, or of the flat that it was measured from"
CUT_OFF = "its edge is cut off there: by the outline of its body, a hole or another zone"
BENT = "it bends: jaws laid over it would measure no width"
NO_RAMP = "nothing of its ramp is left on the part"
LEVEL = 1 - 1e-6
LEANS = 0.02


def _level(bench: Bench, zone: Zone, part: str) -> float | None:
    """How high the flat that a zone made of a flat of its body lies."""
    frame = bench.model.frame(zone)
    sign = 1 if part == "front" else -1
    heights = bench.level(_of(bench, zone, part), frame, sign)
    if not heights:
        return None
    return heights[-1] if (sign > 0) == zone.adds else heights[0]


def _of(bench: Bench, zone: Zone, part: str) -> Facets:
    return bench.own(zone, 1, part, "bottom") if not zone.adds else bench.own(zone, 1, part)


def _flat(bench: Bench, zone: Zone, part: str) -> float | None:
    """How high the flat of its body lies; as the recipe has it where nothing of it is left."""
    frame = bench.model.frame(zone)
    flat = bench.flat(zone.body, part)
    if flat is not None and abs(dot(flat.normal, frame.out)) > LEVEL:
        return height(frame, flat.point)
    told = bench.model.flats.get(f"{zone.body}.{part}")
    if told is None or abs(dot(told.flat.normal, frame.out)) < LEVEL:
        return None
    return height(frame, told.flat.point)


def moved(bench: Bench, zone: Zone) -> float | None:
    """How far a flat was moved: of two the one that was moved further."""
    found = []
    for part in zone.flats:
        there, flat = _level(bench, zone, part), _flat(bench, zone, part)
        if there is not None and flat is not None:
            found.append(abs(there - flat))
    return max(found, default=None)


def overall(bench: Bench, zone: Zone) -> float | None:
    """From the flat that a zone made to the other one of its body, or to what the zone made of that."""
    ends = [
        _level(bench, zone, part) if part in zone.flats else _flat(bench, zone, part)
        for part in ("front", "back")
    ]
    return None if ends[0] is None or ends[1] is None else ends[0] - ends[1]


def run(bench: Bench, zone: Zone) -> float | None:
    """How far its ramp runs out: by how steep its largest face is and how high it goes."""
    frame, part = bench.model.frame(zone), zone.flats[0]
    there, flat = _level(bench, zone, part), _flat(bench, zone, part)
    if there is None or flat is None:
        return None
    for face in flats_of(_of(bench, zone, part)):
        up = abs(dot(face.normal, frame.out))
        if LEANS < up < 1 - LEANS * LEANS:
            return abs(there - flat) * up / math.sqrt(1 - up * up)
    return None


def area(bench: Bench, zone: Zone, number: Number) -> Taken:
    """The size across of a collar, or how wide a band is, on the flat that it made; where less is left of it
    than was said, something has cut it.
    """
    frame, part = bench.model.frame(zone), zone.flats[0]
    facets = _of(bench, zone, part)
    plateau = facets.some(np.abs(facets.normals @ np.asarray(frame.out)) > LEVEL)
    if plateau.empty:
        return sized(zone, number, None, NO_FLAT)
    if isinstance(zone.area, CollarAt):
        about = zone.about[0]
        middle = located(bench, about.thing, about.part, frame)
        if middle is None or middle.at is None:
            return sized(zone, number, None, CUT_OFF)
        ways = np.stack([np.asarray(frame.right), np.asarray(frame.up)], axis=1)
        at = (plateau.corners.reshape(-1, 3) - np.asarray(frame.origin)) @ ways - np.asarray(middle.at)
        found = 2 * float(np.linalg.norm(at, axis=1).max())
    else:
        way = _band(bench, zone)
        if way is None:
            return sized(zone, number, None, BENT)
        low, high = plateau.span(way)
        found = high - low
    if found < number.size.value - ALLOWED:
        return sized(zone, number, None, CUT_OFF)
    return sized(zone, number, found)


def _band(bench: Bench, zone: Zone) -> tuple[float, float, float] | None:
    """The way square to a straight band on its plane; None where it bends."""
    frame = bench.model.frame(zone)
    if len(zone.about) == 1:
        edge = bench.model.edges.get(zone.about[0].name)
        return None if edge is None else cross(edge[1], frame.out)
    if len(zone.about) != 2:
        return None
    ends = [located(bench, one.thing, one.part, frame) for one in zone.about]
    places = [one.at for one in ends if one is not None and one.at is not None]
    if len(places) < 2:
        return None
    x, y = places[1][0] - places[0][0], places[1][1] - places[0][1]
    size = math.hypot(x, y)
    return along((0.0, 0.0, 0.0), (frame.right, -y / size), (frame.up, x / size)) if size > 0 else None
