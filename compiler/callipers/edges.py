"""Edges and slopes of bodies drawn out of a plane: bevels, rounded corners, tapers, how far they reach."""

from __future__ import annotations

import numpy as np

from ..model.stated import Number
from ..model.types import Prism
from ..quantities.vectors import Vector, dot
from .bench import Bench, height
from .flat_things import NO_FACE
from .locating import located, walls_along
from .standing import foot_of
from .surfaces import FlatFace, corner_round, flats_of
from .taking import sized
from .types import ALLOWED, Taken

SIDEWAYS = {"left": (1.0, 0.0), "right": (1.0, 0.0), "top": (0.0, 1.0), "bottom": (0.0, 1.0)}
COVERED = "other material lies over its edge, or it runs into another"
BENDS = "it tells how far it bends there, nothing is made by it"
ALONG_IT = "it is in the sizes of what the outline runs along"
NO_CORNER = "no corner of it is left on the part, or too short an arc of it"
LEVEL = 1 - 1e-6


def bevel(bench: Bench, body: Prism, number: Number) -> Taken:
    """How high a bevel is, square to the plane; where it is at both ends, the one further off."""
    out = bench.model.frame(body).out
    facets = bench.own(body, 1, "bevel")
    at = next((at for at, size in body.bevelled if size.said == number.size.said), "both")
    found = []
    for end, sign in (("front", 1.0), ("back", -1.0)):
        some = facets.some(facets.normals @ np.asarray(out) * sign > 1 - LEVEL)
        if at in (end, "both") and not some.empty:
            low, high = some.span(out)
            found.append(high - low)
    worst = max(found, key=lambda one: abs(one - number.size.value), default=None)
    if worst is None or worst < number.size.value - ALLOWED:
        return sized(body, number, None, NO_FACE if worst is None else COVERED)
    return sized(body, number, worst)


def rounded_corner(bench: Bench, body: Prism, number: Number, alone: bool) -> Taken:
    """The round of its corners; where one line tells them all (`alone`), of the corner that is furthest
    off.
    """
    out = bench.model.frame(body).out
    pieces = bench.pieces(bench.own(body, 1, number.word))
    rounds = [radius for piece in pieces if (radius := corner_round(piece, out)) is not None]
    pick = max if alone else min
    found = pick(rounds, key=lambda radius: abs(radius - number.size.value), default=None)
    return sized(body, number, found, NO_CORNER if found is None else "")


def tapered(bench: Bench, body: Prism, number: Number) -> float | None:
    """How thick a tapered body is at a place or a side: from its level flat to the sloping one."""
    slope, frame = body.slope, bench.model.frame(body)
    if slope is None:
        return None
    here = slope.here if number.key == "first" else slope.there
    sloping = flats_of(bench.own(body, 1, slope.part))
    level = bench.level(bench.own(body, 1, "back" if slope.part == "front" else "front"), frame)
    if here in SIDEWAYS:
        across = SIDEWAYS[here]
        way = frame.right if across[0] else frame.up
        walls = walls_along(bench, body, 1, way, (here,))
        at = (walls[0][0] - dot(frame.origin, way)) if walls else None
        place = None if at is None else (at * across[0], at * across[1])
    else:
        name, _, part = here.partition(".")
        there = located(bench, name, part, frame)
        place = None if there is None else there.at
    if not level and (under := foot_of(bench, body)) is not None:
        level = [under]  # its own foot lies in what it stands on
    if place is None or not sloping or not level:
        return None
    top = _height_at(sloping[0], frame.point(place), frame.out)
    return None if top is None else abs(top - (level[0] if slope.part == "front" else level[-1]))


def _height_at(flat: FlatFace, point: Vector, out: Vector) -> float | None:
    """How far over a point a flat lies along a way."""
    share = dot(flat.normal, out)
    if abs(share) < 1 - LEVEL:
        return None
    return (dot(flat.normal, flat.point) - dot(flat.normal, point)) / share


def reaches(bench: Bench, body: Prism, number: Number) -> float | None:
    """From the flat it reaches from to its free end."""
    frame = bench.model.frame(body)
    own = bench.level(bench.own(body, 1, "front" if body.out > 0 else "back"), frame)
    name, _, part = number.size.said.of[0].partition(".")
    flat = bench.flat(name, part) if part else None
    if flat is None or not own or abs(dot(flat.normal, frame.out)) < LEVEL:
        told = bench.model.flats.get(number.size.said.of[0])
        if told is None or not own or flat is not None:
            return None
        start = height(frame, told.flat.point)
    else:
        start = height(frame, flat.point)
    tip = own[-1] if body.out > 0 else own[0]
    return abs(tip - start)
