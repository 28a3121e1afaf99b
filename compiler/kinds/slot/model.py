"""A slot as it will be made."""

from __future__ import annotations

import math
from typing import ClassVar

from ...diagnostics.types import Trouble
from ...facts import Claim
from ...facts.extents import half
from ...model.builder import Builder, size_of
from ...model.holes import Hole, across_of, drilled, fit_of, hole_fields, mouth_of
from ...model.sections import SlotSection
from ...model.taking import Facts
from ...model.types import Centre, Size
from ...quantities.vectors import XY

SAME = 0.05  # mm: two readings of one length by callipers


class SlotHole(Hole, frozen=True, kw_only=True):
    """A slot: how long it is over its ends, or the two things its ends lie at."""

    long: Size | None
    ends: tuple[str, str] | None

    must_fit: ClassVar[bool] = True
    centre: ClassVar[Centre] = Centre.AXIS
    straight_sided: ClassVar[bool] = True


def make(builder: Builder, facts: Facts) -> SlotHole:
    """The slot.  Raises Trouble: 'slot-too-short', and as `hole_fields` and `mouth_of` do."""
    fields = hole_fields(builder, facts)
    size = across_of(facts)
    assert size is not None
    spot = fields["spot"]
    ends, square = facts.one("ends"), facts.flag("square ends")
    long = facts.one("long")
    # a slot between two things turns with them; else where it lies along was worked out with its place
    facts.all("along", "square to", "level", "upright", "turned")
    radius = 0.5 * size.value
    first: XY
    second: XY
    if ends is not None:
        first, second = (builder.spot_of(ends.ref(key), fields["plane"]) for key in ("first", "second"))
        if long is not None:
            _agree(facts.name, ends, size_of(long), math.dist(first, second) + size.value)
    else:
        reach = half(facts.entry, made=True)[0]
        if not square and reach < radius - 1e-9:
            raise Trouble(
                "slot-too-short",
                f"slot `{facts.name}` is {2 * reach:g} long over its ends but {2 * radius:g} wide",
                (facts.name,),
                span=None if long is None else long.span,
            )
        step = (math.cos(spot.turn) * (reach - radius), math.sin(spot.turn) * (reach - radius))
        first = (spot.at[0] - step[0], spot.at[1] - step[1])
        second = (spot.at[0] + step[0], spot.at[1] + step[1])
    return SlotHole(
        **fields,
        section=SlotSection(first, second, radius, square, spot.turn),
        size=size,
        sizes=(),
        mouth=mouth_of(builder, facts, fields["owners"], fields["on"], spot.turn),
        fit=fit_of(facts),
        drilled=drilled(facts.entry),
        long=size_of(long) if long is not None else None,
        ends=(str(ends.ref("first")), str(ends.ref("second"))) if ends is not None else None,
    )


def _agree(name: str, ends: Claim, long: Size, apart: float) -> None:
    """Raise Trouble('facts-disagree') where a slot is not as long over its ends as its ends are apart."""
    give = max(SAME, math.sqrt(3) * long.made.u)
    if abs(apart - long.value) > give:
        raise Trouble(
            "facts-disagree",
            f"slot `{name}` is {long.value:g} long over its ends, but `{ends.text}` makes it {apart:.4g}",
            (name,),
            advice=("one of the two was misread: check both, or leave one of them out",),
            span=long.said.span,
        )
