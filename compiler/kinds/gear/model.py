"""A gear as it will be made: the gear that its readings came to, and what it meshes."""

from __future__ import annotations

import math
from typing import ClassVar

from ...diagnostics.types import Trouble
from ...facts.gear_readings import rack_of_gear
from ...facts.gears import FoundGear, gear_of, mate_of
from ...model.builder import Builder, optional_size, said_of, size_of
from ...model.taking import Facts
from ...model.types import Body, Centre, Said, Size
from ...quantities.gears import Gear as Wheel


class GearBody(Body, frozen=True, kw_only=True):
    """A gear: what was concluded from its readings (`found`) and from which line, its thickness, the rim of a
    ring gear, its mate's name.

    `pair`: the wheel it meshes and how far apart (mm) their centres stand; None for a rack and where it has
    no mate.  `over_tips`, `span_over` (teeth), `backlash`: it is told by its size over the tips, by a span,
    with a backlash."""

    found: FoundGear
    concluded_from: Said | None
    thick: Size
    rim: Size | None
    mate: str
    meshes: Said | None
    pair: tuple[Wheel, float] | None
    over_tips: bool
    span_over: int | None
    backlash: bool

    centre: ClassVar[Centre] = Centre.AXIS

    @property
    def wheel(self) -> Wheel:
        """The gear as it is cut."""
        return self.found.gear


_READ = ("across", "module", "teeth", "span", "shift", "helix", "backlash", "inside")


def make(builder: Builder, facts: Facts) -> GearBody:
    """The gear.  Raises Trouble: 'not-placed', 'fact-missing' for a ring without its rim, and as `gear_of`
    does.
    """
    fields = builder.body(facts)
    if fields["spot"] is None:
        raise Trouble("not-placed", f"`{facts.name}` is not placed", (facts.name,))
    found, span = gear_of(facts.entry, builder.claims), facts.one("span")
    facts.all(*_READ)
    rim, meshes = optional_size(facts.one("rim")), facts.one("meshes")
    if found.gear.inside and rim is None:
        raise Trouble(
            "fact-missing",
            f"ring gear `{facts.name}` does not say how wide its `rim` is outside",
            (facts.name,),
            advice=(f"add a line such as: rim {math.ceil(found.gear.root + 4.0 * found.gear.module):d}",),
        )
    span = facts.one("span")
    return GearBody(
        **fields,
        found=found,
        thick=size_of(facts.need("thick")),
        rim=rim,
        concluded_from=None if found.claim is None else said_of(found.claim),
        mate=str(meshes.ref("thing")) if meshes is not None else "",
        meshes=None if meshes is None else said_of(meshes),
        pair=_pair(builder, facts, found.gear),
        over_tips=facts.peek("across"),
        span_over=None if span is None else int(span.number("over")),
        backlash=facts.peek("backlash"),
    )


def _pair(builder: Builder, facts: Facts, wheel: Wheel) -> tuple[Wheel, float] | None:
    """The wheel that a gear meshes, and how far apart their centres stand."""
    if rack_of_gear(facts.entry, builder.claims) is not None:
        return None
    pair = mate_of(facts.entry, builder.claims, wheel)
    return None if pair is None else (pair[1], pair[2])
