"""Corners of outlines on the finished mesh: where two walls meet of the body drawn through a point, be the
corner itself rounded or bevelled away.
"""

from __future__ import annotations

import itertools
import math

import numpy as np

from ..model import Thing
from ..places.layout import Frame
from ..quantities.vectors import XY, Vector, dot
from .bench import Bench
from .drawn import drawn_with, trimmed, walls_through

SQUARE = 1 - 1e-6
PASSES = 0.02
"""Walls that pass a place within this (mm) meet at it."""
BEND = 0.02
"""Walls that meet at less than this (sine of the angle, about a degree) are one straight."""
BESIDE = 0.5
"""What lies within this (mm) of a corner may have buried it or cut it away."""

Wall = tuple[XY, float]
"""A wall seen edge-on on a plane: its normal, and how far along that it lies."""


def corner(bench: Bench, thing: Thing, frame: Frame, home: Vector) -> tuple[Wall, ...]:
    """The two walls that meet at a point of an outline; none where none is drawn through it.

    Where no two walls pass the place where the point was put, though nothing else lies there that may have
    buried them, the corner was built elsewhere: then the nearest one there is is the one that was meant."""
    on = bench.model.frame(thing)
    if thing.edge_across > 0 or abs(dot(on.out, frame.out)) < SQUARE:
        return ()
    at, _ = frame.onto(home)
    walls = walls_through(bench, thing.name, frame, at, PASSES)
    if len(walls) > 1:
        second = max(walls[1:], key=lambda wall: abs(_bend(walls[0], wall)))
        if abs(_bend(walls[0], second)) > BEND:
            return walls[0], second
        return ()
    if _something_else_at(bench, thing, frame, at):
        return ()
    every = walls_through(bench, thing.name, frame, at, math.inf)
    pairs = [pair for pair in itertools.combinations(every, 2) if abs(_bend(*pair)) > BEND]
    return min(pairs, key=lambda pair: math.dist(_meeting(*pair), at), default=())


def _bend(first: Wall, second: Wall) -> float:
    """The sine of the angle between two walls."""
    return first[0][0] * second[0][1] - first[0][1] * second[0][0]


def _meeting(first: Wall, second: Wall) -> XY:
    """Where two walls meet on the plane."""
    (a, one), (b, two) = first, second
    area = _bend(first, second)
    return (one * b[1] - two * a[1]) / area, (two * a[0] - one * b[0]) / area


def _something_else_at(bench: Bench, thing: Thing, frame: Frame, at: XY) -> bool:
    """Whether the faces of a statement that the outline does not run along surround a place on a plane."""
    own = set(drawn_with(bench, thing.name))
    for name in bench.names:
        facets = bench.faces(name)
        if name in own or facets.empty:
            continue
        seen = np.stack(
            [facets.corners @ np.array(frame.right), facets.corners @ np.array(frame.up)], axis=-1
        )
        origin = np.array([dot(frame.origin, frame.right), dot(frame.origin, frame.up)])
        low, high = (seen - origin).min(axis=(0, 1)), (seen - origin).max(axis=(0, 1))
        if (low - BESIDE <= at).all() and (at <= high + BESIDE).all():
            return True
    return bool(trimmed(bench, own))
