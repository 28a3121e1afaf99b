"""What an adjustment says: fitted places with give-or-take, and what each reading is worth.  Lengths mm,
angles rad.

u is a standard uncertainty, U = 2 u the expanded one (about 95 %).  Infinite where the readings leave
something open."""

from __future__ import annotations

from enum import Enum

from msgspec import Struct

from ..quantities.vectors import XY
from .types import ReadEdge, ReadingRow, SizeReading


class PlaceFit(Struct, frozen=True):
    """A thing's centre: place, u of x and y, their covariance (mm2), and u along its worst direction (angle
    in rad).

    Absolute places are counted from the datum of the adjustment; the u of a distance is what doesn't depend
    on it."""

    name: str
    at: XY
    u_x: float
    u_y: float
    cov_xy: float
    u: float
    worst: float

    @property
    def expanded(self) -> float:
        """U = 2 u along the worst direction, mm."""
        return 2.0 * self.u


class LineFit(Struct, frozen=True):
    """A line: normal angle and offset with their u and covariance (rad mm)."""

    name: str
    angle: float
    offset: float
    u_angle: float
    u_offset: float
    cov: float


class SizeFit(Struct, frozen=True):
    """A shared diameter (mm) with its u."""

    name: str
    diameter: float
    u: float


class FittedReading(Struct, frozen=True):
    """One reading after the adjustment.

    `residual`: fitted minus given; `redundancy`: share of a slip in it that the residual shows (0: nothing
    checks it, 1: fully checked); `w`: the standardised residual, in its own standard deviations (0 where
    unchecked); `slip`: smallest slip that Baarda's test finds in four cases of five, inf where unchecked;
    `exact`: a definition (on, level, midway), not a reading; `group`: number of the `GroupTest` it belongs
    to."""

    key: int
    given: float
    fitted: float
    residual: float
    u: float
    redundancy: float
    w: float
    slip: float
    exact: bool
    group: int

    @property
    def unchecked(self) -> bool:
        """True where no other reading checks this one: a slip in it would go unnoticed."""
        return not self.exact and self.redundancy < 0.01


class GroupTest(Struct, frozen=True):
    """The chi-square test of what hangs together: sum of (residual / u)^2, its freedoms, the limit at 1 %."""

    names: tuple[str, ...]
    keys: tuple[int, ...]
    total: float
    freedoms: int
    limit: float

    @property
    def fits(self) -> bool:
        """True where the readings agree within their give-or-take (or nothing checks them)."""
        return self.freedoms < 1 or self.total <= self.limit


class Share(Struct, frozen=True):
    """Which share of a variance (0 to 1) stems from one reading."""

    key: int
    share: float


class Derived(Struct, frozen=True):
    """Something worked out from the fitted places: value and u (mm), and the readings it owes its variance
    to.
    """

    value: float
    u: float
    shares: tuple[Share, ...]

    @property
    def expanded(self) -> float:
        """U = 2 u."""
        return 2.0 * self.u


class Leverage(Struct, frozen=True):
    """Weak geometry: how far (mm) what moves most moves when one reading is off by 0.1 mm (0.1 degrees for an
    angle).
    """

    key: int
    name: str
    moves: float


class EdgeSlip(Struct, frozen=True):
    """Read to other edges: those said and those meant, one for each party that has any (both CENTRE: between
    centres).
    """

    said: tuple[ReadEdge, ...]
    meant: tuple[ReadEdge, ...]


class UnitSlip(Struct, frozen=True):
    """A number as typed that was in inches where mm were said, or (`inches`) the reverse."""

    typed: str
    inches: bool


class Misread(Enum):
    """How one number becomes another."""

    SWAPPED = 0
    DIGIT = 1


class NumberSlip(Struct, frozen=True):
    """Another number than the one typed (in inches where `inches`) was read."""

    value: float
    typed: str
    inches: bool
    how: Misread


Slip = EdgeSlip | UnitSlip | NumberSlip


class Alternative(Struct, frozen=True):
    """What a row could have been: its key, what slipped, the row it would be."""

    key: int
    slip: Slip
    row: ReadingRow | SizeReading


class Hypothesis(Struct, frozen=True):
    """One reading taken otherwise: the test's total before and after, and whether the group then fits."""

    alternative: Alternative
    before: float
    after: float
    fits: bool


class Suspect(Struct, frozen=True):
    """A reading whose omission explains the misfit: the total without it, and what the others say it should
    read.
    """

    key: int
    total: float
    should_be: float


class MisfitVerdict(Struct, frozen=True):
    """What is wrong in one group that doesn't fit.

    `readings_as`: wrong-word explanations that make the group fit, best first, with those as good as the
    best; `suspects`: the readings whose omission explains nearly as much as the best; `can_tell`: False where
    the group has a single redundancy or every reading is suspect, so that nothing can be singled out;
    `nearest`: the word that helps most, also where it doesn't make the group fit or a reading left out helps
    clearly more (don't present it as the answer then)."""

    test: GroupTest
    readings_as: tuple[Hypothesis, ...]
    suspects: tuple[Suspect, ...]
    can_tell: bool
    nearest: Hypothesis | None = None
