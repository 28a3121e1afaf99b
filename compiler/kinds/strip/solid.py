"""A strip as a solid: one thickness bent along its path, as wide as it says."""

from __future__ import annotations

from ...diagnostics.types import at_fault
from ...mesh.drawn import drawn
from ...mesh.kernel import Solid
from ...mesh.workshop import Workshop
from ...outlines import Region, canonical, facet
from ...outlines.outline_paths import NO_OUTLINE, corner_stop
from ...outlines.strips import strip, strip_side
from .model import Strip


def build(shop: Workshop, body: Strip) -> Solid:
    """The strip in space.  Raises Trouble as `region` and `drawn` do."""
    return drawn(shop, body, shop.region(body.name))


def region(shop: Workshop, body: Strip) -> Region:
    """The outline of a strip bent along its path.  Raises Trouble as `strip` does."""
    stops = [corner_stop(stop, shop.marks) for stop in body.stops]
    faces = [shop.marks.of(body.name, face) for face in ("left side", "right side", "start", "end")]
    with at_fault(None if body.side_said is None else body.side_said.span, "straight-path"):
        side = strip_side(body.side, [stop.at for stop in body.stops])
    bend, bend_line = 0.0, None
    if body.turns_inside is not None:
        bend, bend_line = body.turns_inside.value, body.turns_inside.said.span
    with at_fault(bend_line, "bend-too-tight"), at_fault(body.path_said.span, *NO_OUTLINE):
        outline = strip(stops, body.thick.value, side, bend, (faces[0], faces[1], faces[2], faces[3]))
    return canonical([facet(outline, shop.chord)])
