"""A mark measured back: the box of its letters, how they run, how far they stand out or are sunk.

What a letter looks like comes from the typeface itself; the box over all letters, laid along the way they
were said to run, tells how high a capital is and where its middle lies."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterable, Iterator

import numpy as np
from msgspec import Struct

from ...callipers.bench import Bench, height
from ...callipers.surfaces import Facets, FlatFace
from ...callipers.taking import sized, turned
from ...callipers.types import Taken
from ...model.zones import Zone
from ...places.layout import Frame
from ...quantities.vectors import XY, Vector, along, dot
from .model import Mark
from .sizes import ARROW_LONG, lettered, typeface

PIECES = 64
"""A parabola of a letter is followed in so many steps: its box is true to a ten-thousandth of it."""
ROUND_ENDS = 0.02
"""How far (mm) the letters of one box may seem unlike in height along and across: both ends of it may lie
on the facet of a curve, which leaves its curve by a hundredth."""
STROKE = 0.5
"""A protractor is laid on straight strokes of at least this length in all, in heights of a capital: shorter
ones are lost among the facets of curves."""
SAME_WAY = 1e-3
NOT_WHOLE = "not all of its letters are left as they were written: no box over them"
NO_STROKE = "it has no straight stroke to lay a protractor on"
NO_FLOOR = "nothing of its floor is left"


class _Box(Struct, frozen=True):
    """Lowest and highest of a text along its line and across it, in heights of a capital, from the middle of
    its capitals; and the way that most of its straight strokes run (degrees, 0 to 180; None: it has none)."""

    along: XY
    across: XY
    stroke: float | None


class _SeenMark(Struct, frozen=True):
    """A mark on the mesh: how high its capitals are, and its middle along two ways (mm in space)."""

    tall: float
    known: tuple[tuple[Vector, float], ...]


def where(bench: Bench, mark: Mark, number: int, frame: Frame) -> tuple[tuple[XY, float], ...]:
    """Where the middle of its capitals lies on a plane; nothing where its letters are not whole."""
    found = _seen(bench, mark, number)
    if found is None:
        return ()
    known = []
    for way, middle in found.known:
        told = dot(way, frame.right), dot(way, frame.up)
        if math.hypot(*told) > 1 - 1e-6:
            known.append((told, middle - dot(frame.origin, way)))
    return tuple(known)


def measures(bench: Bench, mark: Mark) -> Iterator[Taken]:
    """How high its letters are, how far they stand out or are sunk, how they are turned."""
    for number in mark.numbers:
        if number.word == "high":
            found = _seen(bench, mark, 1)
            yield sized(mark, number, *((None, NOT_WHOLE) if found is None else (found.tall, "")))
        elif number.word in ("raised", "sunk"):
            deep = _deep(bench, mark)
            yield sized(mark, number, deep, NO_FLOOR if deep is None else "")
        elif number.word == "turned":
            angle = _angle(bench, mark, number.size.value)
            yield turned(mark, number, angle, NO_STROKE if angle is None else "", 180.0)


def _deep(bench: Bench, mark: Mark) -> float | None:
    """From the flat that it is on, or what a zone made of that, to the faces of its letters: of several such
    flats the one nearest to where the walls of its letters end.
    """
    frame, side = bench.model.frame(mark), mark.placed.out
    facets = bench.own(mark, 1, "letters")
    faces = bench.level(facets, frame, side)
    if not faces:
        return None
    low, high = tuple(one - dot(frame.origin, frame.out) for one in facets.span(frame.out))
    outer = (side > 0) == (mark.raised is not None)
    face, end = (faces[-1], low) if outer else (faces[0], high)
    zones = [zone.name for zone in bench.model.of(Zone) if zone.body == mark.body]
    flats = (bench.flat(name, mark.part) for name in (mark.body, *zones))
    heights = [height(frame, flat.point) for flat in flats if flat is not None and _level(flat, frame)]
    return abs(face - min(heights, key=lambda one: abs(one - end), default=end))


def _level(flat: FlatFace, frame: Frame) -> bool:
    return abs(dot(flat.normal, frame.out)) > 1 - 1e-6


def _ways(bench: Bench, mark: Mark, number: int, turn: float, over: bool) -> tuple[Vector, Vector]:
    """The way its line runs and the way its capitals stand, `over`: as seen from behind the plane."""
    frame = bench.model.frame(mark)
    sign = -1.0 if over else 1.0
    ways = []
    for x, y in ((math.cos(turn), math.sin(turn)), (-math.sin(turn), math.cos(turn))):
        way = along((0.0, 0.0, 0.0), (frame.right, sign * x), (frame.up, y))
        ways.append(bench.turned(mark, number, way))
    return ways[0], ways[1]


def _seen(bench: Bench, mark: Mark, number: int) -> _SeenMark | None:
    """The letters by the box over them, seen from in front or from behind, whichever the box fits."""
    facets = bench.own(mark, number, "letters")
    if facets.empty:
        return None
    turn = math.radians(sum(one.size.value for one in mark.numbers if one.word == "turned"))
    for over in (mark.placed.out < 0, mark.placed.out > 0):
        found = _fitted(facets, _ways(bench, mark, number, turn, over), _box(mark))
        if found is not None:
            return found
    return None


def _fitted(facets: Facets, ways: tuple[Vector, Vector], box: _Box) -> _SeenMark | None:
    """The size and the middle of a text in the box over its faces; None where that is not the box of it."""
    sizes, known = [], []
    for way, (low, high) in zip(ways, (box.along, box.across), strict=True):
        start, stop = facets.span(way)
        if high - low < 1e-6:
            return None
        sizes.append(((stop - start) / (high - low), high - low))
        known.append((way, 0.5 * (start + stop) - 0.5 * (low + high) * (stop - start) / (high - low)))
    (long, reach), (tall, _) = sizes
    if abs(long - tall) * max(1.0, reach) > ROUND_ENDS:
        return None
    return _SeenMark(tall, tuple(known))


def _angle(bench: Bench, mark: Mark, near: float) -> float | None:
    """How its line is turned on the plane (degrees): by the way that most of its straight strokes run."""
    stroke, facets = _box(mark).stroke, bench.own(mark, 1, "letters")
    if stroke is None or facets.empty:
        return None
    frame = bench.model.frame(mark)
    flat = facets.some(np.abs(facets.normals @ np.asarray(frame.out)) < SAME_WAY)
    right, up = flat.normals @ np.asarray(frame.right), flat.normals @ np.asarray(frame.up)
    runs = _most(zip(np.degrees(np.arctan2(up, right)) + 90.0, flat.areas, strict=True))
    if runs is None:
        return None
    both = [(sign * runs - stroke - near + 90.0) % 180.0 - 90.0 for sign in (1.0, -1.0)]
    return near + min(both, key=abs)


def _most(runs: Iterable[tuple[float, float]], least: float = 0.0) -> float | None:
    """The way (degrees, 0 to 180) that has the most weight, ways a hundredth of a degree apart as one; None
    where that is less than `least`."""
    weight: dict[int, float] = defaultdict(float)
    turn: dict[int, float] = {}
    for angle, size in runs:
        key = round(angle * 100.0) % 18000
        weight[key] += size
        turn.setdefault(key, angle % 180.0)
    best = max(weight, key=lambda key: (round(weight[key], 6), -key), default=None)
    return None if best is None or weight[best] < least else turn[best]


def _box(mark: Mark) -> _Box:
    """The box of what a mark says, from the outlines of the typeface."""
    if mark.arrow:
        return _Box((-0.5 * ARROW_LONG, 0.5 * ARROW_LONG), (-0.5, 0.5), 0.0)
    font, text, pen = typeface(), lettered(mark.text), 0.0
    xs: list[float] = []
    ys: list[float] = []
    runs: list[tuple[float, float]] = []
    for letter in text:
        for contour in font.contours(letter):
            for piece in contour:
                points = _points(piece)
                xs += [pen + x for x, _ in points]
                ys += [y for _, y in points]
                if len(piece) == 2:
                    (ax, ay), (bx, by) = piece
                    runs.append((math.degrees(math.atan2(by - ay, bx - ax)), math.hypot(bx - ax, by - ay)))
        pen += font.width(letter)
    if not xs:
        return _Box((0.0, 0.0), (0.0, 0.0), None)
    left, right = font.ink(text)
    high, middle = font.capital, 0.5 * (left + right)
    return _Box(
        ((min(xs) - middle) / high, (max(xs) - middle) / high),
        (min(ys) / high - 0.5, max(ys) / high - 0.5),
        _most(runs, STROKE * high),
    )


def _points(piece: tuple[XY, ...]) -> list[XY]:
    """Points of a piece of an outline: its ends, or many along a parabola."""
    if len(piece) == 2:
        return list(piece)
    (ax, ay), (bx, by), (cx, cy) = piece
    shares = (k / PIECES for k in range(PIECES + 1))
    return [
        (
            (1 - t) ** 2 * ax + 2 * t * (1 - t) * bx + t * t * cx,
            (1 - t) ** 2 * ay + 2 * t * (1 - t) * by + t * t * cy,
        )
        for t in shares
    ]


__all__ = ["measures", "where"]
