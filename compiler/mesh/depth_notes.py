"""From which flat a hole's depth is counted where a zone changed that flat: the one measured, never the one
the zone made.
"""

from __future__ import annotations

from collections.abc import Iterator

from ..diagnostics.types import Diagnostic, Label, Severity
from ..kinds.types import FLATS
from ..model.holes import Hole
from ..model.types import Depth, Mouth, Thing
from ..model.zones import Zone
from ..places.layout import Spot
from .kernel import Solid
from .standing import surface
from .workshop import Workshop


def counted(shop: Workshop, hole: Hole, body: str, tool: Solid, solid: Solid) -> Iterator[Diagnostic]:
    """A note for each depth of a hole that counts from a flat of this body which a zone raised or lowered
    there.

    `tool` cuts the hole, `solid` is the body with its zones and without its holes."""
    things, spot = shop.model.things, hole.placed
    for one in (hole.depth, hole.mouth):
        flat = "" if one is None else one.flat or hole.on_flat
        if one is None or flat not in {f"{body}.{part}" for part in FLATS}:
            continue
        start = Spot(spot.plane, spot.at, one.start, one.out)
        over, faces = surface(tool, solid, shop.model.frame(hole), start, shop.marks)
        zones = sorted(each for each in faces if isinstance(things.get(each), Zone))
        if over and zones:
            yield _told(hole, one, flat, over, things[zones[0]])


def _told(hole: Hole, one: Depth | Mouth, flat: str, over: float, zone: Thing) -> Diagnostic:
    made = "raises" if over > 0 else "lowers"
    said = (
        f"`{one.said.text}` of {hole.noun} `{hole.name}` counts from "
        f"`{flat}` as measured; zone `{zone.name}` {made} it there by {abs(over):.4g}"
    )
    if isinstance(one, Depth):
        said += f", so the hole is {one.size.value + over:.4g} deep in all"
    plane = f"{'raised' if over > 0 else 'dropped'} {abs(over):.4g} from {flat}"
    advice = (f"to count from where it is now, say it of a plane there:  plane NAME   with   {plane}",)
    return Diagnostic(
        "depth-as-measured",
        Severity.NOTE,
        said,
        hole.span,
        others=(Label(zone.span, "this changes the flat"),),
        advice=advice,
    )
