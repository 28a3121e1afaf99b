"""Rows, rings, grids and mirrors: the moves in space that make the copies of a thing."""

from __future__ import annotations

import math

from ..diagnostics.types import Trouble
from ..facts.extents import half, is_box, radius
from ..facts.kind_questions import is_grid, is_mirror, is_point, is_ring, is_slot, is_zone
from ..facts.placing import (
    About,
    Count,
    LiesAlong,
    On,
    OverAngle,
    OverRow,
    Pitch,
    RunsAlong,
    RunsUpright,
    TurnedBy,
    TurnFact,
)
from ..facts.placing_reader import Placing
from ..quantities.vectors import Vector, along, cross, dot
from .edge_lines import ahead, edge_line
from .layout import Move
from .planes import Planes

MOST = 10_000
_NONE: Vector = (0.0, 0.0, 0.0)


def moves_of(pattern: Placing, of: str, pages: Planes) -> tuple[Move, ...]:
    """Moves of the copies .2, .3, ... of the thing `of`; raises Trouble where the pattern's own line is not
    placed.
    """
    if is_mirror(pattern.entry):
        return (_mirror(pattern, pages),)
    if is_ring(pattern.entry):
        return _ring(pattern, pages)
    plane = pages.stand(_home(of, pages))[0]
    return _grid(pattern, pages, plane) if is_grid(pattern.entry) else _row(pattern, of, pages, plane)


def _grid(pattern: Placing, pages: Planes, plane: str) -> tuple[Move, ...]:
    frame, count, pitch = pages.layout.frames[plane], pattern.one(Count), pattern.one(Pitch)
    assert count is not None and pitch is not None
    if count.number * count.up > MOST:
        raise Trouble(
            "bad-count",
            f"grid `{pattern.name}` would make {count.number * count.up} copies, more than {MOST}",
        )
    pages.layout.use(pattern.entry, count, pitch)
    return tuple(
        _shift(along(_NONE, (frame.right, i * pitch.pitch), (frame.up, j * pitch.up)))
        for j in range(count.up)
        for i in range(count.number)
        if i or j
    )


def _row(pattern: Placing, of: str, pages: Planes, plane: str) -> tuple[Move, ...]:
    direction, count = _direction(pattern, pages, plane), pattern.one(Count)
    assert count is not None
    step = _pitch(pattern, pages, of, count.number, direction)
    pages.layout.use(pattern.entry, count)
    return tuple(_shift(along(_NONE, (direction, i * step))) for i in range(1, count.number))


def _home(of: str, pages: Planes) -> str:
    """The thing on whose plane a pattern is laid out: of a zone, the body it works on."""
    placing = pages.facts.of[of]
    on = placing.one(On) if is_zone(placing.entry) else None
    return of if on is None else on.thing.name


def _half_along(of: str, pages: Planes, way: Vector) -> float | None:
    """How far a thing reaches from its middle along a row, in mm as read; None where it was never read."""
    placing, spot = pages.facts.of[of], pages.layout.spots.get(of)
    entry, size = placing.entry, radius(placing.entry, made=False)
    if is_point(entry):
        return 0.0
    if spot is None:
        return size
    lies = placing.one(LiesAlong)
    if lies is not None and (edge := edge_line(pages, lies.line)) is not None:
        low, high = pages.heights(of)
        return 0.5 * (high - low) if abs(dot(edge[1], way)) > 1.0 - 1e-9 else size
    frame = pages.layout.frames[spot.plane]
    angle = math.atan2(dot(way, frame.up), dot(way, frame.right)) - spot.turn
    if is_box(entry):
        long, wide = half(entry, made=False)
        return abs(math.cos(angle)) * long + abs(math.sin(angle)) * wide
    if is_slot(entry) and size is not None:
        return size + abs(math.cos(angle)) * max(0.0, half(entry, made=False)[0] - size)
    return size


def _pitch(pattern: Placing, pages: Planes, of: str, number: int, way: Vector) -> float:
    """The pitch of a row as given, or from the size read over all of it: (over - size) / (number - 1), where
    `size` is how far each of its things reaches from end to end along the row.
    """
    pitch, over = pattern.one(Pitch), pattern.one(OverRow)
    pages.layout.use(pattern.entry, pitch or over)
    if pitch is not None:
        return pitch.pitch
    assert over is not None
    size = _half_along(of, pages, way)
    if number < 2 or size is None:
        raise Trouble(
            "never-read",
            f"row `{pattern.name}` is read over all of its copies, so `{of}` must be "
            "of a size that was read, and there must be two or more",
            (pattern.name,),
        )
    return (over.reading.value - 2.0 * size) / (number - 1)


def _shift(by: Vector) -> Move:
    return Move(((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0)), by)


def _direction(pattern: Placing, pages: Planes, plane: str) -> Vector:
    fact = pattern.one(TurnFact)
    frame = pages.layout.frames[plane]
    pages.layout.use(pattern.entry, fact)
    match fact:
        case RunsAlong():
            edge = ahead(pages, fact.thing, frame)
            if edge is None:
                raise Trouble(
                    "other-plane",
                    f"row `{pattern.name}` runs along `{fact.thing}`, which is no placed line",
                )
            return edge[1]
        case TurnedBy():
            return frame.direction(math.radians(fact.angle))
        case RunsUpright():
            return frame.direction(0.5 * math.pi)
        case _:
            return frame.right


def _ring(pattern: Placing, pages: Planes) -> tuple[Move, ...]:
    about, count, over = pattern.one(About), pattern.one(Count), pattern.one(OverAngle)
    assert about is not None and count is not None
    spot = pages.layout.spots.get(about.thing.name)
    if spot is None:
        raise Trouble(
            "other-plane",
            f"ring `{pattern.name}` goes about `{about.thing}`, which has no placed centre",
        )
    pages.layout.use(pattern.entry, about, count, over)
    frame, number = pages.layout.frames[spot.plane], count.number
    centre = frame.point(spot.at)
    step = 2 * math.pi / number if over is None else math.radians(over.angle) / max(1, number - 1)
    return tuple(_turn(centre, frame.out, i * step) for i in range(1, number))


def _turn(centre: Vector, axis: Vector, angle: float) -> Move:
    """Turn about an axis through a point (Rodrigues' rotation formula)."""
    c, s = math.cos(angle), math.sin(angle)
    unit: tuple[Vector, Vector, Vector] = ((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0))
    columns = [
        along((0.0, 0.0, 0.0), (one, c), (cross(axis, one), s), (axis, dot(axis, one) * (1 - c)))
        for one in unit
    ]
    rows = tuple((columns[0][i], columns[1][i], columns[2][i]) for i in range(3))
    return _about(centre, (rows[0], rows[1], rows[2]))


def _about(point: Vector, rows: tuple[Vector, Vector, Vector]) -> Move:
    moved = (dot(rows[0], point), dot(rows[1], point), dot(rows[2], point))
    return Move(rows, along(point, (moved, -1.0)))


def _mirror(pattern: Placing, pages: Planes) -> Move:
    about = pattern.one(About)
    assert about is not None
    ref = about.thing
    edge = edge_line(pages, ref)
    if edge is None:
        flat = pages.flat(ref) if pages.is_flat(ref) else None
        if flat is None:
            raise Trouble(
                "other-plane", f"mirror `{pattern.name}` is about `{ref}`, which is no placed line or flat"
            )
        point, normal = flat.point, flat.normal
    else:
        point, normal = edge[0], cross(edge[1], edge[2])
    pages.layout.use(pattern.entry, about)
    rows = tuple(
        along(_NONE, (unit, 1.0), (normal, -2.0 * dot(unit, normal)))
        for unit in ((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0))
    )
    return _about(point, (rows[0], rows[1], rows[2]))
