"""One plane's readings as rows of a network, and what comes of solving it.  Lengths in mm, angles in radians.

The network knows no recipe and no line numbers: things have names, rows carry a `key` that the caller maps
back to a fact.  A *thing* is a centre with a half-size in every direction (its support); a *line* is all (x,
y) with cos(a) x + sin(a) y = c, its normal pointing to the side called positive."""

from __future__ import annotations

from enum import Enum

from msgspec import Struct, field

from ..quantities.vectors import XY


class Spoken(Enum):
    """How something of a network can be spoken of by whoever wrote the readings: by every word, only as what
    a reading is taken to (the side of a body), or not at all (made up to hold rows together).
    """

    ANYHOW = 0
    AS_EDGE = 1
    NEVER = 2


class Centred(Struct, frozen=True):
    """Something with a centre to be found.

    Half-size along a unit direction n: `radius` + |n . u| `half_long` + |n . v| `half_wide`, where u is the
    direction at `turn` radians from the plane's x and v is square to it.  A point has all three zero, a round
    only a radius, a slot a radius and half_long (half the distance between its end centres), a rectangle
    half_long and half_wide.

    `size`: name of the diameter that is twice `radius`, shared by all things that name it; `adjust` finds it
    together with the places, starting from `radius`.  None: the radius is known."""

    name: str
    radius: float = 0.0
    half_long: float = 0.0
    half_wide: float = 0.0
    turn: float = 0.0
    size: str | None = None
    spoken: Spoken = Spoken.ANYHOW


class LineThing(Struct, frozen=True):
    """A straight line to be found."""

    name: str
    spoken: Spoken = Spoken.ANYHOW


class FixedLine(Struct, frozen=True):
    """A line known beforehand: normal angle and offset.  `open_side`: +1 or -1 if things lie on that side, 0
    unknown.
    """

    name: str
    angle: float
    offset: float
    open_side: int = 0
    spoken: Spoken = Spoken.ANYHOW


class FixedThing(Struct, frozen=True):
    """A thing whose centre is known beforehand."""

    thing: Centred
    at: XY


class ReadEdge(Enum):
    """Which edge of a thing a reading was taken to, seen from the other party."""

    NEAR = -1
    CENTRE = 0
    FAR = 1


class Distance(Struct, frozen=True):
    """Between two things: |a - b| + edge_a * half-size of a + edge_b * half-size of b = value, u its standard
    uncertainty.

    `behind` (times, plus): what was read is not this distance itself but r in value = times * (r + plus)."""

    key: int
    a: str
    b: str
    edge_a: ReadEdge
    edge_b: ReadEdge
    value: float
    u: float
    behind: tuple[float, float] | None = None

    def read(self, value: float) -> float:
        """What would be read where this distance is `value`."""
        return value if self.behind is None else value / self.behind[0] - self.behind[1]

    def meant(self, reading: float) -> float:
        """The distance that a reading comes to."""
        return reading if self.behind is None else self.behind[0] * (reading + self.behind[1])

    @property
    def times(self) -> float:
        """How much this distance grows with the reading."""
        return 1.0 if self.behind is None else self.behind[0]


class ToLine(Struct, frozen=True):
    """From a line to a thing: side * (n . centre - c) + edge * half-size = value.

    `side` is +1, -1, or 0 where the readings alone must tell which side of the line the thing lies on.
    """

    key: int
    thing: str
    line: str
    edge: ReadEdge
    value: float
    u: float
    side: int = 0


class Coordinate(Struct, frozen=True):
    """direction . (a - b) = value, for a fixed direction (angle in radians); b None means the plane's origin.

    With a `side` of +1 or -1 it is a reading from something straight that stands square to the direction at b
    (the side of a body that is itself to be placed): side * direction . (a - b) + edge * half-size of a =
    value, as in ToLine."""

    key: int
    a: str
    b: str | None
    angle: float
    value: float
    u: float
    edge: ReadEdge = ReadEdge.CENTRE
    side: int = 0


class Midway(Struct, frozen=True):
    """A thing's centre, or a line, lies in the middle between two others (each a thing or a line)."""

    key: int
    a: str
    first: str
    second: str
    u: float


class LineAngle(Struct, frozen=True):
    """The direction of a line: `value` radians anticlockwise from the plane's x, or from another line's
    direction.
    """

    key: int
    line: str
    other: str | None
    value: float
    u: float


class Heading(Struct, frozen=True):
    """The direction from thing a to thing b: `value` radians anticlockwise from the plane's x or from a
    line's direction.
    """

    key: int
    a: str
    b: str
    other: str | None
    value: float
    u: float


class LineGap(Struct, frozen=True):
    """Two parallel lines `value` apart (their angle is a row of its own); side as in ToLine: where `line`
    lies of `other`.
    """

    key: int
    line: str
    other: str
    value: float
    u: float
    side: int = 0


class Tangent(Struct, frozen=True):
    """A line touches a thing: |n . centre - c| = half-size; side +1: the thing lies on the line's positive
    side; 0 unknown.
    """

    key: int
    line: str
    thing: str
    u: float
    side: int = 0


ReadingRow = Distance | ToLine | Coordinate | Midway | LineAngle | Heading | LineGap | Tangent


class SizeReading(Struct, frozen=True):
    """A shared diameter was read: `size` = value, u its standard uncertainty.

    A drill that goes and the next that does not: the drill that goes, as most parts are designed to a size
    that goes, and u = step / sqrt 3 about it (the root mean square distance of a rectangular spread up to the
    next drill, JCGM 100:2008, 4.3.7).  `below`: u towards smaller sizes where that differs: a hole is hardly
    narrower than what goes in."""

    key: int
    size: str
    value: float
    u: float
    below: float | None = None


class Way(Enum):
    """Which way one thing lies of another: along an axis of the plane, or as a third thing (`base`) sees it -
    further off, nearer, or on its side of a line.
    """

    ABOVE = 0
    BELOW = 1
    BEYOND = 2
    LEFT = 3
    RIGHT = 4
    SAME = 5
    SHORT = 6

    @property
    def axis(self) -> XY | None:
        """The unit vector of a way along an axis, None for the others."""
        return _AXES.get(self)


_AXES = {Way.RIGHT: (1.0, 0.0), Way.LEFT: (-1.0, 0.0), Way.ABOVE: (0.0, 1.0), Way.BELOW: (0.0, -1.0)}


class SideWord(Struct, frozen=True):
    """A side word: of the answers that fit, only those where thing `a` lies some `way` of `b` (thing or
    line); `base` is what sees it so, where the way is along no axis.
    """

    key: int
    a: str
    way: Way
    b: str
    base: str | None = None


class Roughly(Struct, frozen=True):
    """Of the answers that fit, take the one where thing a is nearest to this place."""

    key: int
    a: str
    at: XY


class Network(Struct, frozen=True):
    """All that is known of one plane.  The order of the tuples never changes the answer.

    `free_frame`: nothing ties this plane to the sheet, so origin and direction may be chosen (see `solve`).
    `sizes`: readings of shared diameters; places are sought with the things' own radii, `adjust` then frees
    both."""

    things: tuple[Centred, ...]
    lines: tuple[LineThing, ...] = ()
    fixed_things: tuple[FixedThing, ...] = ()
    fixed_lines: tuple[FixedLine, ...] = ()
    rows: tuple[ReadingRow, ...] = ()
    sides: tuple[SideWord, ...] = ()
    roughly: tuple[Roughly, ...] = ()
    free_frame: bool = True
    sizes: tuple[SizeReading, ...] = ()


class PlacedLine(Struct, frozen=True):
    """A line found: normal angle (radians) and offset (mm)."""

    angle: float
    offset: float


class Moves(Enum):
    """How something can still move: the first three towards another, the rest by itself."""

    ALONG = "slides along another"
    ABOUT = "swings about another"
    WITH = "moves with another"
    FREE = "anyhow"
    ACROSS = "slides left and right"
    UPRIGHT = "slides up and down"
    STRAIGHT = "slides along one direction"
    SOMEHOW = "slides"
    SIDEWAYS = "a line that shifts sideways"
    TURNING = "a line that turns"


class Motion(Struct, frozen=True):
    """A motion that the readings leave; `other` names what it is along, about or with."""

    how: Moves
    other: str = ""


class Asks(Enum):
    """Which reading or fact would hold something."""

    READING = 0
    PLACE = 1
    LEVEL = 2
    UPRIGHT = 3
    PASSING = 4
    PARALLEL = 5
    SQUARE = 6


class Offer(Struct, frozen=True):
    """Something that would hold what can still move: a reading from `other` to the named edges (mine first),
    a place, or of a line its direction or a thing it passes through.
    """

    asks: Asks
    other: str = ""
    edges: tuple[ReadEdge, ...] = ()


class LeftOpen(Struct, frozen=True):
    """A thing or line that can still move: how, and what would settle it, best first."""

    name: str
    motion: Motion
    would_do: tuple[Offer, ...]


class SideOffer(Struct, frozen=True):
    """A side word that tells places apart: along an axis of the plane, the `way` from `other`."""

    way: Way
    other: str


class PlaceOffer(Struct, frozen=True):
    """A place (mm) to say that something is roughly at, where no side word tells places apart."""

    at: XY


class TwoPlaces(Struct, frozen=True):
    """A thing that fits in several places, all other things held: the places, and what tells them apart.

    `key` and `other`: the row that leaves it open and what that is read from, where it may be met on either
    side of that; else 0 and nothing."""

    name: str
    places: tuple[XY, ...]
    tells: tuple[SideOffer | PlaceOffer, ...]
    key: int = 0
    other: str = ""


class Misfit(Struct, frozen=True):
    """Rows that can't all hold: their keys with residuals in mm (found minus given), and the gap in units of
    u.
    """

    keys: tuple[int, ...]
    residuals: tuple[float, ...]
    worst: float


class Solved(Struct, frozen=True):
    """Places of everything, snapped to 1e-6 mm; what is open, ambiguous or contradictory (all empty when
    good).

    residuals: key -> found minus given, mm (radians for angles)."""

    things: dict[str, XY]
    lines: dict[str, PlacedLine]
    residuals: dict[int, float] = field(default_factory=dict)
    left_open: tuple[LeftOpen, ...] = ()
    two_places: tuple[TwoPlaces, ...] = ()
    misfits: tuple[Misfit, ...] = ()
