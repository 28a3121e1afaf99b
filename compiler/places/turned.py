"""Which way things lie round on their planes, as far as it can be said before their places are."""

from __future__ import annotations

import math

from ..facts import Entry, Ref
from ..facts.kind_questions import is_line
from ..facts.placing import BetweenEnds, RunsAlong, RunsSquareTo, RunsUpright, TurnedBy, TurnFact
from ..facts.types import SIDES
from .planes import OUTWARD, Planes


def turn_of(pages: Planes, entry: Entry, plane: str) -> float | None:
    """The way (radians) a slot, notch or mark lies on a plane, None while it can't be said."""
    facts = [one for one in pages.facts.of[entry.name].facts if isinstance(one, TurnFact | BetweenEnds)]
    turn: float | None = 0.0
    match facts[0] if facts else None:
        case TurnedBy() as fact:
            turn = math.radians(fact.angle)
        case RunsUpright():
            turn = 0.5 * math.pi
        case RunsAlong() as fact:
            turn = _angle_of(pages, fact.thing, plane)
        case RunsSquareTo() as fact:
            along = _angle_of(pages, fact.thing, plane)
            turn = None if along is None else along + 0.5 * math.pi
        case _:
            pass
    if facts and turn is not None and isinstance(facts[0], TurnFact):
        pages.layout.use(entry, facts[0])
    return turn


def _angle_of(pages: Planes, ref: Ref, plane: str) -> float | None:
    """Direction on a plane of a line or of a side seen edge-on, None while it is not known."""
    entry = pages.claims.entries.get(ref.name)
    if entry is not None and is_line(entry):
        placed = pages.layout.lines.get(ref.name)
        return None if placed is None or placed[0] != plane else placed[1].angle - 0.5 * math.pi
    if ref.part in SIDES and pages.stand(ref.name)[0] == plane:
        return OUTWARD[ref.part] - 0.5 * math.pi
    flat, frame = (pages.flat(ref) if pages.is_flat(ref) else None), pages.layout.frames[plane]
    if flat is None:
        return None
    at, _ = frame.onto(
        (
            frame.origin[0] + flat.normal[0],
            frame.origin[1] + flat.normal[1],
            frame.origin[2] + flat.normal[2],
        )
    )
    return math.atan2(at[1], at[0]) - 0.5 * math.pi
