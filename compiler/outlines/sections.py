"""The section of a hole or peg as a closed path, anticlockwise, as it is made."""

from __future__ import annotations

import math

from ..diagnostics.types import at_fault
from ..model.sections import (
    BoxSection,
    FlattedSection,
    PolygonSection,
    RoundSection,
    Section,
    SlotSection,
    ToothedSection,
)
from ..quantities.vectors import XY
from .corners import round_corners
from .marks import Marks
from .shapes import circle, flatted, polygon, rectangle, slot_path, two_flatted, web
from .teeth import toothed
from .types import Path


def section_path(section: Section, at: XY, owner: str, marks: Marks) -> Path:
    """The outline of a hole or peg whose middle is `at`, its edges labelled as faces of `owner`.

    Raises Trouble: what `toothed` and `round_corners` raise."""
    label = marks.of(owner)
    match section:
        case RoundSection(radius):
            return circle(at, radius, label)
        case PolygonSection(across, sides, turn):
            return polygon(at, across, sides, turn, label)
        case FlattedSection(radius, distance, towards, both):
            cut = two_flatted if both else flatted
            return cut(at, radius, distance, towards, label, marks.of(owner, "flat"))
        case ToothedSection():
            return toothed(section, at, label)
        case SlotSection():
            return _slot(section, label)
        case BoxSection():
            return _box(section, at, owner, marks)


def _slot(one: SlotSection, label: int) -> Path:
    if not one.square:
        return slot_path(one.first, one.second, one.radius, label)
    (ax, ay), (bx, by) = one.first, one.second
    way = math.atan2(by - ay, bx - ax) if one.first != one.second else one.turn
    x, y = math.cos(way) * one.radius, math.sin(way) * one.radius
    return web((ax - x, ay - y), (bx + x, by + y), 2 * one.radius, label)


def _box(one: BoxSection, at: XY, owner: str, marks: Marks) -> Path:
    x, y = one.half
    c, s = math.cos(one.turn), math.sin(one.turn)
    label = marks.of(owner)
    path = web((at[0] - c * x, at[1] - s * x), (at[0] + c * x, at[1] + s * x), 2 * y, label)
    if one.turn == 0.0:
        path = rectangle((at[0] - x, at[1] - y), (at[0] + x, at[1] + y), (label,) * 4)
    for size in one.rounds:
        with at_fault(size.said.span):
            path = round_corners(path, size.value, "outside", one.closed, marks.of(owner, size.said.word))
    return path
