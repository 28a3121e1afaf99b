"""What is no body, hole, zone or mark: places, lines and planes, flat shapes, and what was measured beside
the part.
"""

from __future__ import annotations

from typing import ClassVar

from msgspec import Struct

from ..facts import Ref
from ..facts.extents import across, half, is_box
from ..facts.kind_questions import is_body
from ..facts.placing import LineAngled
from ..facts.types import SIDES
from ..places.layout import Frame
from ..quantities.vectors import XY
from .builder import Builder, optional_size, said_of, size_of, told_at
from .stops import corners_of
from .taking import Facts
from .types import Centre, Corners, Said, Size, Slope, Thing


class Let(Thing, frozen=True, kw_only=True):
    """A number of the recipe's own."""

    idle: ClassVar[str] = "write its name where the number belongs, or take the line out"


class Point(Thing, frozen=True, kw_only=True):
    """A bare place."""

    carries_places: ClassVar[bool] = True
    idle: ClassVar[str] = "use it in an outline or a place: from {name} ...   or take it out"


class TurnedFrom(Struct, frozen=True):
    """The angle (degrees, anticlockwise) by which a line was said to be turned from another one."""

    angle: float
    other: str
    said: Said


class DatumLine(Thing, frozen=True, kw_only=True):
    """A line on a plane: the angle of its normal (radians);
    `turned_from`: angles told to other lines (none to sides of bodies, which run one way)."""

    angle: float
    turned_from: tuple[TurnedFrom, ...] = ()

    carries_places: ClassVar[bool] = True
    idle: ClassVar[str] = "use it in an outline or a place: from {name} ...   or take it out"


class Plane(Thing, frozen=True, kw_only=True):
    """A plane of its own: how high it lies over the plane it is in, and which way it faces.

    `slope`: where it is told by two heights, which run from `base`, the way of `out`."""

    base: float
    out: int
    frame: Frame | None
    slope: Slope | None = None
    under: str = ""

    idle: ClassVar[str] = "put something on it: on {name}   or take it out"


class Round(Thing, frozen=True, kw_only=True):
    """A round that outlines run along."""

    size: Size

    makes: ClassVar[bool] = True

    carries_places: ClassVar[bool] = True
    idle: ClassVar[str] = "use it in an outline or a place: from {name} ...   or take it out"

    centre: ClassVar[Centre] = Centre.RIM

    @property
    def across_made(self) -> float | None:
        """The size across as made, mm."""
        return self.size.value

    @property
    def diameter(self) -> float | None:
        """The size across as made, mm."""
        return self.size.value


class Rectangle(Thing, frozen=True, kw_only=True):
    """A rectangle that is merged into an outline: half-sizes, the sizes they come from, rounded corners."""

    half: XY
    sizes: tuple[Size, ...]
    corners: tuple[Corners, ...]

    makes: ClassVar[bool] = True
    carries_places: ClassVar[bool] = True
    straight_sided: ClassVar[bool] = True
    idle: ClassVar[str] = "put it into a body: merge ..., {name}"


class Web(Thing, frozen=True, kw_only=True):
    """A bar that joins two things in an outline."""

    first: str
    second: str
    wide: Size

    makes: ClassVar[bool] = True
    idle: ClassVar[str] = "put it into a body: merge ..., {name}"


class OutlineArc(Thing, frozen=True, kw_only=True):
    """An arc of an outline, by its rise or its radius."""

    rise: Size | None
    radius: Size | None
    inwards: bool

    idle: ClassVar[str] = "use it in an outline or a place: from {name} ...   or take it out"


class Neighbour(Thing, frozen=True, kw_only=True):
    """Something beside the part that was measured: it is never made.  `sizes` by their word."""

    sizes: tuple[tuple[str, Size], ...]
    half: XY
    boxed: bool
    across: float | None

    carries_places: ClassVar[bool] = True
    idle: ClassVar[str] = "say what goes on or in it, such as: turns on {name}"

    @property
    def across_made(self) -> float | None:
        """The size across as made, mm."""
        return self.across


def make_point(builder: Builder, facts: Facts) -> Point:
    """A point."""
    return Point(**builder.thing(facts))


def make_line(builder: Builder, facts: Facts) -> DatumLine | None:
    """A line; None for one that is on no plane that was placed."""
    placed = builder.layout.lines.get(facts.name)
    if placed is None:
        return None
    plane, line = placed
    angles = builder.layout.facts.of[facts.name].all(LineAngled)
    turned = tuple(
        TurnedFrom(fact.angle, str(fact.other), said_of(fact.claim))
        for fact in angles
        if fact.other is not None and fact.other.part not in SIDES
    )
    fields = {**builder.thing(facts), "plane": plane}
    return DatumLine(**fields, angle=line.angle, turned_from=turned)


def make_plane(builder: Builder, facts: Facts) -> Plane:
    """A plane."""
    home, base, out = builder.planes.stand(facts.name)
    frame = builder.planes.frame(facts.name) if home == facts.name else builder.layout.frames.get(home)
    lean = facts.one("leans")
    slope, under, slope_base, slope_out = None, "", 0.0, 1
    if lean is not None and frame is not None:
        under, slope_base, slope_out = builder.planes.lean_of(facts.name) or (under, slope_base, slope_out)
        here, there = (str(lean.get(key)) for key in ("here", "there"))
        slope = Slope(
            "",
            frame,
            size_of(lean, "first"),
            here,
            size_of(lean, "second"),
            there,
            said_of(lean),
            at=(told_at(lean, "here", ""), told_at(lean, "there", "")),
            under=under,
            base=slope_base,
            out=slope_out,
        )
    return Plane(
        **{**builder.thing(facts), "plane": home},
        base=base,
        out=out,
        frame=frame,
        slope=slope,
        under=under,
    )


def make_round(builder: Builder, facts: Facts) -> Round:
    """A round: by its size, its chord and rise, or as another one is."""
    claim = facts.need("across", "chord", "same as")
    facts.all("rise") if claim.word == "chord" else ()
    measure = across(facts.entry)
    assert measure is not None
    return Round(**builder.thing(facts), size=Size(measure.read, measure.made, said_of(claim)))


def make_rectangle(builder: Builder, facts: Facts) -> Rectangle:
    """A rectangle."""
    sizes = tuple(size_of(claim) for word in ("long", "wide", "high") for claim in facts.all(word))
    fields = builder.thing(facts)
    corners = corners_of(builder, facts.all("round outside"), fields["plane"])
    return Rectangle(**fields, half=half(facts.entry, made=True), sizes=sizes, corners=corners)


def make_web(builder: Builder, facts: Facts) -> Web:
    """A web."""
    joins = facts.need("joins")
    return Web(
        **builder.thing(facts),
        first=str(joins.ref("first")),
        second=str(joins.ref("second")),
        wide=size_of(facts.need("wide")),
    )


def make_arc(builder: Builder, facts: Facts) -> OutlineArc:
    """An arc."""
    return OutlineArc(
        **builder.thing(facts),
        rise=optional_size(facts.one("rise")),
        radius=optional_size(facts.one("radius")),
        inwards=facts.flag("inwards"),
    )


_MEASURED = (
    *("across", "flat", "hex", "square", "long", "wide", "high", "thick", "deep"),
    *("core", "pitch", "crest", "foot", "starts", "left-handed"),
    *("teeth", "module", "span", "shift", "helix"),
)


def make_neighbour(builder: Builder, facts: Facts) -> Neighbour:
    """A neighbour: all that was measured of it is on record, whether something is made by it or not."""
    sizes = tuple(
        (claim.word, size) for claim in facts.all(*_MEASURED) if (size := optional_size(claim)) is not None
    )
    reach = half(facts.entry, made=True)
    boxed = len({word for word, _ in sizes} & {"long", "wide", "high", "thick"}) >= 2
    measure = None if is_box(facts.entry) else across(facts.entry)
    wide = None if measure is None else measure.made.value
    return Neighbour(**builder.thing(facts), sizes=sizes, half=reach, boxed=boxed, across=wide)


def names_a_body(builder: Builder, ref: Ref) -> bool:
    """Whether a mention speaks of a body or of a flat of one."""
    entry = builder.claims.entries.get(ref.name)
    return entry is not None and is_body(entry)


MAKERS = {
    "point": make_point,
    "line": make_line,
    "plane": make_plane,
    "round": make_round,
    "rectangle": make_rectangle,
    "web": make_web,
    "arc": make_arc,
    "neighbour": make_neighbour,
}
"""What makes the things that have no folder of their own."""

__all__ = [
    "MAKERS",
    "DatumLine",
    "Neighbour",
    "OutlineArc",
    "Plane",
    "Point",
    "Rectangle",
    "Round",
    "Web",
]
