"""What a fact becomes in the model: where it stands, the things it speaks of, sizes as read and as made,
distances, what a size is for.  Lengths in mm.
"""

from __future__ import annotations

from enum import Enum
from typing import TYPE_CHECKING

from msgspec import Struct

from ..diagnostics.types import Span
from ..facts.placing import PlacingFact
from ..facts.types import SingleReading
from ..places.layout import Flat
from ..quantities import Quantity, Standing

if TYPE_CHECKING:
    from ..quantities.tables import FitAllowance


class Said(Struct, frozen=True):
    """A fact as it stands in the recipe: its leading words, the whole line, where, and the things it speaks
    of (`body.front`); `bare`: the line up to its size as read, behind which `made ...` may stand."""

    word: str
    text: str
    span: Span
    of: tuple[str, ...] = ()
    bare: str = ""


class Mention(Struct, frozen=True):
    """A thing as a fact speaks of it: the whole name (`leaf.front`, `pin.2`), its thing and part, where it
    was said.
    """

    name: str
    thing: str
    part: str
    span: Span


class Size(Struct, frozen=True):
    """A size as it was read (None: only wanted) and as it is made, with the fact it rests on."""

    read: Quantity | None
    made: Quantity
    said: Said

    @property
    def value(self) -> float:
        """As made, in mm (degrees for an angle)."""
        return self.made.value

    @property
    def standing(self) -> Standing:
        """What the size as made rests on."""
        return self.made.standing


class Number(Struct, frozen=True):
    """One number of a statement, of whatever fact: the slot it stands in, the size, the readings behind it
    one by one.

    `is_size`: the slot holds a size (that may be read and made), not just a number.  `fitted`: what the
    thing is for settles the size, so how it was read does not.  `trims`: neither place nor size of the thing
    rests on it.  `ends_line`: nothing stands behind it in its line; `may_be_made`:
    `made ...` may.  `residual`: how much more (mm) all readings of its plane together say it is; 0 where none
    was taken to its edge.
    """

    key: str
    size: Size
    taken: tuple[SingleReading, ...]
    is_size: bool
    fitted: bool
    trims: bool
    ends_line: bool
    may_be_made: bool
    residual: float = 0.0

    @property
    def word(self) -> str:
        """The leading words of its fact: only the folder of a kind asks for them."""
        return self.size.said.word


class Rest(Struct, frozen=True):
    """A fact that the place or a size of a thing rests on, and the things it speaks of.

    `sizes`: it tells a size; `by_fit`: by what the thing is for; `about`: a number in it is only about.
    """

    said: Said
    names: tuple[str, ...]
    sizes: bool
    by_fit: bool
    about: bool


class PlacedBy(Struct, frozen=True):
    """A fact that a thing is placed by, and what was left of each of its numbers when all readings of its
    plane were fitted together: fitted less given, mm (radians for an angle)."""

    fact: PlacingFact
    residuals: tuple[float, ...] = ()

    def residual(self, which: int = 0) -> float:
        """What was left of one of its numbers; 0 where nothing else checks it."""
        return self.residuals[which] if which < len(self.residuals) else 0.0


class FlatOf(Struct, frozen=True):
    """A flat or side of a body, or a plane, that the recipe speaks of, with its place in space."""

    name: str
    body: str
    part: str
    flat: Flat


class ReadDistance(Struct, frozen=True):
    """A place read `from` another thing: the other (`pin`, `wall.top`, `pin.2`), which edges, the reading.

    `sides`: -1 the near edge, +1 the far one, 0 the middle: of this thing and of the other; only one where
    one is told, of whichever of the two is round; none where none is."""

    other: str
    name: str
    part: str
    edges: str
    reading: Quantity
    said: Said
    sides: tuple[int, ...] = ()


class PlacedAt(Struct, frozen=True):
    """A place told as `at X, Y`, from the middle of another thing or (None) from the origin of its plane."""

    x: Quantity
    y: Quantity
    other: str | None
    part: str
    said: Said


class FitUse(Enum):
    """How a hole or peg goes with its mate: on a shaft, as the clearance or the core hole of a screw, or by a
    thread.
    """

    SHAFT = 0
    CLEARANCE = 1
    CORE = 2
    THREAD = 3


class Fit(Struct, frozen=True):
    """What a hole or peg is for: how it goes with the mate it names (a thing, a screw or a plain size), how
    it is made by it.

    `allowance`: of what goes on a shaft.  `series`: of a clearance hole.  `screw`: a screw's clearance or
    core hole, named for the screw.  `locates`: what it meets keeps its place by it (a thread leads, and a
    stretched thing gives way)."""

    use: FitUse
    allowance: FitAllowance | None
    mate: str
    size: Quantity
    series: str
    said: Said
    screw: bool = False
    locates: bool = False
