"""A gear as it will be made: the gear that its readings came to, and what it meshes."""

from __future__ import annotations

import math
from typing import ClassVar

from ...diagnostics.types import Trouble
from ...facts.gears import Found, gear_of
from ...model.builder import Builder, optional_size, said_of, size_of
from ...model.taking import Facts
from ...model.types import Body, Centre, Said, Size
from ...quantities.gears import Gear as Wheel


class Gear(Body, frozen=True, kw_only=True):
    """A gear: what was concluded from its readings (`found`), its thickness, the rim of a ring gear, its
    mate's name.  Of what was read of it: whether the size over its tips, over how many teeth it was spanned
    (0: not at all), whether the play."""

    found: Found
    thick: Size
    rim: Size | None
    mate: str
    meshes: Said | None
    tips_read: bool = False
    spanned: int = 0
    play_told: bool = False

    centre: ClassVar[Centre] = Centre.AXIS

    @property
    def wheel(self) -> Wheel:
        """The gear as it is cut."""
        return self.found.gear


_READ = ("across", "module", "teeth", "span", "shift", "helix", "backlash", "inside")


def make(builder: Builder, facts: Facts) -> Gear:
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
    return Gear(
        **fields,
        found=found,
        thick=size_of(facts.need("thick")),
        rim=rim,
        mate=str(meshes.ref("thing")) if meshes is not None else "",
        meshes=None if meshes is None else said_of(meshes),
        tips_read=facts.peek("across"),
        spanned=int(span.number("over")) if span is not None else 0,
        play_told=facts.peek("backlash"),
    )
