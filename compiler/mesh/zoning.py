"""Zones of a body: what a kind of zone needs to make its pads or cutters.

A zone never leaves the outline of its body.  Where thickened zones overlap the greatest thickness holds, not
the sum; where a relieved zone meets a thickened one it cuts both; of two relieved zones the deeper one holds.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Callable
from typing import TYPE_CHECKING

from msgspec import Struct

from ..diagnostics.types import Trouble
from ..kinds.types import FLATS
from ..model import Body
from ..model.brought import Brought
from ..model.holes import Hole
from ..model.types import Prism
from ..model.zones import Band, CollarAt, Inside, LineBand, Zone
from ..outlines import Region, canonical, circle, extent, facet, merge
from ..outlines import common as shared
from ..outlines.marks import Marks
from ..outlines.shape_paths import box_path, shape_path
from ..outlines.shapes import web
from ..outlines.types import Ring
from ..places.layout import Move
from .combine import mirrored, moved, place
from .hole_tools import begins_inside
from .kernel import Solid
from .workshop import axes

if TYPE_CHECKING:
    from .workshop import Workshop

FAR_OUT = 1e3
LEAST = 1e-3  # mm3
EXACT = 1e-9  # mm


class Worked(Struct, frozen=True):
    """A zone at work: its body, the body's outline on its plane, the zone's area in convex parts and as
    one."""

    zone: Zone
    body: Prism | Brought
    outline: Region
    parts: tuple[Ring, ...]
    region: Region

    @property
    def thick(self) -> float:
        """How thick the body is, mm."""
        return self.body.high - self.body.low

    @property
    def ramp(self) -> float:
        """How far (mm) its edge runs out."""
        return 0.0 if self.zone.ramp is None else self.zone.ramp.value


def worked(shop: Workshop, zone: Zone) -> Worked:
    """A zone and the body it works on.  Raises Trouble: 'wrong-kind', 'edge-on', 'not-square',
    'zone-outside', 'zone-does-nothing', 'outline-too-short', and what the outline of the body raises."""
    body = _worked_on(shop, zone)
    _wider_than_its_hole(shop, zone, body)
    if isinstance(body, Brought):
        box = box_path(body.placed.at, body.half, (), body.name, shop.marks)
        outline = canonical([facet(box, shop.chord)])
    else:
        outline = shop.region(body.name)
    parts = _parts(zone, outline, shop.marks.of(zone.name, "side"), shop.marks, shop.chord)
    region = merge(parts) if len(parts) > 1 else canonical(parts)
    try:
        shared(region, outline)
    except Trouble:
        raise Trouble(
            "zone-outside",
            f"zone `{zone.name}` lies wholly outside `{body.name}`",
            (zone.name,),
            advice=("check where it is: its place is read on the same plane as the body",),
            span=zone.area_said.span,
        ) from None
    return Worked(zone, body, outline, tuple(parts), region)


def _wider_than_its_hole(shop: Workshop, zone: Zone, body: Body) -> None:
    """Raise Trouble('zone-does-nothing') for a collar that the hole it goes round takes away again.  One with
    a ramp may be as wide as its hole: its ramp begins there.
    """
    hole = shop.model.things.get(zone.about[0].thing) if isinstance(zone.area, CollarAt) else None
    if not isinstance(zone.area, CollarAt) or not isinstance(hole, Hole) or hole.across_made is None:
        return
    bore, over = hole.across_made, zone.area.across - hole.across_made
    if over > EXACT or (over > -EXACT and zone.ramp is not None):
        return
    if body.name in hole.owners and all(_open_at(hole, body, flat) for flat in zone.flats):
        raise Trouble(
            "zone-does-nothing",
            f"the collar of zone `{zone.name}` is {zone.area.across:g} wide and {hole.noun} `{hole.name}` is "
            f"{bore:g}: nothing of it is left round the hole",
            (zone.name,),
            advice=(f"the size is that over all of the collar: more than {bore:g}",),
            span=zone.area_said.span,
        )


def _open_at(hole: Hole, body: Body, flat: str) -> bool:
    """Whether a hole on the plane of a body is open at its front or back."""
    if hole.depth is None:
        return True
    start, out, height = hole.depth.start, hole.depth.out, body.high if flat == "front" else body.low
    beyond = start if begins_inside(hole.depth, body.low, body.high) else out * FAR_OUT
    ends = start - out * hole.depth.size.value, beyond
    return min(ends) + EXACT < height < max(ends) - EXACT


def _worked_on(shop: Workshop, zone: Zone) -> Prism | Brought:
    body = shop.body(zone.body)
    if not (isinstance(body, Prism) or (isinstance(body, Brought) and body.scanned)):
        advice = (f"join a plate or block to a side of it: on {body.name}.front",)
        raise Trouble(
            "wrong-kind",
            f"zone `{zone.name}` works on a plate, block, strip or blank, but `{body.name}` is a {body.noun}",
            (zone.name,),
            advice=advice if isinstance(body, Brought) else (),
        )
    if zone.part not in ("", *FLATS):
        advice = ("grow its outline instead, or make the block larger on that side",)
        if isinstance(body, Brought):
            advice = (f"lies on {zone.part}   lays it on that side: then this is its back",)
        raise Trouble(
            "edge-on",
            f"`{zone.on}` is a side: your {body.noun} is seen edge-on there",
            (zone.name,),
            advice=advice,
            span=zone.on_said.span,
        )
    if isinstance(body, Prism) and body.slope is not None and body.slope.part in zone.flats:
        raise Trouble(
            "not-square",
            f"zone `{zone.name}` works on a flat that slopes: `{body.name}` tapers",
            (zone.name,),
            advice=("work on the other flat, or put a block on the sloping one",),
        )
    return body


def _parts(zone: Zone, outline: Region, label: int, marks: Marks, chord: float) -> list[Ring]:
    """The flat area of a zone in parts without hollows: a band, a collar, or the inside of a shape."""
    match zone.area:
        case CollarAt(at, across):
            return [facet(circle(at, 0.5 * across, label), chord)]
        case Inside(shape):
            return [facet(shape_path(shape, marks), chord)]
        case LineBand() as band:
            return [facet(web(*_ends(band, outline), band.wide, label), chord)]
        case Band(places, wide):
            if len(places) < 2:
                raise Trouble(
                    "outline-too-short",
                    "a band runs along a line, or along two things or more",
                    advice=("along a, b wide 6.0",),
                )
            bars = [facet(web(a, b, wide, label), chord) for a, b in itertools.pairwise(places)]
            return [*bars, *(facet(circle(at, 0.5 * wide, label), chord) for at in places[1:-1])]


def _ends(band: LineBand, outline: Region) -> tuple[tuple[float, float], tuple[float, float]]:
    """The ends of a band along a line, beyond the outline on both sides."""
    low, high = extent(outline)
    across = math.hypot(high[0] - low[0], high[1] - low[1])
    reach = across + band.wide + math.hypot(*low) + math.hypot(*high)
    (x, y), (way_x, way_y) = band.foot, band.way
    return (x + way_x * reach, y + way_y * reach), (x - way_x * reach, y - way_y * reach)


def step_of(work: Worked) -> float:
    """How much is added to (or taken off) each flat of a body drawn from an outline, in mm.

    Raises Trouble('zone-does-nothing')."""
    zone = work.zone
    if zone.by is not None:
        return zone.by.value
    assert zone.overall is not None
    overall = zone.overall.value
    step = (overall - work.thick if zone.adds else work.thick - overall) / len(zone.flats)
    if step <= 0:
        word = "thicker" if zone.adds else "thinner"
        raise Trouble(
            "zone-does-nothing",
            f"zone `{zone.name}` asks for {overall:g} overall, but the body is "
            f"{work.thick:g} thick: nothing becomes {word}",
            (zone.name,),
            span=zone.how.span,
        )
    return step


def leaves_some(work: Worked, step: float) -> None:
    """Raise Trouble('zone-too-deep') where a zone takes off all of its body; one with a ramp may just come
    through.
    """
    if step >= work.thick + (EXACT if work.ramp else -EXACT):
        raise Trouble(
            "zone-too-deep",
            f"zone `{work.zone.name}` takes off {step:g} of {work.thick:g}: nothing would be left",
            (work.zone.name,),
            advice=("make a hole of it: a notch, a bore or a slot",),
            span=work.zone.how.span,
        )


def top_of(work: Worked, low: float, high: float) -> float:
    """The height of the plane that a zone brings the surface of a mesh to, which lies between two heights.

    Raises Trouble('ramp-too-long')."""
    zone = work.zone
    assert zone.overall is not None
    if zone.ramp is not None and zone.ramp.value:
        raise Trouble(
            "ramp-too-long",
            f"zone `{zone.name}` brings a mesh to one height, wherever it lies: how far down "
            "its ramp would run is not known",
            (zone.name,),
            advice=("say how much:  by 2.0   or leave the ramp out",),
            span=zone.ramp.said.span,
        )
    overall = zone.overall.value
    return low + overall if len(zone.flats) == 1 else 0.5 * (low + high + overall)


Layered = Callable[[Worked, Solid, float, float, int], tuple[Solid, Solid]]
"""A zone, the mesh seen from above, its heights, the label of the zone: what it adds or cuts, what changes by
that."""


def layer(shop: Workshop, work: Worked, face: str, layered: Layered) -> Solid:
    """What a zone adds to a mesh that was brought in, or cuts of it, on one of its faces; in the frame of its
    plane.

    The surface as seen from that face moves by as much, so the layer has its shape; `to` is a height over the
    box.  Raises Trouble('zone-does-nothing')."""
    body, label = work.body, shop.marks.of(work.zone.name, face)
    solid = shop.bare_stock(body)
    low, high = (body.low, body.high) if face == "front" else (-body.high, -body.low)
    solid = solid if face == "front" else mirrored(solid, 2)
    found, changes = layered(work, solid, low, high, label)
    if changes.volume() <= LEAST:
        zone = work.zone
        raise Trouble(
            "zone-does-nothing",
            f"zone `{zone.name}` changes nothing of `{body.name}` seen from its {face}",
            (zone.name,),
            advice=("check its place and its size",),
            span=None if zone.overall is None else zone.how.span,
        )
    return found if face == "front" else mirrored(found, 2)


def in_place(work: Worked, solids: list[Solid]) -> list[Solid]:
    """What a zone makes in the frame of its body's plane, in space, and its copies on the same body."""
    frame = work.body.frame
    found = [place(solid, frame.origin, axes(frame)) for solid in solids]
    return [*found, *(moved(solid, move) for move in _moves(work.zone, work.body) for solid in found)]


def _moves(zone: Zone, body: Body) -> tuple[Move, ...]:
    """Where else the zone lies on its body: a body that is copied together with it takes its own zone
    along.
    """
    return () if zone.copies and body.copies == zone.copies else zone.copies
