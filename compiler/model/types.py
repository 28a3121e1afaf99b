"""The part as it will be made: typed, frozen things, each with the place it has and the sizes it gets.
Lengths in mm.

Everything behind this room reads these objects and the mesh, never a fact by its word.  A `Said` is where
something stands in the recipe, for messages and paper; nothing about the shape is decided by it."""

from __future__ import annotations

from enum import IntEnum
from typing import TYPE_CHECKING, ClassVar, TypeVar

from msgspec import Struct

from ..diagnostics.types import Span
from ..places.layout import Frame, Move, Spot
from ..places.planes import SHEET
from ..quantities.vectors import XY, Vector
from .stated import (
    Fit,
    FlatOf,
    Mention,
    Number,
    PlacedAt,
    PlacedBy,
    ReadDistance,
    Rest,
    Said,
    Size,
)

if TYPE_CHECKING:
    from .card import Card


class Centre(IntEnum):
    """What the middle of a thing is on paper, each with all that stands before it: nothing; marked with a
    cross, and rings of it have a pitch circle; the place of an axis; the centre of a round rim."""

    NONE = 0
    CROSS = 1
    AXIS = 2
    RIM = 3


class Thing(Struct, frozen=True, kw_only=True):
    """Anything with a name.  `noun` is the word it was written with: messages and tables call it so.

    `stands_on` are the flats it is on, `rests` what its place and sizes rest on,
    `placed_by` the facts that place it, `edges_read` the radius and the half-sizes along and across (mm)
    to which its edges were read, `fit` what it is for.
    `spot` is None for what has no one place (a zone, a pattern, a plate); `copies` are the moves of its
    copies .2, .3, ... (.1 is the thing itself); `around` is the thing whose middle it shares."""

    name: str
    noun: str
    span: Span
    said: tuple[Said, ...] = ()
    numbers: tuple[Number, ...] = ()
    plane: str = ""
    spot: Spot | None = None
    copies: tuple[Move, ...] = ()
    around: str = ""
    distances: tuple[ReadDistance, ...] = ()
    offset: PlacedAt | None = None
    stands_on: tuple[Mention, ...] = ()
    rests: tuple[Rest, ...] = ()
    placed_by: tuple[PlacedBy, ...] = ()
    edges_read: tuple[float, float, float] = (0.0, 0.0, 0.0)
    fit: Fit | None = None

    makes: ClassVar[bool] = False
    """Whether it makes something of the part as it was read, wear included."""
    must_fit: ClassVar[bool] = False
    """Whether it meets something, so that it must not hang on a number that is only about."""
    lettered: ClassVar[bool] = False
    """Whether it is a text or an arrow, written on flats of bodies when these are made."""
    carries_places: ClassVar[bool] = False
    """Whether the place of other things may hang on it."""
    idle: ClassVar[str] = ""
    """What to do with one that nothing uses; '' for what makes something by itself."""
    centre: ClassVar[Centre] = Centre.NONE
    """How its middle is marked on paper."""
    straight_sided: ClassVar[bool] = False
    """Whether its near and far edges are sides of its own, not of a round."""

    def line_of(self, detail: str) -> Span:
        """The fact that a face of it is named for (`bevel`, `counterbore`), else its head."""
        return next((said.span for said in self.said if said.word == detail), self.span)

    @property
    def across_made(self) -> float | None:
        """The size across of a round thing as made (a slot: its width), mm; None for what has none."""
        return None

    @property
    def handed(self) -> bool:
        """Whether it turns into another thing in a mirror: a thread, a mark, what holds one of these."""
        return False

    @property
    def diameter(self) -> float | None:
        """The size across as made, mm, of what is round on its plane; None for all else."""
        return None

    @property
    def edge_across(self) -> float:
        """The size across, mm, of the round edge that other things may be read to; 0 where it has none."""
        return self.diameter or 0.0

    @property
    def hidden_inside(self) -> bool:
        """Whether it has an inside that a view straight onto its plane does not show."""
        return False

    @property
    def axis_line(self) -> str:
        """The line that its axis lies along; '' for one square to its plane."""
        return ""

    @property
    def placed(self) -> Spot:
        """The place of a thing that must have one."""
        assert self.spot is not None, self.name
        return self.spot


class Trim(Struct, frozen=True):
    """A plane that cuts a body off: the larger share stays."""

    by: FlatOf
    said: Said


class Cylinder(Struct, frozen=True):
    """A round face of a body: the frame of its axis (`out` along it), radius and the heights over that frame
    between which it runs, mm; `outside`: the material lies inside of it."""

    axis: Frame
    radius: float
    low: float
    high: float
    outside: bool


class LyingRound(Struct, frozen=True):
    """A round body that lies along a line: the frame of its axis (`out` along it), from where to where on it
    (mm), its largest radius, and the sides that are round.
    """

    axis: Frame
    start: float
    stop: float
    radius: float
    sides: frozenset[str]


class Body(Thing, frozen=True, kw_only=True):
    """A body: the frame of the plane it lies on, from which height over that plane to which it reaches, the
    height it stands at, and which way (+1 out of the plane, -1 into it)."""

    frame: Frame
    low: float
    high: float
    base: float
    out: int
    trims: tuple[Trim, ...] = ()

    @property
    def round_radius(self) -> float | None:
        """Radius (mm) of the round that its left, right, top and bottom lie on; None where these are flat."""
        return None

    @property
    def cylinders(self) -> tuple[Cylinder, ...]:
        """Its plain round faces, by which it may touch another body; its holes left out."""
        return ()

    @property
    def lying(self) -> LyingRound | None:
        """Where its axis runs if it is round and lies along a line; None for all else."""
        return None

    @property
    def stood_on(self) -> bool:
        """Whether another body may stand on a flat of it."""
        return True

    @property
    def bevelled(self) -> tuple[tuple[str, Size], ...]:
        """Its bevels, by the flat they are at: `front`, `back` or `both`."""
        return ()

    @property
    def enters(self) -> bool:
        """Whether it is there to reach into holes of other bodies, with room about it."""
        return False

    def is_edge(self, part: str) -> bool:
        """Whether an edge stands at this side, where a flat is looked for."""
        return False


class Slope(Struct, frozen=True):
    """A flat that slopes: two heights over what the body stands on, each read at a thing or a side.

    `spoken_of`: something is placed by this flat, so that it may stand on it.  `at`: what the heights were
    read at (a side of the body with its name); they run from `base` over the plane `under`, the way of `out`.
    """

    part: str
    plane: Frame
    first: Size
    here: str
    second: Size
    there: str
    said: Said
    spoken_of: bool = False
    at: tuple[Mention, ...] = ()
    under: str = ""
    base: float = 0.0
    out: int = 1


class Spring(Struct, frozen=True):
    """A tongue that bends: how far, over which free length, how thick it is where that is said; `thickness`:
    that, or how thick the stuff of its body is (mm; None where another flat decides it)."""

    by: Size
    free: Size
    thick: Size | None
    thickness: float | None
    said: Said


class Corners(Struct, frozen=True):
    """Corners of an outline that are rounded: by how much, hollow ones or those that stick out, and at which
    places (with the radius of the round that lies there; none: all of them)."""

    size: Size
    hollow: bool
    places: tuple[tuple[XY, float], ...]
    said: Said


class Bevels(Struct, frozen=True):
    """Bevels at the front and the back of a body drawn out of its plane, mm; each with its line."""

    front: float = 0.0
    back: float = 0.0
    said: tuple[tuple[str, Size], ...] = ()

    @property
    def line(self) -> Span | None:
        """The line to blame for a bevel that does not fit, where there is only one."""
        return self.said[0][1].said.span if len(self.said) == 1 else None


class Prism(Body, frozen=True, kw_only=True):
    """A body drawn straight out of its plane from an outline: a plate, block or strip."""

    bevels: Bevels = Bevels()
    slope: Slope | None = None
    spring: Spring | None = None

    @property
    def bevelled(self) -> tuple[tuple[str, Size], ...]:
        """Its bevels, by the flat they are at."""
        return self.bevels.said


class Depth(Struct, frozen=True):
    """How deep a hole goes: from the height of a flat over its plane, against the way that flat faces.

    `flat` names the flat it is counted from; empty where the hole stands on it.  `bare`: the flat was named
    without its body (`from front`), so each body the hole goes through has its own.  `from_plane`: it is
    counted from a plane of its own, no flat of a body; where that lies inside a body the hole begins there.
    """

    size: Size
    start: float
    out: int
    flat: str
    bare: bool
    said: Said
    from_plane: bool
    of: Mention | None = None


class Mouth(Struct, frozen=True):
    """A counterbore or countersink: its size across, its depth, where it starts.  `turn` (radians) of the
    hexagon for a nut.

    `screw`, `standard`: the screw it is named for and whose head, nut or washer that is; empty where a size
    is told.  `from_plane`: as of a `Depth`."""

    conical: bool
    wide: Size
    depth: float
    deep: Size | None
    nut: bool
    turn: float
    start: float
    out: int
    flat: str
    bare: bool
    screw: str
    standard: str
    called: str
    said: Said
    from_plane: bool


class Pattern(Thing, frozen=True, kw_only=True):
    """A pattern: what it copies, and how many there are then, itself counted."""

    of: tuple[Mention, ...]
    total: int
    steps: tuple[Rest, ...] = ()


Any = TypeVar("Any", bound=Thing)


class Model(Struct, frozen=True):
    """The whole part: its card and everything by name, in the order of names.

    `frames`: planes by name; `flats`: what is spoken of as a flat; `edges`: lines and sides as a point, a way
    and the way out of their plane; `spoken_of`: names that some statement refers to."""

    card: Card
    things: dict[str, Thing]
    frames: dict[str, Frame]
    flats: dict[str, FlatOf]
    edges: dict[str, tuple[Vector, Vector, Vector]]
    spoken_of: frozenset[str] = frozenset()
    lets: tuple[Thing, ...] = ()

    def of(self, kind: type[Any]) -> list[Any]:
        """The things of one type, in the order of their names."""
        return [one for one in self.things.values() if isinstance(one, kind)]

    def body(self, name: str) -> Body:
        """A body by its name."""
        found = self.things[name]
        assert isinstance(found, Body), name
        return found

    def frame(self, thing: Thing) -> Frame:
        """The frame of the plane that a thing lies on."""
        return self.frames[thing.plane]


__all__ = [
    "SHEET",
    "Any",
    "Bevels",
    "Body",
    "Centre",
    "Corners",
    "Depth",
    "Fit",
    "FlatOf",
    "Mention",
    "Model",
    "Mouth",
    "Number",
    "Pattern",
    "PlacedAt",
    "PlacedBy",
    "Prism",
    "ReadDistance",
    "Rest",
    "Said",
    "Size",
    "Slope",
    "Spring",
    "Thing",
    "Trim",
]
