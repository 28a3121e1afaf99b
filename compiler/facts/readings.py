"""Readings with their give-or-take (by what is said of them, by the tool, by the digits typed), averaged."""

from __future__ import annotations

import math
from collections.abc import Mapping

from ..diagnostics import nearest
from ..diagnostics.types import Span
from ..language.items import Expression, Numeral, Reading, SizeValue, Word
from ..language.slots import NumberRule
from ..quantities import Quantity, Standing, Unit
from ..quantities.tables.instruments import INSTRUMENTS
from ..tree.types import Fact
from .naming import Names
from .sums import Sums
from .types import SingleReading

LIMIT_OF_DIGITS = 0.05
_BARE = {
    Unit.LENGTH: "a bare number is in mm",
    Unit.ANGLE: "a bare number is in degrees",
    Unit.FORCE: "a bare number is in newtons",
    Unit.PLAIN: "leave the unit out: a count or a factor has none",
}
_ROUGHER = {"rough": 2.0, "worn": 4.0, "doubtful": 4.0}


class Readings(Sums):
    """Works out readings for one recipe.  `give` is the standard uncertainty of a length read of which
    nothing is said, `give_stated` whether the recipe states it; `limits` the limit of each tool."""

    def __init__(self, names: Names, given: Mapping[str, Quantity]) -> None:
        super().__init__(names, given)
        self.give = LIMIT_OF_DIGITS / math.sqrt(3)
        self.give_stated = False
        self.limits = {one.name: one.limit for one in INSTRUMENTS.values()}

    def all_read_to(self, limit: float) -> None:
        """Take a limit (mm) for every reading of a length of which nothing is said."""
        self.give = limit / math.sqrt(3)
        self.give_stated = True

    def reading(
        self, reading: Reading, standing: Standing = Standing.READ, unit: Unit | None = Unit.LENGTH
    ) -> Quantity:
        """One reading with its standard uncertainty: as stated (a limit, rectangular: a / sqrt 3, JCGM 100,
        4.3.7), else by its tool, else that of its unit; its condition makes it larger.  `unit`: what it must
        measure (None: anything).  Raises Unclear."""
        found = self.value(reading.counts)
        self._measures(found, unit, reading.counts.span)
        u = found.u
        if "wanted" in reading.conditions:
            standing = Standing.WANTED
        if reading.give is not None:
            give = self.value(reading.give)
            self._measures(give, unit or found.unit, reading.give.span)
            u = abs(give.value) / math.sqrt(3)
        elif reading.tool is not None:
            u = self._tool_limit(reading.tool) / math.sqrt(3)
        elif standing is Standing.READ and u == 0.0:
            u = self._usual(reading.counts, found.unit if unit is None else unit)
        for condition in reading.conditions:
            u *= _ROUGHER.get(condition, 1.0)
        weakest = Standing.ABOUT if reading.about else max(standing, found.standing)
        return Quantity(found.value, u, weakest, found.unit)

    def _usual(self, value: Expression, unit: Unit) -> float:
        """u of a reading of which nothing more is said: of an angle the protractor's, of a length the
        recipe's, else the larger of 0.05 and half the last digit typed; anything else is taken as exact."""
        if unit is Unit.ANGLE:
            return self.limits["protractor"] / math.sqrt(3)
        if unit not in (Unit.LENGTH, Unit.PLAIN):
            return 0.0
        return self.give if self.give_stated else max(self.give, _last_digit(value) / math.sqrt(3))

    def _measures(self, number: Quantity, unit: Unit | None, span: Span) -> None:
        """Raise Unclear, with a message kept, for a number in a unit that does not belong there."""
        if unit is None or number.unit in (Unit.PLAIN, unit):
            return
        advice = (_BARE[unit],)
        said = f"{number.unit.value} stands where {unit.value} belongs"
        raise self.refuse("wrong-unit", said, span, advice)

    def _tool_limit(self, tool: Word) -> float:
        if tool.text in self.limits:
            return self.limits[tool.text]
        near = nearest(tool.text, list(self.limits))
        advice = (
            "did you mean " + " or ".join(f"`by {one}`" for one in near) + "?"
            if near
            else ("it takes: by " + ", ".join(self.limits))
        )
        raise self.refuse("unknown-tool", f"nothing is read `by {tool.text}`", tool.span, (advice,))

    def averaged(
        self,
        readings: tuple[Reading, ...],
        standing: Standing = Standing.READ,
        unit: Unit | None = Unit.LENGTH,
    ) -> Quantity:
        """The mean of several readings of one size, weighted by their uncertainty (JCGM 100, F.2.3.3)."""
        some = [self.reading(one, standing, unit) for one in readings]
        if len(some) == 1:
            return some[0]
        weights = [1.0 / max(one.u, 1e-9) ** 2 for one in some]
        total = math.fsum(weights)
        value = math.fsum(weight * one.value for weight, one in zip(weights, some, strict=True)) / total
        return Quantity(value, math.sqrt(1.0 / total), max(one.standing for one in some), some[0].unit)

    def taken(self, fact: Fact) -> tuple[SingleReading, ...]:
        """The readings of a fact one by one, with their conditions (a fact that was worked out before: never
        Unclear).
        """
        found: list[SingleReading] = []
        for key, value in fact.values:
            slot = fact.slots.get(key)
            size = size_of(value) if slot is not None and slot.fill == "number" else None
            if slot is not None and slot.rule is not None and size is not None and is_read(size, slot.rule):
                for one in size.readings:
                    number = self.reading(one, Standing.READ, slot.rule.unit)
                    found.append(SingleReading(number, one.conditions, one.value.span, key))
        return tuple(found)


def size_of(value: object) -> SizeValue | None:
    """A number of the language as a size: its readings, and what it is to be made; None for what is none."""
    if isinstance(value, Reading):
        return SizeValue((value,))
    if isinstance(value, tuple):
        readings = tuple(one for one in value if isinstance(one, Reading))
        return SizeValue(readings) if readings else None
    return value if isinstance(value, SizeValue) else None


def is_read(size: SizeValue, rule: NumberRule) -> bool:
    """True where a number is a reading: by its slot, or because it was read more than once, is to be made
    otherwise, or says how it was read."""
    return (
        rule.read
        or len(size.readings) > 1
        or size.made is not None
        or any(one.measured for one in size.readings)
    )


def _last_digit(expression: Expression) -> float:
    """Half a unit of the last digit typed: 0.5 for `28`, 0.05 for `28.4`, 0 for what is no plain number of
    mm.
    """
    if not isinstance(expression, Numeral) or not expression.text.replace(".", "", 1).isdigit():
        return 0.0
    _, _, decimals = expression.text.partition(".")
    return 0.5 * 10.0 ** -len(decimals)
