"""How steep a plane that leans is, and the sloping flat of a body that tapers: they were told by two
heights.
"""

from __future__ import annotations

import math

from msgspec import Struct

from ..facts import Claims
from ..facts.extents import tapered
from ..model import Model
from ..places.layout import Frame, Layout
from ..places.planes import Pages
from ..quantities.vectors import dot


class Slope(Struct, frozen=True):
    """A slope: whose, in which word (`leans`, `taper`), its degrees from what the heights are read from, its
    frame and of that, before the part is finished."""

    name: str
    word: str
    degrees: float
    frame: Frame
    under: Frame


def slopes(model: Model, claims: Claims, layout: Layout) -> tuple[Slope, ...]:
    """Every plane that leans and every body that tapers."""
    pages, found = Pages(claims, layout), []
    for entry in claims.of_kind("plane", "block", "plate"):
        claim = entry.one("leans") if entry.kind == "plane" else tapered(entry)
        if claim is None:
            continue
        page = pages._lean(claim)[0] if entry.kind == "plane" else pages.stand(entry.name)[0]
        flat = pages.tapered_flat(entry.name)
        frame, under = pages.frame(f"{entry.name}.{flat}" if flat else entry.name), layout.frames.get(page)
        if frame is not None and under is not None:
            turn = math.degrees(math.acos(min(1.0, abs(dot(frame.out, under.out)))))
            found.append(Slope(entry.name, claim.word, turn, frame, under))
    return tuple(found)
