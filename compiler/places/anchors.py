"""Sides and flats seen edge-on from a plane, as things of its network that readings are taken to."""

from __future__ import annotations

import math

from ..facts import Ref
from ..facts.types import SIDES
from ..network.types import Centred, Coordinate, FixedLine, FixedThing, ReadEdge, Spoken
from ..quantities.vectors import XY, dot
from .lying import lying, side_offset
from .measured_to import EXACT, RIGHT_ANGLE, NetworkBuilder
from .planes import OUTWARD, SHEET


def anchor_of(rows: NetworkBuilder, ref: Ref) -> tuple[str, float] | None:
    """A side or flat seen edge-on: a thing in the middle of it and the angle of its outward normal on
    this plane.
    """
    name = str(ref)
    if ref.part in SIDES and (ref.name in rows.net.things or ref.name == rows.datum):
        return _lying_side(rows, ref, name) if lying(rows.pages, ref.name) else _own_side(rows, ref, name)
    if not rows.pages.is_flat(ref) and ref.part not in SIDES:
        return None
    flat = rows.pages.flat(ref) if rows.pages.is_flat(ref) else rows.pages.side(ref)
    frame = rows.layout.frames[rows.plane]
    if flat is None:
        rows.refuse("other-plane", *_placed_later(rows, ref))
        return None
    x, y = dot(flat.normal, frame.right), dot(flat.normal, frame.up)
    if math.hypot(x, y) < 0.999999:
        rows.refuse(
            "not-square",
            f"`{ref}` is not seen edge-on from this plane, so no distance to it can be read",
            "measure from a flat that stands square to it",
            f"or place it from the middle of the body: at 0, 0 from {ref.name}",
        )
        return None
    at, _ = frame.onto(flat.point)
    return _fixed_side(rows, name, at, math.atan2(y, x))


def _placed_later(rows: NetworkBuilder, ref: Ref) -> tuple[str, str]:
    """What is said where a flat gets its place from things of this plane, and what would do."""
    here = "the page" if rows.plane == SHEET else f"`{rows.plane}`"
    said = f"`{ref}` is placed only after what lies on {here}, so nothing there can be read from it"
    return said, f"measure from what `{ref.name}` stands on, or from a body that lies on {here}"


def _fixed_side(rows: NetworkBuilder, name: str, at: XY, angle: float) -> tuple[str, float]:
    """A side that lies fast: a point in the middle of it, and the line along it, whose normal points
    outwards.
    """
    middle = f"{name}~"
    rows.net.fixed[middle] = FixedThing(Centred(middle, spoken=Spoken.NEVER), at)
    offset = at[0] * math.cos(angle) + at[1] * math.sin(angle)
    rows.net.fixed_lines[name] = FixedLine(name, angle, offset, -1, Spoken.AS_EDGE)
    return middle, angle


def _own_side(rows: NetworkBuilder, ref: Ref, name: str) -> tuple[str, float]:
    angle = OUTWARD[ref.part]
    if ref.name in rows.net.fixed:
        x, y = rows.net.fixed[ref.name].at
        reach = _support(rows.net.fixed[ref.name].thing, angle)
        return _fixed_side(
            rows, name, (x + reach * round(math.cos(angle)), y + reach * round(math.sin(angle))), angle
        )
    if name not in rows.net.things:
        rows.net.things[name] = Centred(name, spoken=Spoken.AS_EDGE)
        rows.put(Coordinate(0, ref.name, name, angle, 0.0, EXACT, ReadEdge.NEAR, -1))
        rows.put(Coordinate(0, name, ref.name, angle + RIGHT_ANGLE, 0.0, EXACT))
    return name, angle


def _lying_side(rows: NetworkBuilder, ref: Ref, name: str) -> tuple[str, float] | None:
    """A side of a turning that lies along a line and is still to be placed."""
    offset, angle = side_offset(rows.pages, ref), OUTWARD[ref.part]
    if offset is None:
        said, _ = _placed_later(rows, ref)
        advice = "say of its line that it is level or upright, or measure to what it starts from"
        rows.refuse("other-plane", said, advice)
        return None
    if name not in rows.net.things:
        rows.net.things[name] = Centred(name, spoken=Spoken.AS_EDGE)
        rows.put(Coordinate(0, name, ref.name, angle, offset[0], EXACT))
        rows.put(Coordinate(0, name, ref.name, angle + RIGHT_ANGLE, offset[1], EXACT))
    return name, angle


def _support(thing: Centred, angle: float) -> float:
    """Half-size of a thing in a direction, in mm."""
    c, s = math.cos(angle - thing.turn), math.sin(angle - thing.turn)
    return thing.radius + abs(c) * thing.half_long + abs(s) * thing.half_wide
