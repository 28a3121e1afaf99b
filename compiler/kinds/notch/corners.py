"""Which corners of a notch are hollow corners of the part: those with material beyond them.

A notch that is open at an edge has corners there too, but they stand in the air or in the edge itself: a
round in one would leave a fin of material that nobody asked for."""

from __future__ import annotations

import math
from collections.abc import Sequence

from ...diagnostics.types import Trouble
from ...mesh.combine import block, overlap, place
from ...mesh.kernel import Solid
from ...mesh.workshop import axes
from ...places.layout import Frame
from ...quantities.vectors import XY
from .model import Notch

STEP = 1e-2  # mm: so far beyond a corner it is asked whether there is material
LEAST = 1e-9  # mm3


def closed_corners(
    hole: Notch, corners: Sequence[XY], heights: tuple[float, float], frame: Frame, around: Sequence[Solid]
) -> list[XY]:
    """The corners (on the page of `frame`) beyond which one of these solids has material at the notch's
    heights.  Raises Trouble('no-corner') where there is none.
    """
    middle = (sum(x for x, _ in corners) / len(corners), sum(y for _, y in corners) / len(corners))
    found = [at for at in corners if _closed(at, middle, frame, heights, around)]
    if not found:
        raise Trouble(
            "no-corner",
            f"notch `{hole.name}` is open at all of its corners: there is none to round",
            (hole.name,),
            advice=("leave `round inside` out, or let the notch end inside the body",),
        )
    return found


def _closed(at: XY, middle: XY, frame: Frame, heights: tuple[float, float], around: Sequence[Solid]) -> bool:
    x, y = at[0] - middle[0], at[1] - middle[1]
    far = 2.0 * STEP / math.hypot(x, y)
    x, y = at[0] + far * x, at[1] + far * y
    probe = block(
        (x - 0.5 * STEP, y - 0.5 * STEP, heights[0]), (x + 0.5 * STEP, y + 0.5 * STEP, heights[1]), 0
    )
    placed = place(probe, frame.origin, axes(frame))
    return any(overlap(placed, solid) > LEAST for solid in around)
