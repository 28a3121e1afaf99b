"""The axis of a turning in the finished part, and places across and along it."""

from __future__ import annotations

from collections.abc import Iterator

from ...facts import Entry
from ...quantities.vectors import Vector, along, clean, cross
from .relations import finished_way
from .views import Scene, finished

Pair = tuple[Vector, Vector]


class Axis:
    """The axis of a turning in the finished part."""

    def __init__(self, scene: Scene, entry: Entry) -> None:
        spot = scene.layout.spots[entry.name]
        frame = scene.layout.frames[spot.page]
        lies = entry.one("lies along")
        edge = scene.pages.ahead(lies.ref("line"), frame) if lies is not None else None
        way = edge[1] if edge is not None else clean(along((0.0, 0.0, 0.0), (frame.out, float(spot.out))))
        side = cross(edge[1], edge[2]) if edge is not None else frame.right
        mirrored = scene.part.mirrored
        self.start = finished(frame.point(spot.at, spot.base), scene.part)
        self.way = finished_way(way, mirrored)
        self.sides = (finished_way(side, mirrored), finished_way(clean(cross(way, side)), mirrored))

    def across(self, at: float, radius: float) -> Iterator[Pair]:
        """Two points across the axis at a station."""
        middle = along(self.start, (self.way, at))
        for side in self.sides:
            yield along(middle, (side, -radius)), along(middle, (side, radius))

    def along(self, start: float, stop: float, radius: float) -> Iterator[Pair]:
        """Two points along the axis, `radius` off it."""
        for side in self.sides:
            for sign in (1.0, -1.0):
                foot = along(self.start, (side, sign * radius))
                yield along(foot, (self.way, start)), along(foot, (self.way, stop))
