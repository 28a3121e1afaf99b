"""Bodies drawn straight out of their plane from an outline, their far flat perhaps sloping."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ..diagnostics.types import Trouble, at_fault
from ..model.types import Prism, Slope
from ..outlines import Region
from ..places.leaning import height_over
from ..quantities.vectors import along
from .combine import trim
from .kernel import Solid
from .prisms import EndBevels, prism

if TYPE_CHECKING:
    from .workshop import Workshop

PROUD = 1e-6  # mm
OVER = 1.0
"""How far (mm) a body that tapers is built past its sloping flat, so that the cut leaves nothing of the
end.
"""


def drawn(shop: Workshop, body: Prism, region: Region) -> Solid:
    """A prism in space, drawn from `region` on its plane.  Raises Trouble: 'not-square' for a bevel on a flat
    that slopes, and as `prism` does."""
    low, high = body.low, body.high
    if body.slope is not None:
        low, high = _room(body, body.slope, region)
    front, back, bevel = (shop.marks.of(body.name, face) for face in ("front", "back", "bevel"))
    with at_fault(body.bevels.line, "bevel-too-large"):
        bevels = EndBevels(body.bevels.front, body.bevels.back, bevel)
        solid = prism(region, low, high, front, back, bevels)
    placed = shop.placed(solid, body.frame)
    if body.slope is None:
        return placed
    part = body.slope.part
    flat = shop.model.flats[f"{body.name}.{part}"].flat
    # what stands on a flat that slopes would hang a rounding error over it
    proud = PROUD if body.slope.spoken_of else 0.0
    return trim(placed, along(flat.point, (flat.normal, proud)), flat.normal, shop.marks.of(body.name, part))


def _room(body: Prism, slope: Slope, region: Region) -> tuple[float, float]:
    """From where to where a body that tapers has to be built before its sloping flat is cut."""
    bevel = body.bevels.front if slope.part == "front" else body.bevels.back
    if bevel:
        other = "back" if slope.part == "front" else "front"
        raise Trouble(
            "not-square",
            f"the {slope.part} of `{body.name}` slopes, so its edge can't be bevelled",
            (body.name,),
            advice=(f"bevel the other flat: bevel {bevel:g} at {other}",),
        )
    ends = [
        height_over(body.frame, slope.plane, (float(x), float(y)))
        for ring in region.rings
        for x, y in ring.points
    ]
    bottom, top = (body.low, max(ends)) if slope.part == "front" else (min(ends), body.high)
    if top - bottom <= PROUD:
        return body.low, body.low
    return (body.low, top + OVER) if slope.part == "front" else (bottom - OVER, body.high)
