"""How sizes are measured on the printed part: what is expected of it, and which line decides the size.

A printer leaves holes narrow: by 0.1 to 0.5 mm across in practitioners' accounts, which are not measured
series (order of magnitude only); pegs come out a little wide.  So holes have a band as printed and one after
a drill was run through."""

from __future__ import annotations

import math

from ...model import Size
from ...model.types import Fit, Said
from .amounts import Amount, amount, shown, wanted
from .types import Check, Cure, Deciding, Gauge, Limits

NARROW = 0.5  # mm that a hole may be printed too narrow
PROUD = 0.3  # mm that a peg may be printed too wide
DRILL_STEP = 0.1  # mm between drills of a set


def made(said: Said) -> Deciding:
    """The line of a size: what is to be made stands behind it."""
    return Deciding(said.bare, Cure.MADE)


def changed(said: Said) -> Deciding:
    """A line whose own number is changed."""
    return Deciding(said.text, Cure.CHANGED)


def instead(said: Said) -> Deciding:
    """A line that names a screw: the size itself is given instead."""
    return Deciding(said.text, Cure.INSTEAD)


def by_fit(fit: Fit) -> Deciding:
    """The line of what a thing is for."""
    return instead(fit.said) if fit.screw else changed(fit.said)


def plain(
    key: str, gauge: Gauge, how: str, size: Amount, line: Deciding | None = None, *, mates: bool = False
) -> Check:
    """A plain size: what was read is expected of the printed part within the general tolerance, not its
    give-or-take.
    """
    general = wanted(size.value)
    under, over = max(general.under, size.under), max(general.over, size.over)
    low, high = size.value - under, size.value + over
    narrow = NARROW if gauge is Gauge.POCKET else 0.0
    limits = Limits(low, high, low - narrow, high)
    return Check(key, gauge, how, size.value, limits, line=line, mates=mates)


def outside(name: str, word: str, size: Size | None) -> list[Check]:
    """A size of a body between outer jaws; nothing where it was not told."""
    if size is None:
        return []
    return [plain(f"{name} {word}", Gauge.SIZE, "outer jaws", amount(size), made(size.said))]


def drilled(key: str, size: Amount, each: str) -> Check:
    """A hole that is drilled out to its size: which shanks go, and the drills to run through one by one."""
    last = drill_for(size)
    steps = tuple(round(last - back * DRILL_STEP, 1) for back in (4, 2, 0) if last - back * DRILL_STEP > 0.7)
    goes = shown(math.ceil(size.low / DRILL_STEP - 1e-6) * DRILL_STEP)
    stops = shown(math.floor(size.high * 10 + 1e-6) / 10 + 0.1)
    how = f"drill shanks: {goes} goes, {stops} does not{each}"
    limits = Limits(size.low, size.high, size.low - NARROW, size.high, steps)
    return Check(key, Gauge.HOLE, how, size.value, limits)


def drill_for(size: Amount) -> float:
    """The drill of a set by tenths that leaves a hole of this size: the nearest that does not make it too
    wide.
    """
    nearest = round(size.value / DRILL_STEP) * DRILL_STEP
    if nearest > size.high + 1e-6:
        nearest = math.floor(size.high / DRILL_STEP + 1e-6) * DRILL_STEP
    return round(nearest, 1)
