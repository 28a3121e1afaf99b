"""The placing facts of lines turned into rows: through and tangent, level and parallel, at a distance."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from ..facts import Entry, Ref
from ..facts.placing import (
    Beside,
    FlushWith,
    From,
    LevelLine,
    LineAngled,
    MidwayBetween,
    On,
    ParallelTo,
    PlacingFact,
    SquareTo,
    Through,
    Touches,
    UprightLine,
)
from ..facts.types import SIDES
from ..network.types import (
    Centred,
    Coordinate,
    LineAngle,
    LineGap,
    Midway,
    ReadEdge,
    Spoken,
    Tangent,
    ToLine,
)
from .anchors import anchor_of
from .edge_rows import EDGES
from .measured_to import EXACT, RIGHT_ANGLE

if TYPE_CHECKING:
    from .rows import Rows


def add_line_fact(rows: Rows, entry: Entry, fact: PlacingFact) -> None:
    """Turn one fact of a line into rows."""
    name = entry.name
    if name in rows.net.fixed_lines:
        return
    match fact:
        case Through() | Touches():
            _line_through(rows, name, fact)
        case On():
            _line_on(rows, name, fact.thing)
        case LevelLine():
            rows.put(LineAngle(rows.key(), name, None, 0.0, EXACT))
        case UprightLine():
            rows.put(LineAngle(rows.key(), name, None, RIGHT_ANGLE, EXACT))
        case ParallelTo():
            _line_angle(rows, name, fact.thing, 0.0)
        case SquareTo():
            _line_angle(rows, name, fact.thing, RIGHT_ANGLE)
        case LineAngled():
            _line_angle(rows, name, fact.other, math.radians(fact.angle))
        case From():
            _line_from(rows, entry, fact)
        case FlushWith():
            anchor = anchor_of(rows, fact.thing)
            if anchor is not None:
                _parallel_through(rows, name, anchor, 0.0, EXACT)
        case MidwayBetween():
            _line_midway(rows, name, fact)
        case Beside():
            rows.side(entry, fact)
        case _:
            pass


def _line_through(rows: Rows, name: str, fact: Through | Touches) -> None:
    for ref in (fact.first, fact.second):
        other = rows.centre(ref) if ref is not None else None
        if other and isinstance(fact, Through):
            rows.put(ToLine(rows.key(), other, name, ReadEdge.CENTRE, 0.0, EXACT))
        elif other:
            rows.put(Tangent(rows.key(), name, other, EXACT))


def _line_on(rows: Rows, name: str, ref: Ref) -> None:
    """`on FLAT` says which plane the line is drawn on; `on POINT` that it passes there."""
    if rows.pages.is_flat(ref):
        return
    if rows.line(ref) is not None:
        rows.refuse(
            "wrong-kind",
            f"`{ref}` is a line: `{name}` can't be on it",
            f"parallel to {ref}   or   angle 30 to {ref}",
        )
        return
    other = None if rows.found_here() else rows.centre(ref)
    if other is not None:
        rows.put(ToLine(rows.key(), other, name, ReadEdge.CENTRE, 0.0, EXACT))


def _line_angle(rows: Rows, name: str, ref: Ref | None, turn: float) -> None:
    if ref is None:
        rows.put(LineAngle(rows.key(), name, None, turn, EXACT))
        return
    other = rows.line(ref)
    if other is not None:
        rows.put(LineAngle(rows.key(), name, other, turn, EXACT))
    elif not rows.found_here() and (anchor := anchor_of(rows, ref)):
        rows.put(LineAngle(rows.key(), name, None, anchor[1] - RIGHT_ANGLE + turn, EXACT))


def _line_from(rows: Rows, entry: Entry, fact: From) -> None:
    ref, name = fact.thing, entry.name
    value, u = fact.reading.value, max(fact.reading.u, EXACT)
    other = rows.line(ref)
    if other is not None:
        rows.put(LineGap(rows.key(), name, other, value, u))
        return
    if rows.found_here():
        return
    if ref.part in SIDES or rows.pages.is_flat(ref):
        anchor = anchor_of(rows, ref)
        if anchor is not None:
            outside = rows.stands_outside(entry, ref, anchor[1])
            _parallel_through(rows, name, anchor, value if outside else -value, u)
        return
    thing = rows.centre(ref)
    if thing is None:
        return
    if rows.net.thing(thing).radius > 0 and not fact.edges:
        rows.refuse("which-edge", f"`{fact.claim.text}`: to which edge of {thing}?", "near, far or centre")
        return
    rows.put(ToLine(rows.key(), thing, name, EDGES[fact.edges or "centre"], value, u))


def _parallel_through(rows: Rows, name: str, anchor: tuple[str, float], shift: float, u: float) -> None:
    """The line runs along a side, through a point that lies `shift` from its middle along the outward
    normal.
    """
    foot = f"{name}~{anchor[0]}"
    rows.net.things[foot] = Centred(foot, spoken=Spoken.NEVER)
    rows.put(
        Coordinate(rows.key(), foot, anchor[0], anchor[1], shift, u),
        Coordinate(0, foot, anchor[0], anchor[1] + RIGHT_ANGLE, 0.0, EXACT),
        ToLine(0, foot, name, ReadEdge.CENTRE, 0.0, EXACT),
        LineAngle(0, name, None, anchor[1] - RIGHT_ANGLE, EXACT),
    )


def _line_midway(rows: Rows, name: str, fact: MidwayBetween) -> None:
    refs = (fact.first, fact.second)
    anchors = [anchor_of(rows, ref) if ref.part in SIDES or rows.pages.is_flat(ref) else None for ref in refs]
    if anchors[0] and anchors[1]:
        middle = rows.middle(anchors[0][0], anchors[1][0])
        _parallel_through(rows, name, (middle, anchors[0][1]), 0.0, EXACT)
        return
    names = [rows.line(ref) for ref in refs]
    if names[0] and names[1]:
        rows.put(Midway(rows.key(), name, names[0], names[1], EXACT))
    elif not rows.found_here():
        rows.refuse(
            "wrong-kind",
            "a line lies midway between two lines or two sides",
            "midway cover.top, cover.bottom",
        )
