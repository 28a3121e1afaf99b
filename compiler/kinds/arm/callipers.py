"""A snap arm measured back: its walls where its foot stands, its nose, its fillet.

Seen along its width it is a profile: x towards the nose, y out of the flat that it stands on.  A tapered wall
is read where it meets that flat, as if there were no fillet."""

from __future__ import annotations

import math
from collections.abc import Iterator

import numpy as np
from msgspec import Struct

from ...callipers.bench import Bench
from ...callipers.flat_things import NO_FACE
from ...callipers.surfaces import FlatFace, flats_of
from ...callipers.taking import sized, turned
from ...callipers.types import ALLOWED, Taken
from ...model.stated import Number
from ...places.layout import Frame
from ...quantities.vectors import XY, Vector, along, cross, dot
from .model import Arm

STRAIGHT = 1 - 1e-6
FOOT_ENDS = "made smaller: the flat it stands on ends there"


class _Ways(Struct, frozen=True):
    """The ways of an arm in space: towards its nose, out of its flat, across its width."""

    nose: Vector
    out: Vector
    wide: Vector


class _Edge(Struct, frozen=True):
    """A wall of the profile: normal (x, y), offset along it, how high (mm) its middle is."""

    normal: XY
    offset: float
    middle: float

    def x(self, y: float) -> float:
        """Where it stands at a height."""
        return (self.offset - self.normal[1] * y) / self.normal[0]

    def y(self, x: float) -> float:
        """How high it is at a place."""
        return (self.offset - self.normal[0] * x) / self.normal[1]


class _Profile(Struct, frozen=True):
    """What is found of an arm seen along its width; None for what is gone.  `foot`, `top`: the heights of
    both ends; `front`, `back`, `tip`: the wall under the nose, the one behind it and the upper part of that;
    `catch`, `lead`: the faces of the nose; `ridge`: how far the nose reaches."""

    foot: float
    top: float
    front: _Edge | None
    back: _Edge | None
    tip: _Edge | None
    catch: _Edge | None
    lead: _Edge | None
    ridge: float | None


def where(bench: Bench, arm: Arm, number: int, frame: Frame) -> tuple[tuple[XY, float], ...]:
    """Where the middle of its foot lies on a plane."""
    ways = _ways(bench, arm, number)
    seen = _profile(bench, arm, number, ways)
    known = []
    if seen is not None and seen.front is not None and seen.back is not None:
        known.append((ways.nose, 0.5 * (seen.front.x(seen.foot) + seen.back.x(seen.foot))))
    ends = _ends(bench, arm, number, ways)
    if ends is not None:
        known.append((ways.wide, 0.5 * (ends[0] + ends[1])))
    told = [((dot(way, frame.right), dot(way, frame.up)), at - dot(frame.origin, way)) for way, at in known]
    return tuple((way, at) for way, at in told if math.hypot(*way) > STRAIGHT)


def measures(bench: Bench, arm: Arm) -> Iterator[Taken]:
    """Its sizes: lengths from the flat it stands on, angles from the way it is pushed in and pulled out."""
    ways = _ways(bench, arm, 1)
    seen = _profile(bench, arm, 1, ways)
    for number in arm.numbers:
        word = number.word
        if word == "wide":
            ends = _ends(bench, arm, 1, ways)
            yield _row(arm, number, None if ends is None else ends[1] - ends[0])
        elif word == "fillet":
            yield _fillet(bench, arm, number, ways)
        elif word in ("lead", "return"):
            angle = None if seen is None else _angle(seen, word)
            yield turned(arm, number, angle, NO_FACE if angle is None else "")
        elif word in ("long", "thick", "tip", "nose"):
            yield _row(arm, number, None if seen is None else _length(seen, word))


def _row(arm: Arm, number: Number, found: float | None) -> Taken:
    return sized(arm, number, found, NO_FACE if found is None else "")


def _length(seen: _Profile, word: str) -> float | None:
    front = seen.front
    if front is None:
        return None
    if word == "thick":
        return None if seen.back is None else front.x(seen.foot) - seen.back.x(seen.foot)
    if word == "tip":
        return None if seen.tip is None else front.x(seen.top) - seen.tip.x(seen.top)
    if word == "nose":
        return None if seen.ridge is None else seen.ridge - front.x(seen.foot)
    return None if seen.catch is None else seen.catch.y(front.x(seen.foot)) - seen.foot


def _angle(seen: _Profile, word: str) -> float | None:
    """How far a face of the nose leans from the way out of the flat (degrees)."""
    face = seen.lead if word == "lead" else seen.catch
    return None if face is None else math.degrees(math.atan2(abs(face.normal[1]), face.normal[0]))


def _fillet(bench: Bench, arm: Arm, number: Number, ways: _Ways) -> Taken:
    """The larger of the two rounds of its foot: one is made smaller where the flat ends, perhaps both."""
    pieces = bench.pieces(bench.own(arm, 1, "fillet"))
    rounds = [bench.rounded(piece, ways.wide) for piece in pieces]
    radius = max((one.radius for one in rounds if one is not None), default=None)
    if radius is None or radius < number.size.value - ALLOWED:
        return sized(arm, number, None, FOOT_ENDS)
    return sized(arm, number, radius)


def _ways(bench: Bench, arm: Arm, number: int) -> _Ways:
    frame, (x, y) = bench.model.frame(arm), arm.sizes.facing
    nose = along((0.0, 0.0, 0.0), (frame.right, x), (frame.up, y))
    out = along((0.0, 0.0, 0.0), (frame.out, float(arm.placed.out)))
    nose, out = bench.turned(arm, number, nose), bench.turned(arm, number, out)
    return _Ways(nose, out, cross(nose, out))


def _ends(bench: Bench, arm: Arm, number: int, ways: _Ways) -> tuple[float, float] | None:
    """Where its two ends lie along its width."""
    flats = flats_of(bench.own(arm, number, "end"))
    low = [dot(flat.point, ways.wide) for flat in flats if dot(flat.normal, ways.wide) < -STRAIGHT]
    high = [dot(flat.point, ways.wide) for flat in flats if dot(flat.normal, ways.wide) > STRAIGHT]
    return (min(low), max(high)) if low and high else None


def _profile(bench: Bench, arm: Arm, number: int, ways: _Ways) -> _Profile | None:
    facets = bench.own(arm, number)
    if facets.empty:
        return None
    foot, top = facets.span(ways.out)
    nose = bench.own(arm, number, "nose")
    sides = [_edge(flat, ways) for flat in flats_of(bench.own(arm, number, "side"))]
    faces = [_edge(flat, ways) for flat in flats_of(nose)]
    backs = sorted((one for one in sides if one.normal[0] < -0.5), key=lambda one: one.middle)
    return _Profile(
        foot,
        top,
        next((one for one in sides if one.normal[0] > STRAIGHT), None),
        backs[0] if backs else None,
        backs[-1] if backs else None,
        next((one for one in faces if one.normal[1] < 0), None),
        next((one for one in faces if one.normal[1] > 0), None),
        None if nose.empty else float((nose.corners.reshape(-1, 3) @ np.asarray(ways.nose)).max()),
    )


def _edge(flat: FlatFace, ways: _Ways) -> _Edge:
    normal = dot(flat.normal, ways.nose), dot(flat.normal, ways.out)
    return _Edge(normal, dot(flat.point, flat.normal), dot(flat.point, ways.out))


__all__ = ["measures", "where"]
