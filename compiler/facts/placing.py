"""The facts that place things, lines, planes and copies, as typed objects.

`placing_reader.placing_facts` makes them from the claims, once; later rooms dispatch by type and never look a
fact up by its word.  Each fact keeps its claim (text and span) for messages.  Lengths in mm, angles in
degrees, as the claims hold them."""

from __future__ import annotations

from msgspec import Struct

from ..quantities import Quantity
from .types import Claim, Ref


class PlacingFact(Struct, frozen=True, eq=False):
    """A fact by which something is placed, and the claim it was read from."""

    claim: Claim

    @property
    def refs(self) -> tuple[Ref, ...]:
        """The named things that the fact speaks of, one a slot."""
        return tuple(value for _, value in self.claim.values if isinstance(value, Ref) and value.name)


class PlaceFact(PlacingFact, frozen=True, eq=False):
    """A fact that says where a thing or line lies on its plane."""


class On(PlaceFact, frozen=True, eq=False):
    """`on FLAT` chooses the plane; `on LINE` holds a thing to it, `on POINT` a line."""

    thing: Ref


class From(PlaceFact, frozen=True, eq=False):
    """`from OTHER [edges] READINGS`; `edges` is empty, one edge word, or two joined by a hyphen."""

    thing: Ref
    edges: str
    reading: Quantity


class Over(PlaceFact, frozen=True, eq=False):
    """`over OTHER READINGS`: from far edge to far edge of two things."""

    thing: Ref
    reading: Quantity


class At(PlaceFact, frozen=True, eq=False):
    """`at X, Y [from OTHER]`; `other` is None where it is counted from the plane's origin."""

    other: Ref | None
    x: Quantity
    y: Quantity


class Around(PlaceFact, frozen=True, eq=False):
    """`around OTHER`: one centre with it."""

    thing: Ref


class MidwayBetween(PlaceFact, frozen=True, eq=False):
    """`midway A, B` of a thing or line."""

    first: Ref
    second: Ref


class FlushWith(PlaceFact, frozen=True, eq=False):
    """`flush with FLAT`: the side that faces the same way lies in it."""

    thing: Ref


class Against(PlaceFact, frozen=True, eq=False):
    """`against FLAT`: touches it from outside."""

    thing: Ref


class LevelWith(PlaceFact, frozen=True, eq=False):
    """`level with OTHER`: at its height on the plane."""

    thing: Ref


class PlumbWith(PlaceFact, frozen=True, eq=False):
    """`plumb with OTHER`: above or below it."""

    thing: Ref


class Beside(PlaceFact, frozen=True, eq=False):
    """`left of`, `right of`, `above` or `below` OTHER; `way` is the first word."""

    thing: Ref
    way: str


class Further(PlaceFact, frozen=True, eq=False):
    """A side word that takes two things: `base` is where it is seen from."""

    other: Ref
    base: Ref


class Beyond(Further, frozen=True, eq=False):
    """`beyond OTHER from BASE`."""


class ShortOf(Further, frozen=True, eq=False):
    """`short of OTHER from BASE`."""


class SameSide(Further, frozen=True, eq=False):
    """`same side of LINE as BASE`."""


class AngleFrom(PlaceFact, frozen=True, eq=False):
    """`angle A from OTHER`: the direction from it to the thing."""

    other: Ref
    angle: Quantity


class AngleAt(PlaceFact, frozen=True, eq=False):
    """`angle A at VERTEX from OTHER`: the angle at a third thing."""

    vertex: Ref
    other: Ref
    angle: Quantity


class RoughPlace(PlaceFact, frozen=True, eq=False):
    """`roughly X, Y`: picks among places that fit."""

    x: float
    y: float


class BetweenEnds(PlaceFact, frozen=True, eq=False):
    """`ends A, B` of a slot."""

    first: Ref
    second: Ref


class LiesAlong(PlaceFact, frozen=True, eq=False):
    """`lies along LINE from START` of a turning."""

    line: Ref
    start: Ref


class Within(PlaceFact, frozen=True, eq=False):
    """A thing of a used part: X, Y from the middle of the part's box."""

    part: Ref
    x: float
    y: float


class Raised(PlacingFact, frozen=True, eq=False):
    """`raised NUMBER` over what a thing stands on."""

    height: float


class Reaches(PlacingFact, frozen=True, eq=False):
    """`reaches SIZE from FLAT` of a block: where its free end lies."""

    thing: Ref
    size: float


class Spans(PlacingFact, frozen=True, eq=False):
    """`between FLAT, FLAT` of a rib or fillet: it lies on the plane of the first body."""

    first: Ref
    second: Ref


class Taper(PlacingFact, frozen=True, eq=False):
    """Thicknesses (mm) of a body at two places; a bare side is one of the body's own."""

    first: float
    here: Ref
    second: float
    there: Ref


class TurnFact(PlacingFact, frozen=True, eq=False):
    """A fact that says which way a slot, notch or mark, or a row of copies, runs on its plane."""


class RunsAlong(TurnFact, frozen=True, eq=False):
    """`along LINE`."""

    thing: Ref


class RunsSquareTo(TurnFact, frozen=True, eq=False):
    """`square to LINE`."""

    thing: Ref


class RunsLevel(TurnFact, frozen=True, eq=False):
    """`level`: to the right."""


class RunsUpright(TurnFact, frozen=True, eq=False):
    """`upright`: up."""


class TurnedBy(TurnFact, frozen=True, eq=False):
    """`turned A` of a thing, `angle A` of a row: anticlockwise from the plane's right."""

    angle: float


class LineFact(PlacingFact, frozen=True, eq=False):
    """A fact that only a line has; none of them alone is a place."""


class Through(LineFact, frozen=True, eq=False):
    """`through A, B`, or `through A`."""

    first: Ref
    second: Ref | None


class Touches(LineFact, frozen=True, eq=False):
    """`touches A, B`: tangent to two rounds."""

    first: Ref
    second: Ref


class ParallelTo(LineFact, frozen=True, eq=False):
    """`parallel to OTHER`."""

    thing: Ref


class SquareTo(LineFact, frozen=True, eq=False):
    """`square to OTHER`."""

    thing: Ref


class LevelLine(LineFact, frozen=True, eq=False):
    """`level`."""


class UprightLine(LineFact, frozen=True, eq=False):
    """`upright`."""


class LineAngled(PlaceFact, frozen=True, eq=False):
    """`angle A [to OTHER]` of a line, anticlockwise."""

    angle: float
    other: Ref | None


class PlaneFact(PlacingFact, frozen=True, eq=False):
    """A fact that says how a plane lies."""


class StandsOn(PlaneFact, frozen=True, eq=False):
    """`stands on LINE [at A]`."""

    thing: Ref
    angle: float


class Faces(PlaneFact, frozen=True, eq=False):
    """`faces left|right|above|below`, as seen on the sheet."""

    where: str


class Offset(PlaneFact, frozen=True, eq=False):
    """`raised` (height > 0 out of the flat) or `dropped` (height < 0) from a flat."""

    thing: Ref
    height: float


class Leans(PlaneFact, frozen=True, eq=False):
    """`leans H at HERE, H at THERE from FLAT`: heights (mm) read from a flat at two places."""

    first: float
    here: Ref
    second: float
    there: Ref
    thing: Ref


class SquareAt(PlaneFact, frozen=True, eq=False):
    """`square to LINE at POINT`."""

    line: Ref
    point: Ref


class PatternFact(PlacingFact, frozen=True, eq=False):
    """A fact of a row, ring, grid or mirror."""


class Of(PatternFact, frozen=True, eq=False):
    """`of THINGS`: what is copied."""

    things: tuple[Ref, ...]


class Count(PatternFact, frozen=True, eq=False):
    """`count N` of a row or ring, `count N, M` of a grid (`up` is 1 elsewhere)."""

    number: int
    up: int


class Pitch(PatternFact, frozen=True, eq=False):
    """`pitch P` of a row, `pitch X, Y` of a grid (`up` is 0 elsewhere)."""

    pitch: float
    up: float


class OverRow(PatternFact, frozen=True, eq=False):
    """`over READINGS` of a row: the outside size over all of its copies."""

    reading: Quantity


class OverAngle(PatternFact, frozen=True, eq=False):
    """`over A` of a ring: the angle from the first copy to the last."""

    angle: float


class About(PatternFact, frozen=True, eq=False):
    """`about OTHER`: the middle of a ring, the line or flat of a mirror."""

    thing: Ref


class RingReading(PatternFact, frozen=True, eq=False):
    """A reading of a ring as a whole, which places the thing it copies."""

    reading: Quantity


class FromNext(RingReading, frozen=True, eq=False):
    """`from next [edges] READINGS`: between neighbours."""

    edges: str


class PitchDiameter(RingReading, frozen=True, eq=False):
    """`pitch circle READINGS`: its diameter."""


class LaidAt(Struct, frozen=True, eq=False):
    """`THING at the SIDE` of the sheet."""

    thing: Ref
    where: str


class LaidBeside(Struct, frozen=True, eq=False):
    """`THING left of OTHER`, and the like; `way` is the first word."""

    thing: Ref
    other: Ref
    way: str


class LaidLine(Struct, frozen=True, eq=False):
    """`THING level` or `THING upright`."""

    thing: Ref
    upright: bool


class Laid(PlacingFact, frozen=True, eq=False):
    """`laid ...`: how the part lay when it was read (of a phrase `THING up` the places know nothing)."""

    phrases: tuple[LaidAt | LaidBeside | LaidLine, ...]
