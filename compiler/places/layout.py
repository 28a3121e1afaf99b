"""Where everything is: planes with a frame, spots on them, and flats, all in the frame of the first
sheet.

Lengths in mm, angles in radians.  A plane is taken as its reader sees it: x to the right, y up, `out`
towards the reader.  The fronts and backs of a body lie on the same plane as the body, only higher or lower,
so that all that is read in one direction is solved together."""

from __future__ import annotations

import math

from msgspec import Struct, field

from ..facts import Claim, Entry
from ..facts.placing import PlacingFact
from ..facts.placing_reader import PlacingFacts
from ..network.types import Network, PlacedLine
from ..quantities.vectors import XY, Vector, along, clean, cross, dot


class Frame(Struct, frozen=True):
    """A plane in space: origin (mm) and unit vectors to its right, up and out of it towards the reader."""

    origin: Vector = (0.0, 0.0, 0.0)
    right: Vector = (1.0, 0.0, 0.0)
    up: Vector = (0.0, 1.0, 0.0)
    out: Vector = (0.0, 0.0, 1.0)

    def point(self, at: XY, height: float = 0.0) -> Vector:
        """The point in space at (x, y) on the plane and `height` above it."""
        return along(self.origin, (self.right, at[0]), (self.up, at[1]), (self.out, height))

    def onto(self, point: Vector) -> tuple[XY, float]:
        """(x, y) and height of a point in space, seen on this plane."""
        away = (point[0] - self.origin[0], point[1] - self.origin[1], point[2] - self.origin[2])
        return (dot(away, self.right), dot(away, self.up)), dot(away, self.out)

    def direction(self, angle: float) -> Vector:
        """The direction in space at an angle (radians) from the plane's x."""
        return clean(along((0.0, 0.0, 0.0), (self.right, math.cos(angle)), (self.up, math.sin(angle))))


class Flat(Struct, frozen=True):
    """A plane face in space: a point of it and the unit normal out of the material."""

    point: Vector
    normal: Vector


class Spot(Struct, frozen=True):
    """A thing placed: its plane, (x, y) there, the height it stands at, which way it points (+1 out of the
    plane, -1 into it), its turn, and its half-sizes on the plane as made (a round: both the radius)."""

    plane: str
    at: XY
    base: float = 0.0
    out: int = 1
    turn: float = 0.0
    half: XY = (0.0, 0.0)


class Move(Struct, frozen=True):
    """A rigid move in space, perhaps with a mirroring: rows of the matrix, then the shift (mm)."""

    rows: tuple[Vector, Vector, Vector]
    shift: Vector

    def point(self, a: Vector) -> Vector:
        """Where a point goes."""
        return along(
            self.shift,
            ((1.0, 0.0, 0.0), dot(self.rows[0], a)),
            ((0.0, 1.0, 0.0), dot(self.rows[1], a)),
            ((0.0, 0.0, 1.0), dot(self.rows[2], a)),
        )

    def back(self, a: Vector) -> Vector:
        """Where a point comes from."""
        x, y, z = along(a, (self.shift, -1.0))
        return along((0.0, 0.0, 0.0), (self.rows[0], x), (self.rows[1], y), (self.rows[2], z))

    def after(self, other: Move) -> Move:
        """This move made after another one."""
        one, two, three = other.rows
        rows = [along((0.0, 0.0, 0.0), (one, row[0]), (two, row[1]), (three, row[2])) for row in self.rows]
        return Move((rows[0], rows[1], rows[2]), self.point(other.shift))

    @property
    def mirrors(self) -> bool:
        """True where the move turns a right hand into a left one."""
        return dot(cross(self.rows[0], self.rows[1]), self.rows[2]) < 0


class PlaneReadings(Struct, frozen=True, eq=False):
    """The readings of one plane as they were solved: its network, the statement and claim behind each row's
    key, and the placing fact where it is one.
    """

    plane: str
    network: Network
    keys: dict[int, tuple[Entry, Claim]]
    facts: dict[int, PlacingFact]


class Layout(Struct):
    """Everything placed.

    frames: plane name -> frame, also of every side, sloping flat and plane that something speaks of; spots:
    thing -> spot; lines: line -> (plane, line on it); stands: statement -> (plane, height over it in mm, +1
    out of it or -1 into it), of everything that lies somewhere; heights: body -> lowest and highest height
    over its own plane; copies: thing -> moves of its copies .2, .3, ... (.1 is the thing itself); residuals:
    (statement, typed line) -> fitted less given of each of its rows, in mm (radians); readings: the planes in
    the order they were solved; facts: the placing facts of every statement; used: (statement,
    typed line) of the placing facts that made a row or set something (a plane, a height, a turn, a copy)."""

    frames: dict[str, Frame] = field(default_factory=dict)
    spots: dict[str, Spot] = field(default_factory=dict)
    lines: dict[str, tuple[str, PlacedLine]] = field(default_factory=dict)
    heights: dict[str, tuple[float, float]] = field(default_factory=dict)
    copies: dict[str, tuple[Move, ...]] = field(default_factory=dict)
    residuals: dict[tuple[str, str], tuple[float, ...]] = field(default_factory=dict)
    readings: list[PlaneReadings] = field(default_factory=list)
    stands: dict[str, tuple[str, float, int]] = field(default_factory=dict)
    facts: PlacingFacts = field(default_factory=lambda: PlacingFacts({}))
    used: set[tuple[str, str]] = field(default_factory=set)

    def use(self, entry: Entry, *facts: PlacingFact | None) -> None:
        """Note that placing facts of a statement had an effect."""
        self.used.update((entry.name, fact.claim.text) for fact in facts if fact is not None)
