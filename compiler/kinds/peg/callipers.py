"""A peg measured back: over its round or its flats, how high it stands, its bevels, teeth and thread."""

from __future__ import annotations

import math
from collections.abc import Iterator

import numpy as np

from ...callipers.bench import Bench
from ...callipers.locating import on_axis
from ...callipers.standing import foot_of, raised
from ...callipers.surfaces import Facets, FlatFace, RoundFace, flats_of
from ...callipers.taking import Seen, sized, turned
from ...callipers.teeth import counted, deep, outer, phase_of, section
from ...callipers.turned import FoundAxis, axis_of_bands, rings, upright
from ...callipers.types import Taken
from ...model.stated import Number
from ...places.layout import Frame
from ...places.planes import OUTWARD
from ...quantities.vectors import XY, Vector, dot
from .. import needed_file
from .model import Peg

GONE = "no face of it is left on the part"
FOOT = "the flat it stands on is not left on the part"
FOR_FIT = "made for what it goes into"
ALIKE = "a round peg is the same however it is turned"
ACROSS = ("across", "same as", "hex", "square")
TEETH = ("serrated", "splines")
SQUARE = 1e-6


def measures(bench: Bench, peg: Peg) -> Iterator[Taken]:
    """The sizes of the peg."""
    threads = [number for number in peg.numbers if number.word in ("thread", "screws into")]
    if threads:
        own = needed_file("thread", "callipers")
        yield from own.thread_rows(bench, peg, threads, own.wound_round(bench, peg, False))
    for number in peg.numbers:
        if number in threads:
            continue
        if number.word in ACROSS or number.key == "meant":
            yield _across(bench, peg, number)
        elif number.word in ("flat", "flats"):
            yield _flat(bench, peg, number)
        elif number.word == "high":
            yield sized(peg, number, *_high(bench, peg))
        elif number.word == "bevel":
            yield sized(peg, number, *_bevel(bench, peg, number))
        elif number.word in TEETH:
            yield sized(peg, number, *_teeth(bench, peg, number))
        elif number.word == "turned":
            yield _turned(bench, peg, number)
        elif number.key == "mate":
            yield sized(peg, number, None, "it is the size of what the peg goes into")
    yield from raised(bench, peg)


def where(bench: Bench, peg: Peg, number: int, frame: Frame) -> tuple[tuple[XY, float], ...]:
    """Where its axis is on a plane: that of its round, or of its flats or teeth, which touch one round."""
    axis = _axis(bench, peg, number)
    if axis is None:
        return ()
    face = RoundFace(axis.start, axis.way, 0.0, False, 0.0, 0.0, 0.0)
    return on_axis(face, frame, bench.home(peg, number))


# -- across -------------------------------------------------------------------------------------


def _word(peg: Peg) -> str:
    """How its section was said: round where no line says otherwise."""
    words = {said.word for said in peg.said}
    return next((word for word in ("hex", "square", *TEETH) if word in words), "")


def _meant(peg: Peg) -> Number | None:
    return next((number for number in peg.numbers if number.key == "meant"), None)


def _across(bench: Bench, peg: Peg, number: Number) -> Taken:
    """Over the round, the crowns of teeth, or two flats of a hexagon or square."""
    facets, word = bench.own(peg, 1, ""), _word(peg)
    way = bench.model.frame(peg).out
    if word in TEETH:
        axis = _axis(bench, peg)
        found = None if axis is None or facets.empty else 2 * float(axis.radii(facets.corners).max())
    elif word:
        found = _over_flats(flats_of(facets))
    else:
        face = bench.rounded(facets, way)
        found = None if face is None else 2 * face.radius
    if found is None:
        return sized(peg, number, None, GONE)
    fit = _meant(peg)
    if fit is None or number is fit:
        return sized(peg, number, found)
    return sized(peg, number, found, FOR_FIT, fit.size.value)


def _over_flats(flats: list[FlatFace]) -> float | None:
    for flat in flats:
        against = [dot(one.point, flat.normal) for one in flats if dot(one.normal, flat.normal) < SQUARE - 1]
        if against:
            return dot(flat.point, flat.normal) - min(against)
    return None


def _flat(bench: Bench, peg: Peg, number: Number) -> Taken:
    """Between its flats, or from the one to the far side of its round; a fit makes that less by as much as
    the round."""
    flats = flats_of(bench.own(peg, 1, "flat"))
    if not flats:
        return sized(peg, number, None, GONE)
    if number.word == "flats":
        found = _over_flats(flats)
    else:
        face = bench.rounded(bench.own(peg, 1, ""), bench.model.frame(peg).out)
        normal = flats[0].normal
        found = None if face is None else dot(flats[0].point, normal) - dot(face.point, normal) + face.radius
    if found is None:
        return sized(peg, number, None, GONE)
    fit, mate = _meant(peg), _mate(bench, peg)
    if fit is None or mate is None:
        return sized(peg, number, found)
    return sized(peg, number, found, FOR_FIT, number.size.value + fit.size.value - mate)


def _mate(bench: Bench, peg: Peg) -> float | None:
    """The size of what a peg is made for: told in its line, or that of the thing it names."""
    fit = _meant(peg)
    if fit is None:
        return None
    told = [one for one in peg.numbers if one.key == "mate"]
    if told:
        return told[0].size.value
    for name in fit.size.said.of:
        thing = bench.model.things.get(name)
        sizes = [] if thing is None else [one for one in thing.numbers if one.is_size and one.word in ACROSS]
        if sizes:
            return sizes[0].size.value
    return None


# -- along --------------------------------------------------------------------------------------


def _levels(bench: Bench, peg: Peg, end: str) -> list[float]:
    """Heights over its plane of the flat at its tip or its foot."""
    face = "front" if (end == "tip") == (peg.out > 0) else "back"
    return bench.level(bench.own(peg, 1, face), bench.model.frame(peg))


def _high(bench: Bench, peg: Peg) -> Seen:
    tip, foot = _levels(bench, peg, "tip"), _levels(bench, peg, "foot")
    if not tip:
        return None, GONE
    far = max(tip, key=abs) if not foot else max(tip, key=lambda at: abs(at - foot[0]))
    near = foot[0] if foot else foot_of(bench, peg)
    return (None, FOOT) if near is None else (abs(far - near), "")


def _bevel(bench: Bench, peg: Peg, number: Number) -> Seen:
    """How far a bevel reaches down the side and in over the end: of both what is further off."""
    facets, frame = bench.own(peg, 1, "bevel"), bench.model.frame(peg)
    words = number.size.said.text.split()
    some: list[float] = []
    for end in ("tip", "foot"):
        asked = end in words or "both" in words or (end == "tip" and "at" not in words)
        sign = peg.out * (1 if end == "tip" else -1)
        facing = facets.normals @ np.asarray(frame.out) * sign
        if asked and (facing > SQUARE).any():
            mine = facets.some(facing > SQUARE)
            low, high = mine.span(frame.out)
            rims = _rims(bench, peg, mine)
            if rims is not None:
                some += [high - low, rims]
                continue
            lean = float(np.median(facing[facing > SQUARE]))
            some += [high - low, (high - low) * lean / math.sqrt(1 - lean * lean)]
    if not some:
        return None, GONE
    return max(some, key=lambda one: abs(one - number.size.value)), ""


def _rims(bench: Bench, peg: Peg, bevel: Facets) -> float | None:
    """How far a bevel of a threaded peg goes in, whose rims have each their own count of corners."""
    axis = None if peg.thread is None else _axis(bench, peg)
    if axis is None:
        return None
    rims = rings(bevel, axis, False)
    return None if len(rims.radii) < 2 else abs(float(rims.radii[-1] - rims.radii[0]))


# -- teeth and turn -----------------------------------------------------------------------------


def _axis(bench: Bench, peg: Peg, number: int = 1) -> FoundAxis | None:
    """The axis of a peg or a copy of it."""
    groups = (bench.own(peg, number, detail) for detail in ("", "bevel", "thread"))
    way = bench.turned(peg, number, bench.model.frame(peg).out)
    return axis_of_bands(groups, bench.home(peg, number), way)


def _straight(bench: Bench, peg: Peg, axis: FoundAxis) -> tuple[Facets, list[float]]:
    """The sides of its teeth, and a height to look at them."""
    facets = bench.own(peg, 1, "")
    heights = axis.heights(facets.corners)
    low, high = float(heights.min()), float(heights.max())
    return facets, [low + share * (high - low) for share in (0.47, 0.31, 0.77)]


def _teeth(bench: Bench, peg: Peg, number: Number) -> Seen:
    axis = _axis(bench, peg)
    if axis is None or bench.own(peg, 1, "").empty:
        return None, GONE
    facets, heights = _straight(bench, peg, axis)
    if number.key == "count":
        found = counted(facets, axis, heights)
    else:
        sides = upright(facets, axis, False)
        found = deep(sides, sides, axis)
    return (None, GONE) if found is None else (found, "")


def _turned(bench: Bench, peg: Peg, number: Number) -> Taken:
    """How far it is turned on its plane: by the way a flat of it faces, or a tooth points."""
    word, frame = _word(peg), bench.model.frame(peg)
    if word in TEETH:
        axis = _axis(bench, peg)
        if axis is None or bench.own(peg, 1, "").empty:
            return turned(peg, number, None, GONE)
        facets, heights = _straight(bench, peg, axis)
        pieces = outer(section(facets, axis, heights[0]))
        radii = np.hypot(pieces[..., 0], pieces[..., 1])
        half = 0.5 * float(radii.max() + radii.min())
        middle, count = phase_of(pieces, half, False), counted(facets, axis, heights)
        if middle is None or not count:
            return turned(peg, number, None, GONE)
        step = math.tau / count
        way = _way(axis.right, axis.up, middle)
        return turned(peg, number, _angle(frame.right, frame.up, way), "", math.degrees(step))
    flats = flats_of(bench.own(peg, 1, "" if word else "flat"))
    if not flats:
        named = any(said.word in ("flat", "flats") for said in peg.said)
        return turned(peg, number, None, GONE if named or word else ALIKE)
    found = _angle(frame.right, frame.up, flats[0].normal) - (0.0 if word else _facing(peg))
    same = {"hex": 60.0, "square": 90.0}.get(word, 180.0 if len(flats) > 1 else 360.0)
    return turned(peg, number, found, "", same)


def _facing(peg: Peg) -> float:
    """The way its flat was said to face, degrees; up where none is said."""
    said = next(said for said in peg.said if said.word in ("flat", "flats"))
    word = said.text.split()[-1]
    return math.degrees(OUTWARD.get(word, OUTWARD["top"]))


def _way(right: Vector, up: Vector, angle: float) -> Vector:
    c, s = math.cos(angle), math.sin(angle)
    return (c * right[0] + s * up[0], c * right[1] + s * up[1], c * right[2] + s * up[2])


def _angle(right: Vector, up: Vector, way: Vector) -> float:
    return math.degrees(math.atan2(dot(way, up), dot(way, right)))


__all__ = ["measures", "where"]
