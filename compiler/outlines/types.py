"""Closed regions of a plane: exact paths of lines and arcs, and the faceted rings made from them.

Lengths in mm, angles in radians.  Paths run anticlockwise round material, holes clockwise.  A *label* is a
small non-negative integer that the caller chose; it stays with the edge through every operation, down to the
triangle."""

from __future__ import annotations

from msgspec import Struct

from ..quantities.arrays import Floats, Ints
from ..quantities.vectors import XY


class Straight(Struct, frozen=True):
    """A straight edge from `start` to `end`."""

    start: XY
    end: XY
    label: int


class Bend(Struct, frozen=True):
    """An arc about `centre` from `start` to `end`, turning by `sweep` radians (positive is anticlockwise).

    On a path that runs anticlockwise round material a positive sweep is a convex edge, a negative one a
    hollow."""

    centre: XY
    radius: float
    start: XY
    end: XY
    sweep: float
    label: int


Edge = Straight | Bend
Path = tuple[Edge, ...]


class Ring(Struct, frozen=True):
    """A closed polygon: points (n, 2) in mm, and labels (n,) where labels[i] marks the edge from point i to i
    + 1.
    """

    points: Floats
    labels: Ints


class Region(Struct, frozen=True):
    """A flat area: outer rings anticlockwise, holes clockwise, no two crossing."""

    rings: tuple[Ring, ...]
