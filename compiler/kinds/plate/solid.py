"""A plate as a solid: its outline, grown and rounded, drawn out of its plane."""

from __future__ import annotations

from ...diagnostics.types import at_fault
from ...mesh.drawn import drawn
from ...mesh.kernel import Solid
from ...mesh.workshop import Workshop
from ...outlines import Region, canonical, facet
from ...outlines.outline_paths import NO_OUTLINE, eased, grown, outlined, rounded
from .model import Plate


def build(shop: Workshop, body: Plate) -> Solid:
    """The plate in space.  Raises Trouble as `region` and `drawn` do."""
    return drawn(shop, body, shop.region(body.name))


def region(shop: Workshop, body: Plate) -> Region:
    """The outline of a plate on its plane.  Raises Trouble as `outlined`, `grown` and `rounded` do."""
    name, marks, chord = body.name, shop.marks, shop.chord
    with at_fault(body.outline_said.span, *NO_OUTLINE):
        shape = outlined(body.outline, name, marks, chord)
    shape = grown(shape, body.grown, chord, marks.of(name, "side"))
    shape = rounded(shape, body.corners, name, marks, chord)
    if isinstance(shape, Region):
        return shape
    return canonical([eased(shape, chord) if body.bevels.said else facet(shape, chord)])
