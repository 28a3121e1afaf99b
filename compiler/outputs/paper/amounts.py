"""A size with what may be off it, and how it is written: the same on drawings and on inspection sheets.

- read sizes carry the give-or-take of their reading (a limit: u times sqrt 3, as it was typed in);
- sizes by a fit word may use up half the play of the fit, so that the fit stays one; screw holes have the
grades of
  ISO 273 (H12, H13, H14), on the large side only;
- other wanted sizes have the general tolerance (ISO 2768-1, class m);
- sizes with `about` have none and stand in brackets, as auxiliary sizes do (ISO 129-1).

Half the play: common practice, no source."""

from __future__ import annotations

import math

from msgspec import Struct

from ...model import Size
from ...model.stated import Fit, FitUse
from ...quantities import Quantity, Standing
from ...quantities.tables import tolerance_grade
from ...quantities.tables.general import general_tolerance

_SERIES = {"fine": "IT12", "medium": "IT13", "coarse": "IT14"}
_TAPPED = 0.1  # mm on the diameter of a hole that a screw bites into: common practice, no source
_THREAD_PLAY = 0.1  # mm across that a thread may be off and still goes on (common practice, no source)
EVEN_SPREAD = math.sqrt(3.0)


class Amount(Struct, frozen=True):
    """A size in mm, how far it may lie under and over, and what it rests on."""

    value: float
    under: float
    over: float
    standing: Standing

    @property
    def low(self) -> float:
        """The least that will do, mm."""
        return self.value - self.under

    @property
    def high(self) -> float:
        """The most that will do, mm."""
        return self.value + self.over

    def text(self, before: str = "") -> str:
        """As it stands in a drawing: `4 ±0.1`, `6.1 +0.1/0`, `(12)`; `before` is the sign of a diameter or
        radius.
        """
        said = before + shown(self.value)
        if self.standing is Standing.ABOUT:
            return f"({said})"
        if self.under <= 0 and self.over <= 0:
            return said
        if abs(self.under - self.over) < 1e-9:
            return f"{said} \u00b1{shown(self.under)}"
        return f"{said} {_signed(self.over)}/{_signed(-self.under)}"


def shown(value: float) -> str:
    """A length to a hundredth of a mm, without idle zeros."""
    said = f"{round(value, 2) + 0.0:.2f}".rstrip("0").rstrip(".")
    return "0" if said in ("", "-0") else said


def _signed(value: float) -> str:
    said = shown(value)
    return said if said == "0" or value < 0 else f"+{said}"


def exactly(value: float) -> Amount:
    """A size that follows from others: auxiliary, in brackets."""
    return Amount(value, 0.0, 0.0, Standing.ABOUT)


def wanted(value: float) -> Amount:
    """A wanted size with its general tolerance."""
    give = general_tolerance(abs(value))
    return Amount(value, give, give, Standing.WANTED)


def amount(size: Quantity | Size) -> Amount:
    """The size as made, with what may be off it by its standing."""
    made = size.made if isinstance(size, Size) else size
    if made.standing is Standing.ABOUT:
        return exactly(made.value)
    if made.standing is Standing.WANTED:
        return wanted(made.value)
    give = made.u * EVEN_SPREAD
    return Amount(made.value, give, give, Standing.READ)


def come_out(value: float, told: Quantity | Size | None) -> Amount:
    """What may be off a size of which the value came out otherwise than told (solved, or counted from
    elsewhere); exact where nothing was told.
    """
    if told is None:
        return exactly(value)
    found = amount(told)
    return Amount(value, found.under, found.over, found.standing)


def fitted(size: Size, fit: Fit | None, drilled: bool) -> Amount:
    """The size across of a hole or peg, by what it is for; `drilled`: read by the drill that goes and the one
    that does not.
    """
    if fit is not None:
        return Amount(size.value, *_fit_limits(fit, size.value), Standing.WANTED)
    if drilled and size.standing is Standing.READ:
        # the hole lies between the drill that goes and the next, and u was step / sqrt 3
        return Amount(size.value, 0.0, size.made.u * EVEN_SPREAD, Standing.READ)
    return amount(size)


def fitted_flat(size: Size, fit: Fit | None) -> Amount:
    """The size over a flat (or both) of a bore or peg as made; by a fit on a shaft it may use up as much of
    the play as the round.
    """
    if fit is None or fit.allowance is None:
        return amount(size)
    return Amount(size.value, *_fit_limits(fit, size.value), Standing.WANTED)


def _fit_limits(fit: Fit, across: float) -> tuple[float, float]:
    """How far (mm) a size by a fit may lie under and over."""
    if fit.allowance is not None:
        half = 0.5 * (abs(fit.allowance.wider) + abs(fit.allowance.share) * across)
        return half, half
    if fit.use is FitUse.CORE:
        return 0.0, _TAPPED
    if fit.use is FitUse.CLEARANCE:
        return 0.0, tolerance_grade(_SERIES[fit.series or "medium"], min(across, 120.0))
    return _THREAD_PLAY, _THREAD_PLAY
