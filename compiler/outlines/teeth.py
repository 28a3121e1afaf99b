"""Outlines with teeth all round: serrations (pointed), splines (straight sides along the radius)."""

from __future__ import annotations

import math

from ..diagnostics.types import Trouble
from ..model.sections import ToothedSection
from ..quantities.vectors import XY
from .plane import at_angle
from .types import Bend, Edge, Path, Straight

FEWEST, MOST = 3, 360


def toothed(section: ToothedSection, centre: XY, label: int = 0, crown: float | None = None) -> Path:
    """An outline of teeth, crowns at the radius r of the section, floors its depth d below; a tooth points in
    the direction it is turned to.

    Serrated: straight flanks from crown to floor, area n r (r - d) sin(pi / n).  Splines: tooth and gap of
    one angle, area pi (r^2 + (r - d)^2) / 2.  `crown` puts the crowns of splines further out than their
    flanks begin.  Trouble: 'bad-count', 'bad-size'."""
    radius, deep, count, turn = section.radius, section.depth, section.count, section.turn
    if not FEWEST <= count <= MOST:
        raise Trouble(
            "bad-count", f"{count} teeth can't be drawn round it", advice=(f"from {FEWEST} to {MOST} teeth",)
        )
    if not 0.0 < deep < radius:
        raise Trouble(
            "bad-size",
            f"teeth {deep:g} deep leave nothing of a round of {2 * radius:g}",
            advice=("make them less deep",),
        )
    pitch, floor = math.tau / count, radius - deep
    if not section.splines:
        tips = [
            at_angle(centre, radius if k % 2 == 0 else floor, turn + 0.5 * k * pitch)
            for k in range(2 * count)
        ]
        return tuple(Straight(a, b, label) for a, b in zip(tips, [*tips[1:], tips[0]], strict=True))
    edges: list[Edge] = []
    top = radius if crown is None else crown
    for k in range(count):
        first, last, end = (turn + (k + share) * pitch for share in (-0.25, 0.25, 0.75))
        a, b = at_angle(centre, top, first), at_angle(centre, top, last)
        c, d = at_angle(centre, floor, last), at_angle(centre, floor, end)
        following = (
            at_angle(centre, top, turn + (k + 1 - 0.25) * pitch)
            if k + 1 < count
            else at_angle(centre, top, turn - 0.25 * pitch)
        )
        edges += [
            Bend(centre, top, a, b, 0.5 * pitch, label),
            Straight(b, c, label),
            Bend(centre, floor, c, d, 0.5 * pitch, label),
            Straight(d, following, label),
        ]
    return tuple(edges)
