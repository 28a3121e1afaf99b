"""What is said of a part on paper: notes, dimensions, pitch circles, checks.  Points lie in the finished
part, lengths are in mm.
"""

from __future__ import annotations

import math
from enum import Enum

from msgspec import Struct

from ...quantities.vectors import Vector, along, dot

Pair = tuple[Vector, Vector]


class Note(Struct, frozen=True):
    """A note at a point of the finished part: the leader ends `radius` mm from it, or in a face there (None).

    `face` is where it is best seen from; `chain`: the leader may end on the chain line of a pitch circle.
    `other`: the same at another point, where that one is seen better."""

    name: str
    at: Vector
    radius: float | None
    text: str
    face: Vector
    chain: bool = False
    other: Note | None = None


class Dimension(Struct, frozen=True):
    """A distance to be drawn: between which points (any one pair of several that are as good), and what to
    write.

    `face` is the direction it is best seen from; `blind` one that it is not to be seen from.  `outermost`:
    the distance is the same everywhere along the faces of this statement and is drawn at their outermost
    points."""

    name: str
    pairs: tuple[Pair, ...]
    text: str
    value: float
    face: Vector | None = None
    blind: Vector | None = None
    outermost: str = ""

    @property
    def told(self) -> str:
        """The distance in words, for a list."""
        return f"{self.name} {self.text}".strip()

    def at(self, corner: Vector) -> Pair:
        """The distance moved beside another point: both ends at their own heights over it."""
        start, stop = self.pairs[0]
        way = along(stop, (start, -1.0))
        size = math.sqrt(dot(way, way))
        unit = along((0.0, 0.0, 0.0), (way, 1.0 / size))
        foot = along(corner, (unit, dot(unit, along(start, (corner, -1.0)))))
        return foot, along(foot, (unit, size))


class PitchCircle(Struct, frozen=True):
    """A circle in the finished part: its middle, the way it faces, radius in mm, the first place on it, how
    far it runs from there (radians, anticlockwise seen from where it faces; 2 pi: all round), and what is
    written at it ('' for nothing)."""

    name: str
    at: Vector
    out: Vector
    radius: float
    first: Vector
    sweep: float
    text: str

    def note(self) -> Note:
        """Its note, at the end of a leader to the circle."""
        return Note(self.name, self.at, self.radius, self.text, self.out, chain=True)


class Cure(Enum):
    """How a size that came out wrong is put right in the line that decides it: `made` is written behind it,
    its own number is changed, or the size itself stands instead of it."""

    MADE = "made"
    CHANGED = "changed"
    INSTEAD = "instead"


class Deciding(Struct, frozen=True):
    """The line of the recipe that decides a size, as far as it is shown, and how it is put right."""

    text: str
    cure: Cure


class Limits(Struct, frozen=True):
    """Between which sizes (mm) something will do and how it may come printed; the `drills` that are run
    through one after the other."""

    low: float
    high: float
    printed_low: float
    printed_high: float
    drills: tuple[float, ...] = ()


class Gauge(Enum):
    """What is measured, and so what puts it right: a hole that a drill fits, a pocket that none does, a peg,
    a size of a body, a depth, or a gap between two things.
    """

    HOLE = "hole"
    POCKET = "pocket"
    PEG = "peg"
    SIZE = "size"
    DEPTH = "depth"
    GAP = "gap"


class Outcome(Enum):
    """Whether a found value will do, can be made to do, or asks for another print."""

    PASS = "pass"
    REWORK = "rework"
    REPRINT = "reprint"


class Check(Struct, frozen=True):
    """One thing to measure: its key for the found values, how to take it, what is expected (mm), and what can
    be done.

    `leans` holds the keys of the holes whose size goes into a reading between edges, each with its share of
    their diameter; `line` is the line of the recipe that decides the size.  `mates`: something goes in, on or
    over it, so it is measured before the distances; `across`: the thing whose size across it is."""

    key: str
    gauge: Gauge
    how: str
    value: float
    limits: Limits
    leans: tuple[tuple[str, float], ...] = ()
    critical: bool = False
    line: Deciding | None = None
    mates: bool = False
    across: str = ""


class Verdict(Struct, frozen=True):
    """What a found value means, and what to do."""

    key: str
    found: float
    outcome: Outcome
    advice: str
