"""Outlines as the model holds them: stops of a walk, rounds of a belt, merged shapes, rounded corners."""

from __future__ import annotations

import math

from ..diagnostics.types import Trouble
from ..facts import Claim, Ref
from ..facts.extents import half
from .builder import Builder, optional_size, said_of, size_of
from .sections import (
    ArcAt,
    CircleAt,
    LineAt,
    PointAt,
    RectangleAt,
    RoundAt,
    ShapeAt,
    StopAt,
    WebAt,
)
from .types import Corners


def corner_of(builder: Builder, ref: Ref, hollow: bool, plane: str) -> PointAt | RoundAt:
    """A point or round as a stop of an outline."""
    at = builder.spot_of(ref, plane)
    if builder.entry(ref.name).kind == "point":
        return PointAt(str(ref), ref.name, at)
    return RoundAt(str(ref), ref.name, at, builder.radius_of(ref.name), hollow)


def stop_of(builder: Builder, ref: Ref, how: str, plane: str) -> StopAt:
    """A stop of a walk: point, round, line or arc."""
    entry = builder.entry(ref.name)
    if entry.kind == "line":
        there = builder.layout.lines.get(ref.name)
        if there is None or there[0] != plane:
            raise Trouble("other-plane", f"line `{ref}` is not placed on {plane}", (ref.name,))
        c, s = math.cos(there[1].angle), math.sin(there[1].angle)
        return LineAt(ref.name, (c * there[1].offset, s * there[1].offset), (s, -c), how == "into")
    if entry.kind == "arc":
        rise, bend = optional_size(entry.one("rise")), optional_size(entry.one("radius"))
        return ArcAt(
            ref.name,
            None if rise is None else rise.value,
            None if bend is None else bend.value,
            not entry.has("inwards"),
        )
    return corner_of(builder, ref, how == "inside", plane)


def rounds_of(builder: Builder, claim: Claim, plane: str) -> tuple[RoundAt, ...]:
    """The rounds (points as rounds of nothing) that a belt or chain runs about."""
    found = []
    for ref in claim.refs("things"):
        stop = corner_of(builder, ref, False, plane)
        found.append(
            stop if isinstance(stop, RoundAt) else RoundAt(stop.name, stop.owner, stop.at, 0.0, False)
        )
    return tuple(found)


def shape_of(builder: Builder, ref: Ref, plane: str) -> ShapeAt:
    """A round, rectangle or web that is merged or encloses an area."""
    entry = builder.entry(ref.name)
    if entry.kind == "web":
        joins, wide = entry.one("joins"), entry.one("wide")
        assert joins is not None and wide is not None
        first, second = (builder.spot_of(joins.ref(key), plane) for key in ("first", "second"))
        return WebAt(ref.name, first, second, wide.number("size"))
    at = builder.spot_of(ref, plane)
    if entry.kind == "rectangle":
        corners = corners_of(builder, entry.all("round outside"), plane)
        return RectangleAt(ref.name, at, half(entry, made=True), corners)
    return CircleAt(ref.name, at, builder.radius_of(ref.name))


def corners_of(builder: Builder, claims: tuple[Claim, ...], plane: str) -> tuple[Corners, ...]:
    """Rounded corners, in the order of their text."""
    return tuple(
        Corners(
            size_of(claim, "number"),
            claim.word == "round inside",
            tuple(
                (builder.spot_of(ref, plane), _corner_radius(builder, ref)) for ref in claim.refs("things")
            ),
            said_of(claim),
        )
        for claim in sorted(claims, key=lambda each: each.text)
    )


def _corner_radius(builder: Builder, ref: Ref) -> float:
    return builder.radius_of(ref.name) if builder.entry(ref.name).kind in ("round", "turning", "peg") else 0.0
