"""The module that readings come to: each says what it is with a give-or-take, and one of ISO 54 is taken
where all are met.
"""

from __future__ import annotations

import math

from msgspec import Struct

from ..quantities import Quantity, Standing
from ..quantities.gears import FINE, MODULES, SECOND
from .types import Claim, Measure

MOST_SHIFT = 0.8
_ROUNDING = 1e-6


class Estimate(Struct, frozen=True):
    """What one reading says of the module at a shift x: (value - u) .. (value + u) = reading / (factor + x
    times).
    """

    reading: float
    give: float
    factor: float
    times: float
    claim: Claim

    def module(self, shift: float) -> float:
        """The module it comes to."""
        return self.reading / (self.factor + shift * self.times)

    def slack(self, shift: float) -> float:
        """Its give-or-take of the module."""
        return self.give / (self.factor + shift * self.times) + _ROUNDING

    def shift(self, module: float) -> float:
        """The shift it comes to where the module is known."""
        return (self.reading / module - self.factor) / self.times

    def misses(self, module: float, shift: float) -> float:
        """How far the reading is from what such a gear would give, in give-or-takes."""
        return abs(self.reading - module * (self.factor + shift * self.times)) / (
            self.give + _ROUNDING * self.factor
        )


def of_the_series(values: list[tuple[float, float]]) -> float | None:
    """The module of ISO 54 that lies within all give-or-takes: series I, then those below 1, then series
    II.
    """
    for series in (MODULES, FINE, SECOND):
        fitting = [one for one in series if all(abs(one - value) <= slack for value, slack in values)]
        if fitting:
            return min(fitting, key=lambda one: sum(((one - value) / slack) ** 2 for value, slack in values))
    return None


def with_a_shift(estimates: list[Estimate]) -> float | None:
    """The module at which a reading over the tips and one over teeth come to one and the same shift."""
    one, two = estimates
    for series in (MODULES, FINE, SECOND):
        fitting = []
        for module in series:
            apart = abs(one.shift(module) - two.shift(module))
            within = sum(each.give / (module * each.times) for each in estimates)
            if apart <= within and abs(two.shift(module)) <= MOST_SHIFT:
                fitting.append((apart, module))
        if fitting:
            return min(fitting)[1]
    return None


def module_of_pitch(read: Quantity, over: float) -> tuple[float, str, float]:
    """The module of a pitch read over some teeth: of ISO 54 where one lies within the reading's give-or-take;
    else 'as read', with the nearest of ISO 54."""
    factor = math.pi * over
    value = read.value / factor
    snapped = of_the_series([(value, math.sqrt(3.0) * read.u / factor + _ROUNDING)])
    return (snapped, "", snapped) if snapped is not None else (value, "as read", nearest_module(value))


def nearest_module(value: float) -> float:
    """The module of ISO 54 that lies nearest."""
    return min((*MODULES, *SECOND, *FINE), key=lambda one: (abs(one - value), one))


def shift_told(estimates: list[Estimate], module: float) -> float | None:
    """The shift that a gear's readings come to at a module, 0 where they are met without; None where they
    come to none.
    """
    if all(one.misses(module, 0.0) <= 1.0 for one in estimates):
        return 0.0
    shift = estimates[-1].shift(module)
    fits = abs(shift) <= MOST_SHIFT and all(one.misses(module, shift) <= 1.0 for one in estimates)
    return shift if fits else None


def taken(measure: Measure) -> tuple[Quantity, bool]:
    """A size as read, where it was; and whether it was."""
    if (
        measure.read is not None
        and measure.read.standing is Standing.READ
        and measure.made.standing is not Standing.ABOUT
    ):
        wanted = measure.made.standing is Standing.WANTED and measure.made.value == measure.read.value
        return measure.read, not wanted
    return measure.made, False
