"""Outlines and helpers shared by the tests of this folder."""

from __future__ import annotations

import math

from makegood.outlines import Bend, Path, Region, Ring, backwards
from makegood.outlines.stops import PointStop, RoundStop, Stop
from shapely.geometry import Polygon
from shapely.ops import unary_union

PAWL: list[Stop] = [
    PointStop((22, 0), 1, "heel"),
    PointStop((28, 18), 2, "tip"),
    PointStop((20, 14), 3, "notch"),
    RoundStop((0, 8), 8, label=4, name="boss"),
]


def fine(path: Path, per_turn: int = 4000) -> Polygon:
    """An independent dense polygon of a path: points on every arc, thousands to the turn."""
    points = []
    for edge in path:
        points.append(edge.start)
        if isinstance(edge, Bend):
            count = max(2, math.ceil(per_turn * abs(edge.sweep) / math.tau))
            first = math.atan2(edge.start[1] - edge.centre[1], edge.start[0] - edge.centre[0])
            points += [
                (
                    edge.centre[0] + edge.radius * math.cos(first + edge.sweep * k / count),
                    edge.centre[1] + edge.radius * math.sin(first + edge.sweep * k / count),
                )
                for k in range(1, count)
            ]
    return Polygon(points)


def as_polygon(shape: Region | Ring):
    rings = (shape,) if isinstance(shape, Ring) else shape.rings
    solid = unary_union([Polygon(r.points) for r in rings if Polygon(r.points).exterior.is_ccw])
    return solid.difference(
        unary_union([Polygon(r.points) for r in rings if not Polygon(r.points).exterior.is_ccw])
    )


def assert_closed(path: Path, tolerance: float = 1e-6) -> None:
    for before, after in zip((path[-1], *path), path, strict=False):
        assert math.dist(before.end, after.start) <= tolerance
    for edge in path:
        if isinstance(edge, Bend):
            assert abs(math.dist(edge.start, edge.centre) - edge.radius) <= tolerance
            assert abs(math.dist(edge.end, edge.centre) - edge.radius) <= tolerance
    assert len(backwards(path)) == len(path)


def smooth_joins(path: Path) -> list[float]:
    """Turn in radians at every join of a closed path."""
    turns = []
    for before, after in zip((path[-1], *path), path, strict=False):
        a, b = _way(before, before.end), _way(after, after.start)
        turns.append(math.atan2(a[0] * b[1] - a[1] * b[0], a[0] * b[0] + a[1] * b[1]))
    return turns


def _way(edge, at):
    if isinstance(edge, Bend):
        sense = math.copysign(1, edge.sweep)
        return (-sense * (at[1] - edge.centre[1]), sense * (at[0] - edge.centre[0]))
    return (edge.end[0] - edge.start[0], edge.end[1] - edge.start[1])
