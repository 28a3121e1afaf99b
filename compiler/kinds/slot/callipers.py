"""A slot measured back: between its walls, over its ends, its depth, its mouth, how it lies."""

from __future__ import annotations

import math
from collections.abc import Iterator

import numpy as np

from ...callipers.bench import Bench
from ...callipers.hole_forms import MATE, end_of, facing, mouth
from ...callipers.holes import NO_WALL, across, depth, wall_facets
from ...callipers.surfaces import Facets, flats_of
from ...callipers.taking import sized, turned
from ...callipers.types import Taken
from ...places.layout import Frame
from ...quantities.vectors import XY, Vector, along, cross, dot
from .model import SlotHole

NO_END = "one of its ends is not on the part"
BESIDE = 0.7
"""A wall whose way is nearer than this (as a cosine) to square to the slot is one of its long ones."""


def where(bench: Bench, hole: SlotHole, number: int, frame: Frame) -> tuple[tuple[XY, float], ...]:
    """Where the middle between its walls, and between its ends, lies on a plane."""
    facets = bench.own(hole, number, "")
    out = bench.turned(hole, number, bench.model.frame(hole).out)
    way = bench.turned(hole, number, bench.model.frame(hole).direction(hole.placed.turn))
    found = []
    walls = _walls(facets, out, way)
    if walls is not None:
        found.append((walls[0], 0.5 * (walls[1] + walls[2])))
        way = _beside(walls[0], out, way)
    ends = end_of(facets, out, way), end_of(facets, out, along((0.0, 0.0, 0.0), (way, -1.0)))
    if ends[0] is not None and ends[1] is not None:
        found.append((way, 0.5 * (ends[0] - ends[1])))
    told = [((dot(one, frame.right), dot(one, frame.up)), at - dot(frame.origin, one)) for one, at in found]
    return tuple((seen, at) for seen, at in told if math.hypot(*seen) > 1 - 1e-6)


def measures(bench: Bench, hole: SlotHole) -> Iterator[Taken]:
    """The sizes of the slot."""
    frame, facets = bench.model.frame(hole), wall_facets(bench, hole)
    way = frame.direction(hole.placed.turn)
    walls = _walls(facets, frame.out, way)
    wide = None if walls is None else walls[2] - walls[1]
    way = way if walls is None else _beside(walls[0], frame.out, way)
    for number in hole.numbers:
        said = number.size.said
        if number.key == "mate":
            yield sized(hole, number, None, MATE)
        elif number.key == "meant" or (hole.size is not None and said == hole.size.said):
            yield across(bench, hole, number, wide)
        elif number.word == "long":
            ends = end_of(facets, frame.out, way), end_of(facets, frame.out, _back(way))
            found = None if ends[0] is None or ends[1] is None else ends[0] + ends[1]
            yield sized(hole, number, found, NO_END if found is None else "")
        elif number.word == "deep":
            yield depth(bench, hole, number)
        elif number.word in ("counterbore", "countersink"):
            yield mouth(bench, hole, number)
        elif number.word == "turned":
            square = facing(bench, hole, facets)
            yield turned(hole, number, square and square + 90.0, NO_WALL if square is None else "", 180.0)


def _back(way: Vector) -> Vector:
    return along((0.0, 0.0, 0.0), (way, -1.0))


def _beside(square: Vector, out: Vector, way: Vector) -> Vector:
    """The way along walls that face one way, nearly that in which the slot was put."""
    told = cross(out, square)
    return told if dot(told, way) > 0 else _back(told)


def _walls(facets: Facets, out: Vector, way: Vector) -> tuple[Vector, float, float] | None:
    """The way square to its long walls, and how far along it these lie; None without both."""
    square = np.cross(np.asarray(out), np.asarray(way))
    for flat in flats_of(facets):
        if abs(float(square @ np.asarray(flat.normal))) < BESIDE:
            continue
        ends = [
            dot(one.point, flat.normal)
            for one in flats_of(facets)
            if abs(dot(one.normal, flat.normal)) > 1 - 1e-6
        ]
        if max(ends) - min(ends) > 1e-3:
            return flat.normal, min(ends), max(ends)
    return None


__all__ = ["measures", "where"]
