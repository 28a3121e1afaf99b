"""Centre lines (ISO 128, 04.1): crosses where a round thing is seen end on, axes where it is seen from the
side.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import TYPE_CHECKING

import numpy as np

from ...facts import Entry
from ...quantities.vectors import XY, Vector, along
from .marks import Arc, Role
from .relations import finished_way
from .views import Scene

if TYPE_CHECKING:
    from .drawing import Placed

OVER = 2.5  # mm that a centre line runs on beyond the edge
Stroke = tuple[Role, XY, XY]


def chain_circles(scene: Scene, view: Placed) -> Iterator[Arc]:
    """The pitch circles that a view shows as circles."""
    for one in scene.circles():
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
    for entry in scene.claims.of_kind("turning", "round", "peg", "gear", "bore", "slot"):
        page = scene.page_of(entry)
        if page is None or entry.name not in scene.layout.spots:
            continue
        if entry.kind == "round" and not _is_edge(scene, entry):
            continue
        way = _axis(scene, entry, page)
        facing = abs(sum(a * b for a, b in zip(way, view.shown.view.out, strict=True)))
        strokes = (
            _cross(scene, entry, view)
            if facing > 1 - 1e-9
            else _side(scene, entry, view, way)
            if facing < 1e-9
            else ()
        )
        for stroke in strokes:
            key = tuple(round(value, 2) for point in stroke[1:] for value in point)
            if key not in drawn:
                drawn.add(key)
                yield stroke


def _is_edge(scene: Scene, entry: Entry) -> bool:
    return any(entry.name in face for face in scene.part.faces)


def _axis(scene: Scene, entry: Entry, page: str) -> Vector:
    lies = entry.one("lies along")
    edge = scene.pages.edge_line(lies.ref("line")) if lies is not None else None
    return finished_way(edge[1] if edge is not None else scene.layout.frames[page].out, scene.part.mirrored)


def _cross(scene: Scene, entry: Entry, view: Placed) -> Iterator[Stroke]:
    reach = view.scale * max(scene.layout.spots[entry.name].half) + OVER
    for place in scene.places(entry):
        x, y = view.of(place)
        yield Role.CENTRE, (x - reach, y), (x + reach, y)
        yield Role.CENTRE, (x, y - reach), (x, y + reach)


def _side(scene: Scene, entry: Entry, view: Placed, way: Vector) -> Iterator[Stroke]:
    """From end to end of the faces that the thing made, wherever a copy lies; in a section only what the cut
    meets.
    """
    if entry.kind == "round":
        return
    mesh = scene.part.mesh
    labels = [i for i, (name, _) in enumerate(scene.part.faces) if name == entry.name]
    used = np.unique(mesh.triangles[np.isin(mesh.labels, labels)].ravel())
    if not len(used):
        return
    heights = mesh.points[used] @ np.array(way)
    low, high = float(heights.min()), float(heights.max())
    cut = view.shown.cut
    for place in scene.places(entry):
        if cut is not None and abs((place[1] if cut.level else place[0]) - cut.at) > 0.2:
            continue
        here = float(np.array(place) @ np.array(way))
        ends = [
            view.of(along(place, (way, at - here)))
            for at in (low - OVER / view.scale, high + OVER / view.scale)
        ]
        yield Role.CENTRE, ends[0], ends[1]
