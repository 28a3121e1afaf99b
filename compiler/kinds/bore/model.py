"""A bore as it will be made: a round, flatted, toothed or six-sided hole, perhaps threaded, perhaps with a
mouth.
"""

from __future__ import annotations

import math
from typing import ClassVar

from ...model.builder import Builder
from ...model.holes import (
    Hole,
    across_of,
    drilled,
    fit_of,
    flat_sizes,
    hole_fields,
    mouth_of,
    section_of,
    thread_line,
    thread_name,
    thread_of,
)
from ...model.sections import PolygonSection, RoundSection, ToothedSection
from ...model.taking import Facts
from ...model.types import Centre


class Bore(Hole, frozen=True, kw_only=True):
    """A bore; `nut`: the screw whose nut its hexagon takes ('' : none)."""

    nut: str = ""

    must_fit: ClassVar[bool] = True
    centre: ClassVar[Centre] = Centre.RIM


def make(builder: Builder, facts: Facts) -> Bore:
    """The bore.  Raises Trouble as `hole_fields`, `section_of`, `mouth_of` and `form_of` do."""
    fields = hole_fields(builder, facts)
    size = across_of(facts)
    assert size is not None
    spot = fields["spot"]
    section = section_of(facts, size, spot.turn)
    thread = thread_of(builder, facts, True)
    turned = section.turn if isinstance(section, PolygonSection | ToothedSection) else _turn(facts, spot.turn)
    mouth = mouth_of(builder, facts, fields["owners"], fields["on"], turned)
    straight = (
        isinstance(section, RoundSection)
        and thread is None
        and mouth is None
        and fields["depth"] is None
        and not facts.peek("through", "on", "turned")
    )
    return Bore(
        **fields,
        section=section,
        size=size,
        sizes=flat_sizes(facts),
        mouth=mouth,
        fit=fit_of(facts),
        thread=thread,
        thread_said=thread_line(facts),
        drilled=drilled(facts.entry),
        straight=straight,
        thread_name=thread_name(facts.entry),
        nut=_nut(facts),
    )


def _nut(facts: Facts) -> str:
    claim = facts.entry.one("hex")
    return claim.word_of("screw") if claim is not None else ""


def _turn(facts: Facts, turn: float) -> float:
    claim = facts.entry.one("turned")
    return turn + (math.radians(claim.number("angle")) if claim is not None else 0.0)
