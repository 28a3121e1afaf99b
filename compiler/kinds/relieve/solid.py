"""A relieved zone as solids: a cutter on each of its flats, or what a mesh loses there."""

from __future__ import annotations

from ...diagnostics.types import at_fault
from ...kinds import needed_file, own_file
from ...mesh.combine import common, join, overlap, place
from ...mesh.kernel import Solid
from ...mesh.prisms import PadHeights, prism, ramped
from ...mesh.workshop import Workshop, axes
from ...mesh.zoning import FAR_OUT, Worked, in_place, layer, leaves_some, step_of, top_of, worked
from ...model.brought import Brought
from ...model.zones import Zone
from ...outlines import canonical
from .model import Relieve

EXACT = 1e-9  # mm
UNDER = 0.02
"""So far (mm) below a relieved zone it is asked whether there is material."""
SHARE = 0.999


def build(shop: Workshop, zone: Relieve) -> list[Solid]:
    """The cutters in space, one for each flat and copy.

    Raises Trouble as `worked`, `step_of`, `leaves_some`, `layer` and `ramped` do."""
    work = worked(shop, zone)
    if isinstance(work.body, Brought):
        if zone.by is not None:
            leaves_some(work, zone.by.value)
        return in_place(work, [layer(shop, work, face, _layered) for face in zone.flats])
    return in_place(work, [_cutter(shop, work, face, step_of(work)) for face in zone.flats])


def _cutter(shop: Workshop, work: Worked, face: str, step: float) -> Solid:
    if not _carried(shop, work, face, step):
        leaves_some(work, step)
    low, high, label = work.body.low, work.body.high, shop.marks.of(work.zone.name, face)
    start, floor, end = (
        (high, high - step, high + FAR_OUT) if face == "front" else (low, low + step, low - FAR_OUT)
    )
    ramp = work.zone.ramp
    with at_fault(None if ramp is None else ramp.said.span, "ramp-too-long"):
        return ramped(work.region, PadHeights(start, floor, end), work.ramp, label)


def _carried(shop: Workshop, work: Worked, face: str, step: float) -> bool:
    """Whether thickened zones of the same body go on below a relieved one as deep as the bare body."""
    body = work.body
    if step < work.thick - EXACT:
        return False
    bottom = body.high - step if face == "front" else body.low + step
    low, high = (bottom - UNDER, bottom) if face == "front" else (bottom, bottom + UNDER)
    floor, walls = (
        place(prism(region, low, high, 0, 0), body.frame.origin, axes(body.frame))
        for region in (work.region, shop.region(body.name))
    )
    zones = [zone for zone in shop.model.of(Zone) if zone.body == body.name and zone.adds]
    pads = [pad for zone in zones for pad in _built(shop, zone)]
    bare = common(floor, walls)
    return bool(pads) and overlap(bare, join([shop.solid(body.name), *pads])) > SHARE * bare.volume()


def _built(shop: Workshop, zone: Zone) -> list[Solid]:
    own = own_file(zone.noun, "solid")
    return list(own.build(shop, zone)) if own is not None else []


def _layered(work: Worked, solid: Solid, low: float, high: float, label: int) -> tuple[Solid, Solid]:
    by, regions = work.zone.by, [canonical([part]) for part in work.parts]
    if by is not None:
        lowered = needed_file("blank", "layers").lowered
        found = join([lowered(solid, region, by.value, work.ramp, label) for region in regions])
    else:
        top = top_of(work, low, high)
        found = join([prism(region, top, high + FAR_OUT, label, label) for region in regions])
    return found, common(found, solid)
