"""Centre lines (ISO 128, 04.1): crosses where a round thing is seen end on, axes where it is seen from the
side.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

import numpy as np

from ...model import Body, Thing
from ...model.holes import Hole
from ...model.types import Centre
from ...quantities.vectors import XY, Vector, along
from .marks import Arc, Role
from .notes import pitch_circles
from .placed import Placed
from .shapes import is_edge
from .views import Scene

OVER = 2.5  # mm that a centre line runs on beyond the edge
Stroke = tuple[Role, XY, XY]


def chain_circles(scene: Scene, view: Placed) -> Iterator[Arc]:
    """The pitch circles that a view shows as circles."""
    for one in pitch_circles(scene):
        facing = sum(a * b for a, b in zip(one.out, view.shown.view.out, strict=True))
        if abs(facing) > 1 - 1e-9 and view.shown.cut is None:
            middle, first = view.of(one.at), view.of(one.first)
            start = math.atan2(first[1] - middle[1], first[0] - middle[0])
            yield Arc(
                Role.CENTRE, middle, view.scale * one.radius, start, math.copysign(1.0, facing) * one.sweep
            )


def centre_lines(scene: Scene, view: Placed) -> Iterator[Stroke]:
    """The centre lines of one view, none twice."""
    drawn: set[tuple[float, ...]] = set()
    for thing in scene.model.things.values():
        if thing.centre < Centre.AXIS or not _made(scene, thing):
            continue
        way = _axis(scene, thing)
        facing = abs(sum(a * b for a, b in zip(way, view.shown.view.out, strict=True)))
        strokes = (
            _cross(scene, thing, view)
            if facing > 1 - 1e-9
            else _side(scene, thing, view, way)
            if facing < 1e-9
            else ()
        )
        for stroke in strokes:
            key = tuple(round(value, 2) for point in stroke[1:] for value in point)
            if key not in drawn:
                drawn.add(key)
                yield stroke


def _made(scene: Scene, thing: Thing) -> bool:
    """Whether a thing made something of the part; a shape may only mark a place."""
    return isinstance(thing, Body | Hole) or is_edge(scene, thing)


def _axis(scene: Scene, thing: Thing) -> Vector:
    """The way its axis runs in the finished part."""
    edge = scene.model.edges.get(thing.axis_line)
    return scene.way(edge[1] if edge is not None else scene.model.frames[thing.placed.plane].out)


def _cross(scene: Scene, thing: Thing, view: Placed) -> Iterator[Stroke]:
    reach = view.scale * max(thing.placed.half) + OVER
    for place in scene.places(thing):
        x, y = view.of(place)
        yield Role.CENTRE, (x - reach, y), (x + reach, y)
        yield Role.CENTRE, (x, y - reach), (x, y + reach)


def _side(scene: Scene, thing: Thing, view: Placed, way: Vector) -> Iterator[Stroke]:
    """From end to end of the faces that the thing made, wherever a copy lies; in a section only what the cut
    meets.
    """
    points = scene.points(thing.name)
    if not isinstance(thing, Body | Hole) or not len(points):
        return
    heights = points @ np.array(way)
    low, high = float(heights.min()), float(heights.max())
    cut = view.shown.cut
    for place in scene.places(thing):
        if cut is not None and abs((place[1] if cut.level else place[0]) - cut.at) > 0.2:
            continue
        here = float(np.array(place) @ np.array(way))
        ends = [
            view.of(along(place, (way, at - here)))
            for at in (low - OVER / view.scale, high + OVER / view.scale)
        ]
        yield Role.CENTRE, ends[0], ends[1]
