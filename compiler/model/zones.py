"""Zones: a flat area of a body that is thickened or relieved."""

from __future__ import annotations

import math
from typing import Any

from msgspec import Struct

from ..diagnostics.types import Trouble
from ..facts import Claim
from ..quantities.vectors import XY
from .builder import Builder, optional_size, said_of, size_of
from .card import mention
from .sections import ShapeAt
from .stops import shape_of
from .taking import Facts
from .types import Mention, Said, Size, Thing


class Band(Struct, frozen=True):
    """A band of some width along a row of places."""

    places: tuple[XY, ...]
    wide: float


class LineBand(Struct, frozen=True):
    """A band of some width along a whole line, by a point and a unit direction."""

    foot: XY
    way: XY
    wide: float


class CollarAt(Struct, frozen=True):
    """A round area about a place, by its diameter."""

    at: XY
    across: float


class Inside(Struct, frozen=True):
    """The inside of a shape."""

    shape: ShapeAt


Area = Band | LineBand | CollarAt | Inside


class Zone(Thing, frozen=True, kw_only=True):
    """A zone on a body's flat (`part`; '' : on both): the area, by how much each flat moves or to which
    thickness, the ramp.  `about`: the things its area is told by.  `on_said`, `area_said`, `how`: the lines
    of these."""

    body: str
    part: str
    on: str
    area: Area
    about: tuple[Mention, ...]
    wide: Size | None
    by: Size | None
    overall: Size | None
    ramp: Size | None
    on_said: Said
    area_said: Said
    how: Said

    @property
    def adds(self) -> bool:
        """Whether its solids are joined to the body, else they are cut from it."""
        return False

    @property
    def flats(self) -> tuple[str, ...]:
        """The flats of its body that it works on."""
        return (self.part,) if self.part else ("front", "back")


def zone_fields(builder: Builder, facts: Facts) -> dict[str, Any]:
    """The fields of a `Zone`.  Raises Trouble: 'not-placed', 'other-plane'."""
    lies = facts.need("on")
    on = lies.ref("thing")
    claim = facts.need("along", "collar", "inside")
    plane = builder.planes.stand(on.name)[0]
    by, to = facts.one("by"), facts.one("to")
    how = by if by is not None else to
    assert how is not None
    refs = claim.refs("things") if claim.word == "along" else (claim.ref("thing"),)
    return {
        **builder.thing(facts),
        "plane": plane,
        "body": on.name,
        "part": on.part,
        "on": str(on),
        "area": _area(builder, claim, plane),
        "about": tuple(mention(ref) for ref in refs),
        "wide": optional_size(claim, "number"),
        "by": optional_size(by, "number"),
        "overall": None if by is not None else size_of(how, "number"),
        "ramp": optional_size(facts.one("ramp"), "number"),
        "on_said": said_of(lies),
        "area_said": said_of(claim),
        "how": said_of(how),
    }


def _area(builder: Builder, claim: Claim, plane: str) -> Area:
    if claim.word == "collar":
        return CollarAt(builder.spot_of(claim.ref("thing"), plane), claim.number("number"))
    if claim.word == "inside":
        return Inside(shape_of(builder, claim.ref("thing"), plane))
    refs, wide = claim.refs("things"), claim.number("number")
    if len(refs) == 1 and builder.entry(refs[0].name).kind == "line":
        there, line = builder.layout.lines[refs[0].name]
        if there != plane:
            raise Trouble("other-plane", f"line `{refs[0]}` lies on {there}, the zone on {plane}")
        c, s = math.cos(line.angle), math.sin(line.angle)
        return LineBand((c * line.offset, s * line.offset), (-s, c), wide)
    return Band(tuple(builder.spot_of(ref, plane) for ref in refs), wide)
