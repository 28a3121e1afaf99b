"""Sections of holes and pegs, and the shapes that outlines are made of: what, how large and where.  Lengths
in mm.
"""

from __future__ import annotations

from msgspec import Struct

from ..quantities.vectors import XY
from .types import Corners, Size


class RoundSection(Struct, frozen=True):
    """A round of this radius about the middle of the thing."""

    radius: float


class PolygonSection(Struct, frozen=True):
    """A hexagon or square, by its size over two flats; turned by radians."""

    across: float
    sides: int
    turn: float


class FlattedSection(Struct, frozen=True):
    """A round with one flat (or two opposite ones), `distance` from the middle, facing `towards`
    (radians).
    """

    radius: float
    distance: float
    towards: float
    both: bool


class ToothedSection(Struct, frozen=True):
    """A round with serrations, or with splines, `depth` deep."""

    radius: float
    depth: float
    count: int
    turn: float
    splines: bool


class SlotSection(Struct, frozen=True):
    """A slot between the centres of its two ends on the plane, with round ends or square ones."""

    first: XY
    second: XY
    radius: float
    square: bool
    turn: float


class BoxSection(Struct, frozen=True):
    """A notch: a rectangle by its half-sizes, turned by radians, its corners rounded: those at the places
    `closed`, or (None) all of them."""

    half: XY
    turn: float
    rounds: tuple[Size, ...]
    closed: tuple[XY, ...] | None = None


Section = RoundSection | PolygonSection | FlattedSection | ToothedSection | SlotSection | BoxSection


class PointAt(Struct, frozen=True):
    """A corner of an outline.  `owner` is the statement it comes from, `name` how it is spoken of."""

    name: str
    owner: str
    at: XY


class RoundAt(Struct, frozen=True):
    """A round that an outline runs along; `hollow`: the material lies outside it."""

    name: str
    owner: str
    at: XY
    radius: float
    hollow: bool


class LineAt(Struct, frozen=True):
    """A line that an outline runs along, by a point and a unit direction; `into`: it runs in without being
    tangent.
    """

    owner: str
    foot: XY
    way: XY
    into: bool


class ArcAt(Struct, frozen=True):
    """An arc between its neighbours in the walk, by its rise or its radius."""

    owner: str
    rise: float | None
    radius: float | None
    outwards: bool


StopAt = PointAt | RoundAt | LineAt | ArcAt


class CircleAt(Struct, frozen=True):
    """A round that is merged, or encloses an area."""

    owner: str
    at: XY
    radius: float


class RectangleAt(Struct, frozen=True):
    """A rectangle by its middle and half-sizes, corners that stick out rounded."""

    owner: str
    at: XY
    half: XY
    corners: tuple[Corners, ...] = ()


class WebAt(Struct, frozen=True):
    """A bar of some width between two places."""

    owner: str
    first: XY
    second: XY
    wide: float


ShapeAt = CircleAt | RectangleAt | WebAt


class Walked(Struct, frozen=True):
    """An outline walked past its stops."""

    stops: tuple[StopAt, ...]


class Belted(Struct, frozen=True):
    """An outline as of a belt round all of these."""

    rounds: tuple[RoundAt, ...]


class Chained(Struct, frozen=True):
    """Rounds joined one to the next in an open row."""

    rounds: tuple[RoundAt, ...]


class Merged(Struct, frozen=True):
    """Shapes that are one."""

    shapes: tuple[ShapeAt, ...]


Outline = Walked | Belted | Chained | Merged
