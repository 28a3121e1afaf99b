"""Rows, rings, grids and mirrors: the moves in space that make the copies of a thing."""

from __future__ import annotations

import math

from ..diagnostics.types import Trouble
from ..facts import ZONES, Claims, Entry, Ref
from ..facts.extents import half, is_box, radius
from ..quantities.vectors import Vector, along, cross, dot
from .layout import Layout, Move
from .planes import Pages

MOST = 10_000


def moves_of(pattern: Entry, of: str, claims: Claims, pages: Pages, layout: Layout) -> tuple[Move, ...]:
    """Moves of the copies .2, .3, ... of the thing `of`; raises Trouble where the pattern's own line is not
    placed.
    """
    if pattern.kind == "mirror":
        return (_mirror(pattern, pages),)
    if pattern.kind == "ring":
        return _ring(pattern, layout)
    page = pages.stand(_home(of, claims))[0]
    frame = layout.frames[page]
    if pattern.kind == "grid":
        count, pitch = pattern.one("count"), pattern.one("pitch")
        assert count is not None and pitch is not None
        across, up = int(count.number("across")), int(count.number("up"))
        if across * up > MOST:
            raise Trouble(
                "bad-count", f"grid `{pattern.name}` would make {across * up} copies, more than {MOST}"
            )
        return tuple(
            _shift(
                along(
                    (0.0, 0.0, 0.0), (frame.right, i * pitch.number("x")), (frame.up, j * pitch.number("y"))
                )
            )
            for j in range(up)
            for i in range(across)
            if i or j
        )
    direction = _direction(pattern, pages, layout, page)
    count = pattern.one("count")
    assert count is not None
    number = int(count.number("count"))
    step = _pitch(pattern, claims.entries[of], number, _half_along(of, claims, pages, layout, direction))
    return tuple(_shift(along((0.0, 0.0, 0.0), (direction, i * step))) for i in range(1, number))


def _home(of: str, claims: Claims) -> str:
    """The thing on whose page a pattern is laid out: of a zone, the body it works on."""
    on = claims.entries[of].one("on") if claims.entries[of].kind in ZONES else None
    return of if on is None else on.ref("thing").name


def _half_along(of: str, claims: Claims, pages: Pages, layout: Layout, way: Vector) -> float | None:
    """How far a thing reaches from its middle along a row, in mm as read; None where it was never read."""
    entry, spot = claims.entries[of], layout.spots.get(of)
    size = radius(entry, made=False)
    if spot is None or entry.kind == "point":
        return size
    lies = entry.one("lies along")
    if lies is not None and (edge := pages.edge_line(lies.ref("line"))) is not None:
        low, high = pages.heights(of)
        return 0.5 * (high - low) if abs(dot(edge[1], way)) > 1.0 - 1e-9 else size
    frame = layout.frames[spot.page]
    angle = math.atan2(dot(way, frame.up), dot(way, frame.right)) - spot.turn
    if is_box(entry):
        long, wide = half(entry, made=False)
        return abs(math.cos(angle)) * long + abs(math.sin(angle)) * wide
    if entry.kind == "slot" and size is not None:
        return size + abs(math.cos(angle)) * max(0.0, half(entry, made=False)[0] - size)
    return size


def _pitch(pattern: Entry, thing: Entry, number: int, size: float | None) -> float:
    """The pitch of a row as given, or from the size read over all of it, (over - 2 size) / (number - 1);
    `size`: how far each of its things reaches along it.
    """
    pitch, over = pattern.one("pitch"), pattern.one("over")
    if pitch is not None:
        return pitch.number("number")
    assert over is not None
    if number < 2 or (size is None and thing.kind != "point"):
        raise Trouble(
            "never-read",
            f"row `{pattern.name}` is read over all of its copies, so `{thing.name}` must be "
            "of a size that was read, and there must be two or more",
            (pattern.name,),
        )
    return (over.quantity("readings").value - 2.0 * (size or 0.0)) / (number - 1)


def _shift(by: Vector) -> Move:
    return Move(((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0)), by)


def _direction(pattern: Entry, pages: Pages, layout: Layout, page: str) -> Vector:
    claim = pattern.one("along", "upright", "angle")
    frame = layout.frames[page]
    if claim is None:
        return frame.right
    if claim.word == "along":
        edge = pages.ahead(claim.ref("thing"), frame)
        if edge is None:
            raise Trouble(
                "other-plane",
                f"row `{pattern.name}` runs along `{claim.ref('thing')}`, which is no placed line",
            )
        return edge[1]
    angle = math.radians(claim.number("angle")) if claim.word == "angle" else 0.5 * math.pi
    return frame.direction(angle)


def _ring(pattern: Entry, layout: Layout) -> tuple[Move, ...]:
    about, count = pattern.one("about"), pattern.one("count")
    assert about is not None and count is not None
    ref = about.ref("thing")
    spot = layout.spots.get(ref.name)
    if spot is None:
        raise Trouble("other-plane", f"ring `{pattern.name}` goes about `{ref}`, which has no placed centre")
    frame = layout.frames[spot.page]
    centre, number = frame.point(spot.at), int(count.number("count"))
    over = pattern.one("over")
    step = 2 * math.pi / number if over is None else math.radians(over.number("angle")) / max(1, number - 1)
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


def _mirror(pattern: Entry, pages: Pages) -> Move:
    about = pattern.one("about")
    assert about is not None
    ref: Ref = about.ref("thing")
    edge = pages.edge_line(ref)
    if edge is None:
        flat = pages.flat(ref) if pages.is_flat(ref) else None
        if flat is None:
            raise Trouble(
                "other-plane", f"mirror `{pattern.name}` is about `{ref}`, which is no placed line or flat"
            )
        point, normal = flat.point, flat.normal
    else:
        point, normal = edge[0], cross(edge[1], edge[2])
    rows = tuple(
        along((0.0, 0.0, 0.0), (unit, 1.0), (normal, -2.0 * dot(unit, normal)))
        for unit in ((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0))
    )
    return _about(point, (rows[0], rows[1], rows[2]))
