"""What each reading of a recipe is worth, in the writer's names.  Lengths mm, angles degrees where `degrees`
is set.

u is a standard uncertainty, U = 2 u (about 95 %); a give-or-take is the limit a = sqrt 3 u of a rectangular
spread, the figure a writer puts behind `+-` (JCGM 100:2008, 4.3.7)."""

from __future__ import annotations

from msgspec import Struct

from ..quantities import Standing


class ReadingShare(Struct, frozen=True):
    """A reading that an uncertainty stems from: statement, line as typed, and its share of the variance (0 to
    1).
    """

    name: str
    text: str
    share: float


class WeighedReading(Struct, frozen=True):
    """One reading after all readings of its plane were fitted together.

    `residual` is fitted minus given, `redundancy` the share of a slip that it would show, `slip` the smallest
    slip that would be noticed (inf: none would), `moves` how far (mm) `moved` goes when the reading is off by
    0.1 (mm or degrees). `verdict`: `agrees`, `unchecked`, `wanted`, `stands out`, or `suspect`."""

    name: str
    text: str
    given: float
    fitted: float
    residual: float
    give: float
    redundancy: float
    slip: float
    moves: float
    moved: str
    degrees: bool
    verdict: str


class WeighedPlace(Struct, frozen=True):
    """A placed thing: U in its worst direction (mm, inf where open), that direction (degrees), and what it
    stems from.
    """

    name: str
    expanded: float
    worst: float
    by: tuple[ReadingShare, ...]


class WeighedSize(Struct, frozen=True):
    """A size of a statement: as made, as read (None: never read), U of what was read, and its standing.

    A diameter that place readings lean on is read better by them: `fitted` is what all readings together say.
    `over`: how many pitches or teeth the reading went over; a pitch is made as one.
    """

    name: str
    word: str
    made: float
    read: float | None
    expanded: float
    standing: Standing
    fitted: float | None = None
    over: int = 1


class Spacing(Struct, frozen=True):
    """Two neighbouring holes: centre distance and the wall between their edges as read (mm), U of each, the
    sources.
    """

    first: str
    second: str
    apart: float
    expanded: float
    wall: float
    wall_expanded: float
    by: tuple[ReadingShare, ...]


class Double(Struct, frozen=True):
    """The same gap read over both pairs of edges: their difference against the sizes it should be."""

    name: str
    other: str
    outer: str
    inner: str
    difference: float
    sizes: float
    give: float

    @property
    def agrees(self) -> bool:
        """True within the give-or-take of all four readings together."""
        return abs(self.difference - self.sizes) <= self.give


class Weak(Struct, frozen=True):
    """Weak geometry: what 0.1 mm in a reading does, and the reading that would hold the thing better, with
    the U then.
    """

    name: str
    text: str
    moved: str
    moves: float
    better: str
    expanded: float


class RoundSize(Struct, frozen=True):
    """A round size that something read is consistent with, and how to accept it."""

    what: str
    value: float
    expanded: float
    offer: str
    accept: str


class WeighedPlane(Struct, frozen=True):
    """One plane (or a later part of it): its readings, places, spacings, and the test of the whole.

    `datum`: what places are counted from; `agrees`: False where the chi-square test at 1 % fails; `total` and
    `freedoms` of it, summed over what hangs together; `skipped` where there are too many things to weigh, not
    `detailed` where there are too many to work out what each place owes to which reading (`by`, `moves`,
    spacings, weak)."""

    page: str
    readings: tuple[WeighedReading, ...] = ()
    places: tuple[WeighedPlace, ...] = ()
    spacings: tuple[Spacing, ...] = ()
    doubles: tuple[Double, ...] = ()
    weak: tuple[Weak, ...] = ()
    rounds: tuple[RoundSize, ...] = ()
    datum: tuple[str, ...] = ()
    agrees: bool = True
    total: float = 0.0
    freedoms: int = 0
    skipped: bool = False
    detailed: bool = True


class Weighed(Struct, frozen=True):
    """All planes of a recipe, and every size with its standing."""

    pages: tuple[WeighedPlane, ...]
    sizes: tuple[WeighedSize, ...]

    def spacings(self) -> dict[frozenset[str], float]:
        """Standard uncertainty (mm) of the distance of neighbouring holes, by their names."""
        return {
            frozenset((one.first, one.second)): 0.5 * one.expanded
            for page in self.pages
            for one in page.spacings
        }
