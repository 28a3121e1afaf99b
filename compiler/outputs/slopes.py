"""How steep a plane that leans is, and the sloping flat of a body that tapers: they were told by two
heights.
"""

from __future__ import annotations

import math

from msgspec import Struct

from ..model import Model
from ..model.things import Plane
from ..model.types import Prism
from ..places.layout import Frame
from ..quantities.vectors import dot


class SlopeAngle(Struct, frozen=True):
    """A slope: whose, in which word (`leans`, `taper`), its degrees from what the heights are read from, its
    frame and of that, before the part is finished."""

    name: str
    word: str
    degrees: float
    frame: Frame
    under: Frame


def slopes(model: Model) -> tuple[SlopeAngle, ...]:
    """Every plane that leans and every body that tapers."""
    found = []
    for thing in model.things.values():
        if not isinstance(thing, Plane | Prism) or thing.slope is None:
            continue
        under = model.frames.get(thing.under if isinstance(thing, Plane) else thing.plane)
        if under is not None:
            frame = thing.slope.plane
            turn = math.degrees(math.acos(min(1.0, abs(dot(frame.out, under.out)))))
            found.append(SlopeAngle(thing.name, thing.slope.said.word, turn, frame, under))
    return tuple(found)
