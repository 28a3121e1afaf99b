"""Bodies that touch on the same round, such as a turning of 50 across in one bored 50, are made one.

The facets of an outer round stay inside the true circle, those of a bore outside it, so that what is to turn
turns.  Between two rounds of one size this leaves a slit of facets, open at both ends, and the bodies meet at
most at corners of facets.  A thin tube over the stretch that both rounds share closes it.  It is laid only
where there is material on either side of it all round, so nothing is added that could be seen."""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Sequence

import numpy as np
from msgspec import Struct

from ..model import Body
from ..model.holes import Hole
from ..model.sections import RoundSection
from ..model.types import Cylinder
from ..places.layout import Frame, Move
from ..quantities.vectors import Vector, along, cross, dot
from .combine import frame_along, overlap, place
from .hole_tools import heights_over
from .kernel import Solid
from .refilled_holes import body_of
from .turnings import turned
from .workshop import Workshop

ALIKE = 1e-6  # mm, between radii and between axes
SHORT = 1e-3  # mm: rounds that share less of a stretch only meet
WHOLE = 0.999
"""The share of a tube beside the slit that must be material: facets take a little of it."""
MOST_PAIRS = 100_000
"""So many pairs of rounds of one size are looked at."""
MOST = 400
"""So many tubes are made."""


class _Round(Struct, frozen=True):
    """A round face in space: whose (part, hole or ''), a point and the way of its axis, radius, and the
    heights over that point between which it runs."""

    part: int
    hole: str
    point: Vector
    way: Vector
    radius: float
    low: float
    high: float


class Seam(Struct, frozen=True):
    """The tube that makes two bodies one where they touch on a round; `hole`: the bore that `body` stands in,
    '' where it is no hole.
    """

    tube: Solid
    hole: str
    body: str


def seams(shop: Workshop, parts: Sequence[tuple[str, Solid]]) -> list[Seam]:
    """The tubes between all rounds of one size and one axis; `parts`: each body and copy in its place."""
    outer: dict[int, list[_Round]] = {}
    inner: dict[int, list[_Round]] = {}
    for number, (name, _) in enumerate(parts):
        body, move = _which(shop, name)
        for face in body.cylinders:
            found = _at(number, "", face, face.low, face.high, move)
            (outer if face.outside else inner).setdefault(_key(face.radius), []).append(found)
    for number, (name, solid) in enumerate(parts) if outer else ():
        body, move = _which(shop, name)
        for hole in shop.model.of(Hole):
            section = hole.section
            if not isinstance(section, RoundSection) or _key(section.radius) not in outer:
                continue
            if body.name in hole.owners and hole.thread is None:
                found_in = _bore(shop, hole, section.radius, number, solid, move)
                inner.setdefault(_key(section.radius), []).extend(found_in)
    every = (itertools.product(outer[key], inner[key]) for key in sorted(outer.keys() & inner.keys()))
    pairs = itertools.islice(itertools.chain.from_iterable(every), MOST_PAIRS)
    same = itertools.islice((pair for pair in pairs if _is_one(*pair)), MOST)
    made = (_seam(shop, parts, *pair) for pair in same)
    return [seam for seam in made if seam is not None]


def _which(shop: Workshop, name: str) -> tuple[Body, Move | None]:
    """The body that a part is, or is a copy of, and the move of that copy."""
    body = shop.model.body(body_of(name))
    return body, None if name == body.name else body.copies[int(name.rpartition(".")[2]) - 2]


def _key(radius: float) -> int:
    return round(radius * 1e4)


def _bore(
    shop: Workshop, hole: Hole, radius: float, number: int, solid: Solid, move: Move | None
) -> Iterator[_Round]:
    """A plain round hole of a body at each of its places: those of its own copies, and these where a copy of
    the body takes them along."""
    frame = shop.model.frame(hole)
    axis = Frame(frame.point(hole.placed.at), frame.right, frame.up, frame.out)
    face = Cylinder(axis, radius, 0.0, 0.0, False)
    for own, copy in itertools.product(dict.fromkeys((None, move)), (None, *hole.copies)):
        found = _moved(_at(number, hole.name, face, 0.0, 0.0, copy), own)
        low, high = heights_over(solid, Frame(found.point, *_columns(found.way)))
        if hole.depth is not None:
            start, size = hole.depth.start, hole.depth.size.value
            low, high = sorted((start, start - hole.depth.out * size))
        yield _Round(number, hole.name, found.point, found.way, radius, low, high)


def _columns(way: Vector) -> tuple[Vector, Vector, Vector]:
    x, y, z = (tuple(column) for column in frame_along(way).T.tolist())
    return (x[0], x[1], x[2]), (y[0], y[1], y[2]), (z[0], z[1], z[2])


def _at(number: int, hole: str, face: Cylinder, low: float, high: float, move: Move | None) -> _Round:
    here = _Round(number, hole, face.axis.origin, face.axis.out, face.radius, low, high)
    return _moved(here, move)


def _moved(one: _Round, move: Move | None) -> _Round:
    if move is None:
        return one
    point, tip = move.point(one.point), move.point(along(one.point, (one.way, 1.0)))
    return _Round(one.part, one.hole, point, along(tip, (point, -1.0)), one.radius, one.low, one.high)


def _is_one(outer: _Round, inner: _Round) -> bool:
    """Whether two rounds of different bodies have one axis and one radius."""
    apart = along(inner.point, (outer.point, -1.0))
    off = cross(apart, outer.way)
    return (
        outer.part != inner.part
        and abs(outer.radius - inner.radius) <= ALIKE
        and abs(abs(dot(outer.way, inner.way)) - 1.0) <= 1e-9
        and dot(off, off) <= ALIKE**2
    )


def _seam(shop: Workshop, parts: Sequence[tuple[str, Solid]], outer: _Round, inner: _Round) -> Seam | None:
    """The tube between two faces of one round; None where material is missing on either side of it."""
    reach, turn = 2.0 * shop.chord, dot(outer.way, inner.way)
    shift, sign = dot(along(inner.point, (outer.point, -1.0)), outer.way), 1.0 if turn > 0.0 else -1.0
    ends = sorted((shift + sign * inner.low, shift + sign * inner.high))
    low, high = max(outer.low, ends[0]), min(outer.high, ends[1])
    if high - low < SHORT or outer.radius < 4.0 * reach:
        return None
    name = body_of(parts[outer.part][0])
    labels = shop.marks.of(name, "back"), shop.marks.of(name, "front")
    for face, walls in ((outer, (-2.0 * reach, -reach)), (inner, (reach, 2.0 * reach))):
        band = _tube(outer, walls, (low, high), shop.chord, labels)
        if overlap(band, parts[face.part][1]) < WHOLE * band.volume():
            return None
    return Seam(_tube(outer, (-reach, reach), (low, high), shop.chord, labels), inner.hole, name)


def _tube(
    one: _Round, walls: tuple[float, float], ends: tuple[float, float], chord: float, labels: tuple[int, int]
) -> Solid:
    """A tube about an axis: its two walls so far (mm) from the round, its ends with their labels; only these
    can be seen."""
    (inside, outside), (low, high), (back, front) = (one.radius + wall for wall in walls), ends, labels
    profile = np.array([[inside, low], [outside, low], [outside, high], [inside, high]])
    marks = np.array([back, front, front, back], dtype=np.int32)
    tube = turned(profile, marks, np.array([False, True, True, False]), chord / 4.0)
    return place(tube, one.point, frame_along(one.way))
