"""Round sizes a reading may stand for (5.97 -> 6): offered, never applied.

A round size is offered where the value lies within its expanded uncertainty of it and where that means
something: values within reach of SOME multiple of the step by chance must be the lesser part.  Coarser steps
are tried first.  Common practice, no source: things are designed in whole and half mm, or in sixteenths and
thirty-seconds of an inch."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence

from msgspec import Struct

from .chances import COVER

INCH = 25.4
METRIC = (10.0, 5.0, 1.0, 0.5)
INCHES = (INCH / 4, INCH / 8, INCH / 16, INCH / 32)
BY_CHANCE = 0.5


class RoundOffer(Struct, frozen=True):
    """A round value (mm, and as it is written) for something found close to it, u its uncertainty."""

    name: str
    value: float
    offer: float
    words: str
    u: float


def _inch_words(value: float) -> str:
    parts = round(value / (INCH / 32))
    whole, rest = divmod(parts, 32)
    if not rest:
        return f"{whole}in"
    share = math.gcd(rest, 32)
    fraction = f"{rest // share}/{32 // share}"
    return f"{whole}-{fraction}in" if whole else f"{fraction}in"


def round_offers(
    values: Iterable[tuple[str, float, float]], steps: Sequence[float] = METRIC, inches: bool = False
) -> tuple[RoundOffer, ...]:
    """Offers for (name, value, u) in mm, in the order given; none where the value is round already or u says
    too little.

    `inches` tries fractions of an inch where no step in mm fits."""
    found = []
    for name, value, u in values:
        if not math.isfinite(value) or not math.isfinite(u):
            continue
        for step in (*steps, *(INCHES if inches else ())):
            reach = COVER * u
            near = round(value / step) * step
            off = value - near
            if near == 0 or abs(off) > reach or 2 * reach > BY_CHANCE * step:
                continue
            if abs(off) > 5e-7:
                words = _inch_words(near) if step in INCHES else f"{near:g}"
                found.append(RoundOffer(name, value, round(near, 6), words, u))
            break
    return tuple(found)
