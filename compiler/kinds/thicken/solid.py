"""A thickened zone as solids: a pad on each of its flats, or what a mesh grows by there."""

from __future__ import annotations

from ...diagnostics.types import at_fault
from ...mesh.combine import common, join, place, remove
from ...mesh.kernel import Solid
from ...mesh.prisms import PadHeights, prism, ramped
from ...mesh.workshop import Workshop, axes
from ...mesh.zoning import FAR_OUT, Worked, in_place, layer, step_of, top_of, worked
from ...model.brought import Brought
from ...outlines import canonical
from .. import needed_file
from .model import Thicken


def build(shop: Workshop, zone: Thicken) -> list[Solid]:
    """The pads in space, one for each flat and copy, within the outline of the body.

    Raises Trouble as `worked`, `step_of`, `layer` and `ramped` do."""
    work = worked(shop, zone)
    if isinstance(work.body, Brought):
        return in_place(work, [layer(shop, work, face, _layered) for face in zone.flats])
    found = in_place(work, [_pad(shop, work, face, step_of(work)) for face in zone.flats])
    frame, label = work.body.frame, shop.marks.of(zone.name, "end")
    walls = prism(work.outline, work.body.low - FAR_OUT, work.body.high + FAR_OUT, label, label)
    walls = place(walls, frame.origin, axes(frame))
    return [common(solid, walls) for solid in found]


def _pad(shop: Workshop, work: Worked, face: str, step: float) -> Solid:
    low, high, label = work.body.low, work.body.high, shop.marks.of(work.zone.name, face)
    foot, top = (high, high + step) if face == "front" else (low, low - step)
    ramp = work.zone.ramp
    with at_fault(None if ramp is None else ramp.said.span, "ramp-too-long"):
        return ramped(work.region, PadHeights(foot, top, 0.5 * (low + high)), work.ramp, label)


def _layered(work: Worked, solid: Solid, low: float, high: float, label: int) -> tuple[Solid, Solid]:
    layers = needed_file("blank", "layers")
    by, regions = work.zone.by, [canonical([part]) for part in work.parts]
    if by is not None:
        found = join([layers.raised(solid, region, by.value, work.ramp, label) for region in regions])
    else:
        top = top_of(work, low, high)
        found = join([layers.filled(solid, region, top, label) for region in regions])
    return found, remove(found, [solid])
