"""Closed regions of a plane: exact paths of lines and arcs, and the faceted rings made from them.

Lengths in mm, angles in radians.  Paths run anticlockwise round material, holes clockwise.  A *label* is a small
non-negative integer that the caller chose; it stays with the edge through every operation, down to the triangle.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

Floats = npt.NDArray[np.float64]
Ints = npt.NDArray[np.int32]
Flags = npt.NDArray[np.bool_]
XY = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Straight:
    """A straight edge from `start` to `end`."""

    start: XY
    end: XY
    label: int


@dataclass(frozen=True, slots=True)
class Bend:
    """An arc about `centre` from `start` to `end`, turning by `sweep` radians (positive is anticlockwise).

    On a path that runs anticlockwise round material a positive sweep is a convex edge, a negative one a hollow.
    """

    centre: XY
    radius: float
    start: XY
    end: XY
    sweep: float
    label: int


Edge = Straight | Bend
Path = tuple[Edge, ...]


@dataclass(frozen=True, slots=True)
class Ring:
    """A closed polygon: points (n, 2) in mm, and labels (n,) where labels[i] marks the edge from point i to i + 1."""

    points: Floats
    labels: Ints


@dataclass(frozen=True, slots=True)
class Region:
    """A flat area: outer rings anticlockwise, holes clockwise, no two crossing."""

    rings: tuple[Ring, ...]
