"""The claims of lines turned into rows: through and tangent, level and parallel, at a distance, midway."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from ..facts import Claim, Entry, Ref
from ..facts.types import SIDES
from ..network.types import Coordinate, Edge, LineAngle, LineGap, Midway, Tangent, Thing, ToLine
from .measured_to import EXACT, RIGHT_ANGLE

if TYPE_CHECKING:
    from .rows import Rows

_EDGES = {"near": Edge.NEAR, "far": Edge.FAR, "centre": Edge.CENTRE}


def add_line_claim(rows: Rows, entry: Entry, claim: Claim) -> None:
    """Turn one claim of a line into rows."""
    name, word = entry.name, claim.word
    if name in rows.fixed_lines:
        return
    if word in ("through", "touches"):
        for key in ("first", "second"):
            other = rows.centre(claim.ref(key)) if claim.get(key) is not None else None
            if other and word == "through":
                rows.rows.append(ToLine(rows.key(), other, name, Edge.CENTRE, 0.0, EXACT))
            elif other:
                rows.rows.append(Tangent(rows.key(), name, other, EXACT))
    elif word == "on":
        _line_on(rows, name, claim)
    elif word in ("level", "upright"):
        rows.rows.append(LineAngle(rows.key(), name, None, 0.0 if word == "level" else RIGHT_ANGLE, EXACT))
    elif word in ("parallel to", "square to", "angle"):
        _line_angle(rows, name, claim)
    elif word == "from":
        _line_from(rows, name, claim)
    elif word == "flush with":
        anchor = rows.anchor(claim.ref("thing"))
        if anchor is not None:
            _parallel_through(rows, name, anchor, 0.0, EXACT)
    elif word == "midway":
        _line_midway(rows, name, claim)
    elif word in ("left of", "right of", "above", "below"):
        rows.side(entry, claim)


def _line_on(rows: Rows, name: str, claim: Claim) -> None:
    """`on FLAT` says which page the line is drawn on; `on POINT` that it passes there."""
    ref = claim.ref("thing")
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
        rows.rows.append(ToLine(rows.key(), other, name, Edge.CENTRE, 0.0, EXACT))


def _line_angle(rows: Rows, name: str, claim: Claim) -> None:
    turn = {"parallel to": 0.0, "square to": RIGHT_ANGLE}.get(claim.word, 0.0)
    if claim.word == "angle":
        turn = math.radians(claim.number("angle"))
    ref = claim.get("thing") or claim.get("other")
    if not isinstance(ref, Ref):
        rows.rows.append(LineAngle(rows.key(), name, None, turn, EXACT))
        return
    other = rows.line(ref)
    if other is not None:
        rows.rows.append(LineAngle(rows.key(), name, other, turn, EXACT))
    elif not rows.found_here() and (anchor := rows.anchor(ref)):
        rows.rows.append(LineAngle(rows.key(), name, None, anchor[1] - RIGHT_ANGLE + turn, EXACT))


def _line_from(rows: Rows, name: str, claim: Claim) -> None:
    ref, reading = claim.ref("thing"), claim.quantity("readings")
    value, u = reading.value, max(reading.u, EXACT)
    other = rows.line(ref)
    if other is not None:
        rows.rows.append(LineGap(rows.key(), name, other, value, u))
        return
    if rows.found_here():
        return
    if ref.part in SIDES or rows.pages.is_flat(ref):
        anchor = rows.anchor(ref)
        if anchor is not None:
            _parallel_through(rows, name, anchor, -value, u)
        return
    thing = rows.centre(ref)
    if thing is None:
        return
    theirs = rows.things[thing] if thing in rows.things else rows.fixed[thing].thing
    edge = claim.word_of("edges")
    if theirs.radius > 0 and not edge:
        rows.refuse("which-edge", f"`{claim.text}`: to which edge of {thing}?", "near, far or centre")
        return
    rows.rows.append(ToLine(rows.key(), thing, name, _EDGES[edge or "centre"], value, u))


def _parallel_through(rows: Rows, name: str, anchor: tuple[str, float], shift: float, u: float) -> None:
    """The line runs along a side, through a point that lies `shift` from its middle along the outward
    normal.
    """
    foot = f"{name}~{anchor[0]}"
    rows.things[foot] = Thing(foot)
    rows.rows.append(Coordinate(rows.key(), foot, anchor[0], anchor[1], shift, u))
    rows.rows.append(Coordinate(0, foot, anchor[0], anchor[1] + RIGHT_ANGLE, 0.0, EXACT))
    rows.rows.append(ToLine(0, foot, name, Edge.CENTRE, 0.0, EXACT))
    rows.rows.append(LineAngle(0, name, None, anchor[1] - RIGHT_ANGLE, EXACT))


def _line_midway(rows: Rows, name: str, claim: Claim) -> None:
    refs = (claim.ref("first"), claim.ref("second"))
    anchors = [rows.anchor(ref) if ref.part in SIDES or rows.pages.is_flat(ref) else None for ref in refs]
    if anchors[0] and anchors[1]:
        middle = rows.middle(anchors[0][0], anchors[1][0])
        _parallel_through(rows, name, (middle, anchors[0][1]), 0.0, EXACT)
        return
    names = [rows.line(ref) for ref in refs]
    if names[0] and names[1]:
        rows.rows.append(Midway(rows.key(), name, names[0], names[1], EXACT))
    elif not rows.found_here():
        rows.refuse(
            "wrong-kind",
            "a line lies midway between two lines or two sides",
            "midway cover.top, cover.bottom",
        )
