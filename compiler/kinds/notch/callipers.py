"""A notch measured back: between its walls, its depth, the rounds of its corners, how it is turned."""

from __future__ import annotations

import math
from collections.abc import Iterator

from ...callipers.bench import Bench
from ...callipers.hole_forms import facing
from ...callipers.holes import NO_WALL, depth
from ...callipers.locating import middle_between, walls_along
from ...callipers.surfaces import corner_round
from ...callipers.taking import sized, turned
from ...callipers.types import Taken
from ...model.stated import Number
from ...places.layout import Frame
from ...quantities.vectors import XY, Vector, dot
from .model import Notch

OPEN = "it is open there: one of its walls is not on the part"
NO_CORNER = "no rounded corner of it is left on the part"


def where(bench: Bench, hole: Notch, number: int, frame: Frame) -> tuple[tuple[XY, float], ...]:
    """Where the middle between its walls lies on a plane."""
    known = []
    for way, half in zip(_ways(bench, hole), hole.placed.half, strict=True):
        told = bench.turned(hole, number, way)
        seen = dot(told, frame.right), dot(told, frame.up)
        middle = middle_between(bench, hole, number, told, half)
        if middle is not None and math.hypot(*seen) > 1 - 1e-6:
            known.append((seen, middle - dot(frame.origin, told)))
    return tuple(known)


def measures(bench: Bench, hole: Notch) -> Iterator[Taken]:
    """The sizes of the notch."""
    for number in hole.numbers:
        if number.word in ("long", "wide", "high"):
            yield _between(bench, hole, number)
        elif number.word == "deep":
            yield depth(bench, hole, number)
        elif number.word == "round inside":
            yield _round(bench, hole, number)
        elif number.word == "turned":
            angle = facing(bench, hole, bench.own(hole, 1, ""))
            yield turned(hole, number, angle, NO_WALL if angle is None else "", 90.0)


def _ways(bench: Bench, hole: Notch) -> tuple[Vector, Vector]:
    frame, turn = bench.model.frame(hole), hole.placed.turn
    return frame.direction(turn), frame.direction(turn + 0.5 * math.pi)


def _between(bench: Bench, hole: Notch, number: Number) -> Taken:
    """Between the two walls of one of its sizes."""
    found = None
    for (_, size), way in zip(hole.sizes, _ways(bench, hole), strict=True):
        if size.said == number.size.said:
            walls = walls_along(bench, hole, 1, way, ("",))
            back = [at for at, flat in walls if dot(flat.normal, way) > 0]
            out = [at for at, flat in walls if dot(flat.normal, way) < 0]
            found = max(out) - min(back) if back and out else None
    return sized(hole, number, found, OPEN if found is None else "")


def _round(bench: Bench, hole: Notch, number: Number) -> Taken:
    """The round of its corners: the one that is furthest off, where one line tells them all."""
    alone = sum(one.word == number.word for one in hole.numbers) == 1
    out = bench.model.frame(hole).out
    pieces = bench.pieces(bench.own(hole, 1, number.word))
    rounds = [radius for piece in pieces if (radius := corner_round(piece, out)) is not None]
    pick = max if alone else min
    found = pick(rounds, key=lambda radius: abs(radius - number.size.value), default=None)
    return sized(hole, number, found, NO_CORNER if found is None else "")


__all__ = ["measures", "where"]
