"""Where the holes of used parts came to lie in the finished part, and which way their axes run."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
from msgspec import Struct

from ..imports.types import HeldThing
from ..model import Model
from ..model.brought import Brought
from ..places.layout import Move
from ..quantities.arrays import Floats
from ..quantities.vectors import XY, Vector, along, clean, dot
from .types import Part

STILL = Move(((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0)), (0.0, 0.0, 0.0))


class Inner(Struct, frozen=True):
    """A thing of a used part in the finished part: the statement that uses it, its name there, which copy of
    the whole (1: the first), what it is, its place (mm) and its axis (a unit vector)."""

    owner: str
    name: str
    number: int
    of: HeldThing
    at: Vector
    axis: Vector


def finished(place: Vector, part: Part) -> Vector:
    """A point of the first sheet's frame in the finished part."""
    x = -place[0] if part.mirrored else place[0]
    return (x - part.low[0], place[1] - part.low[1], place[2] - part.low[2])


def axis_of(out: Vector, move: Move, part: Part) -> Vector:
    """An axis along `out` after a move, in the finished part: of its two ways the one whose first entry is
    not negative.
    """
    x, y, z = (dot(row, out) for row in move.rows)
    way = clean((-x if part.mirrored else x, y, z))
    first = next((one for one in way if abs(one) > 1e-9), 1.0)
    return (
        (way[0] + 0.0, way[1] + 0.0, way[2] + 0.0)
        if first > 0
        else (0.0 - way[0], 0.0 - way[1], 0.0 - way[2])
    )


def inner_things(model: Model, part: Part) -> Iterator[Inner]:
    """All holes of used parts, and what else of them is spoken of, with a place for each copy of the used
    part.
    """
    for body in model.of(Brought):
        spot, frame, heights = body.placed, body.frame, (body.low, body.high)
        for name, of in body.held:
            if not of.hole and f"{body.name}.{name}" not in model.things:
                continue
            x, y, z = stood(np.array([of.at]), body.box, spot.at, heights, spot.out)[0].tolist()
            start = frame.point((x, y), z)
            right, up, out = of.axis[0] * spot.out, of.axis[1], of.axis[2] * spot.out
            way = along((0.0, 0.0, 0.0), (frame.right, right), (frame.up, up), (frame.out, out))
            for number, move in enumerate((STILL, *body.copies), start=1):
                at, axis = finished(move.point(start), part), axis_of(way, move, part)
                yield Inner(body.name, name, number, of, at, axis)


def stood(own: Floats, box: Vector, at: XY, heights: XY, out: int) -> Floats:
    """Points (n, 3) of a stock of that box in their place on the page: each side of the box comes to lie
    exactly where a block's would, so that bodies meet."""
    half = 0.5 * np.array(box)
    points: Floats = (own - half) * np.array([out, 1.0, out])
    low, high = heights
    upper = points[:, 2] > 0
    points[:, 2] = np.where(upper, high - (half[2] - points[:, 2]), low + (half[2] + points[:, 2]))
    points[:, :2] += np.array(at)
    return points
