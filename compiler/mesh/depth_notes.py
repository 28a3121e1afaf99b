"""From which flat a hole's depth is counted where a zone changed that flat: the one measured, never the one
the zone made.
"""

from __future__ import annotations

from ..diagnostics.types import Diagnostic, Label, Severity
from ..facts import ZONES, Claim, Entry, Ref
from ..facts.types import FLATS
from ..places.layout import Spot
from .holes import Holes
from .kernel import Solid
from .standing import surface, zoned


def counted(holes: Holes, hole: Entry, body: str, tool: Solid, solid: Solid) -> list[Diagnostic]:
    """A note for each depth of a hole that counts from a flat of this body which a zone raised or lowered
    there.

    `tool` cuts the hole, `solid` is the body with its zones and without its holes."""
    found = []
    for claim in (
        (*hole.all("deep"), *hole.all("counterbore", "countersink")) if zoned(holes.claims, body) else ()
    ):
        ref = _flat(holes, hole, claim)
        if ref.name != body or ref.part not in FLATS:
            continue
        spot = holes.layout.spots[hole.name]
        height, out = holes.flat_of(ref, hole, spot)
        mouth = Spot(spot.page, spot.at, height, out)
        over, faces = surface(tool, solid, holes.layout.frames[spot.page], mouth, holes.marks)
        zones = sorted(
            one for one in faces if one in holes.claims.entries and holes.claims.entries[one].kind in ZONES
        )
        if over and zones:
            found.append(_told(hole, claim, ref, over, holes.claims.entries[zones[0]]))
    return found


def _flat(holes: Holes, hole: Entry, claim: Claim) -> Ref:
    """The flat that a depth is counted from: the one it names, the one the hole is on, or the front of its
    body.
    """
    ref = claim.get("thing")
    if not isinstance(ref, Ref):
        flats = [one.ref("thing") for one in hole.all("on") if holes.pages.is_flat(one.ref("thing"))]
        ref = flats[0] if flats else Ref("", "front", claim.span)
    return ref if ref.name else Ref(holes.owners(hole)[0], ref.part, ref.span)


def _told(hole: Entry, claim: Claim, ref: Ref, over: float, zone: Entry) -> Diagnostic:
    made = "raises" if over > 0 else "lowers"
    said = (
        f"`{claim.text}` of {hole.kind} `{hole.name}` counts from "
        f"`{ref}` as measured; zone `{zone.name}` {made} it there "
    )
    said += f"by {abs(over):.4g}"
    if claim.word == "deep":
        said += f", so the hole is {claim.number('size') + over:.4g} deep in all"
    plane = f"{'raised' if over > 0 else 'dropped'} {abs(over):.4g} from {ref}"
    advice = (f"to count from where it is now, say it of a plane there:  plane NAME   with   {plane}",)
    return Diagnostic(
        "depth-as-measured",
        Severity.NOTE,
        said,
        hole.span,
        others=(Label(zone.span, "this changes the flat"),),
        advice=advice,
    )
