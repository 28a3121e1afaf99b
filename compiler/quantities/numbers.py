"""Numbers as they enter the language: value in mm, degrees or newtons, standard uncertainty, and standing."""

from __future__ import annotations

import math
import re
from enum import Enum, IntEnum

from msgspec import Struct


class Standing(IntEnum):
    """How much a number is worth: read off the part, wanted by design, or about (made to look right).

    The order is that of weakness: in a sum the weakest wins.
    """

    READ = 0
    WANTED = 1
    ABOUT = 2


class Unit(Enum):
    """What a number measures.  PLAIN is a bare number: it takes the unit of the place it stands in."""

    PLAIN = "a bare number"
    LENGTH = "a length"
    ANGLE = "an angle"
    FORCE = "a force"
    SHARE = "a percentage"


class Quantity(Struct, frozen=True):
    """A number: value (mm, degrees, N or plain), standard uncertainty u in the same unit (0: exact),
    standing, unit.
    """

    value: float
    u: float = 0.0
    standing: Standing = Standing.WANTED
    unit: Unit = Unit.PLAIN


# 1 inch = 25.4 mm exactly (international inch, 1959); 1 kg weighs 9.80665 N (standard gravity, ISO 80000-3).
# Quotients of whole numbers: dividing whole numbers rounds once, so a value is the nearest double.
_UNITS = {
    "": ((1, 1), Unit.PLAIN),
    "mm": ((1, 1), Unit.LENGTH),
    "cm": ((10, 1), Unit.LENGTH),
    "in": ((254, 10), Unit.LENGTH),
    "deg": ((1, 1), Unit.ANGLE),
    "\u00b0": ((1, 1), Unit.ANGLE),
    "N": ((1, 1), Unit.FORCE),
    "kg": ((980665, 100000), Unit.FORCE),
    "%": ((1, 1), Unit.SHARE),
}
_NUMBER = re.compile(r"(?:(\d+)[ -])?(?:(\d+)/(\d+)|(\d+(?:\.\d*)?|\.\d+))\s?(mm|cm|in|deg|kg|N|\u00b0|%)?")


def parse_number(text: str) -> tuple[float, Unit]:
    """Value and unit of a number as typed: `4.0`, `5-1/4 in`, `30 deg`.  Raises ValueError for anything else.

    The value is the double nearest to the exact one, so `1/4 in` and `6.35` are the same number.
    """
    seen = _NUMBER.fullmatch(text)
    if seen is None or len(text) > 40:
        raise ValueError(text)
    whole, above, below, plain, unit = seen.groups()
    if plain is not None:
        before, _, after = plain.partition(".")
        over, under = int(before + after), 10 ** len(after)
    else:
        if int(below) == 0:
            raise ValueError(text)
        over, under = int(above) + int(whole or 0) * int(below), int(below)
    (up, down), kind = _UNITS[unit or ""]
    return (over * up) / (under * down), kind


def combine(sign: str, left: Quantity, right: Quantity) -> Quantity:
    """left + - * / right, uncertainties taken as independent (JCGM 100, 5.1.2); the weakest standing wins.

    Raises ValueError with plain words where units don't go together, ZeroDivisionError for a division by
    nothing."""
    standing = max(left.standing, right.standing)
    if sign in "+-":
        units = {left.unit, right.unit} - {Unit.PLAIN}
        if len(units) > 1:
            raise ValueError(f"{left.unit.value} and {right.unit.value} can't be added")
        value = left.value + right.value if sign == "+" else left.value - right.value
        return Quantity(value, math.hypot(left.u, right.u), standing, units.pop() if units else Unit.PLAIN)
    if sign == "*":
        if Unit.PLAIN not in (left.unit, right.unit):
            raise ValueError(f"{left.unit.value} times {right.unit.value} is no size")
        unit = right.unit if left.unit is Unit.PLAIN else left.unit
        u = math.hypot(left.u * right.value, right.u * left.value)
        return Quantity(left.value * right.value, u, standing, unit)
    if right.value == 0:
        raise ZeroDivisionError
    if right.unit is not Unit.PLAIN and right.unit is not left.unit:
        raise ValueError(f"{left.unit.value} divided by {right.unit.value} is no size")
    unit = Unit.PLAIN if right.unit is left.unit else left.unit
    value = left.value / right.value
    return Quantity(value, math.hypot(left.u / right.value, value * right.u / right.value), standing, unit)
