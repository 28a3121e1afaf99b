"""The racks of a block: how large their teeth are, by themselves or by their wheel, how many, and where they
stand.
"""

from __future__ import annotations

from msgspec import Struct

from ..diagnostics.types import Trouble
from ..quantities.racks import Rack
from .gear_readings import lean_of
from .gears import BACKLASH, found_by_itself, gear_of
from .modules import module_of_pitch
from .types import Claim, Claims


class FoundRack(Struct, frozen=True):
    """A rack: `teeth` and `first` (mm from the left or bottom end to the middle of the first tooth) None
    where not said; `module` is '' or 'as read', `nearest` the one of ISO 54 beside it."""

    rack: Rack
    where: str
    teeth: int | None
    first: float | None
    module: str = ""
    nearest: float = 0.0


def rack_of(claim: Claim, claims: Claims) -> FoundRack:
    """The rack that a line says; raises Trouble as `gear_of` does."""
    module, how, nearest = _module(claim, claims)
    play, count, first = (claim.get(key) for key in ("play", "count", "first"))
    rack = Rack(module, claim.number("play") if play is not None else BACKLASH)
    return FoundRack(
        rack,
        claim.word_of("where"),
        int(claim.number("count")) if count is not None else None,
        claim.number("first") if first is not None else None,
        how,
        nearest,
    )


def _module(claim: Claim, claims: Claims) -> tuple[float, str, float]:
    """The module as said, by its pitch, or of the wheel it meshes with; how it was come by, and the nearest
    of ISO 54.
    """
    if claim.get("number") is not None:
        return claim.number("number"), "", 0.0
    if claim.get("readings") is not None:
        return module_of_pitch(claim.quantity("readings"), claim.number("over"))
    wheel = claims.entries[claim.ref("thing").name]
    if lean_of(wheel) != 0.0:
        raise Trouble(
            "bad-gear",
            f"the teeth of `{wheel.name}` lean, and those of a rack are cut straight across",
            (wheel.name,),
            advice=("make both anew with straight teeth: leave `helix` out",),
        )
    found = gear_of(wheel, claims) if wheel.kind == "gear" else found_by_itself(wheel, claims)
    if found is None:
        raise Trouble(
            "fact-missing",
            f"neighbour `{wheel.name}` does not say how large its teeth are",
            (wheel.name,),
            advice=("module 1   or   across 21.0   or   span 7.66 over 3",),
        )
    # (of a gear as read its own note tells)
    return found.gear.module, found.module if wheel.kind != "gear" else "", found.nearest
