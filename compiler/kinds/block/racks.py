"""The racks of a block as they will be made: their teeth, and the gear that tells them."""

from __future__ import annotations

from msgspec import Struct

from ...diagnostics.types import Trouble
from ...facts import Claim, Ref
from ...facts.gears import gear_of
from ...facts.racks import FoundRack, rack_of
from ...model.builder import Builder, said_of
from ...model.taking import Facts
from ...model.types import Said
from ...quantities.gears import ADDENDUM, Gear
from ...quantities.rack_rows import RackRow, rack_row
from ...quantities.vectors import XY

LEAST_WEB = 0.4  # mm: a strand of a nozzle; what is thinner is no web
_OPPOSITE = {"left": "right", "right": "left", "top": "bottom", "bottom": "top"}


class RackOf(Struct, frozen=True):
    """A rack of a block: what its line says, its teeth, how high (mm) their tips stand over the side
    opposite, the thing it is told by ('' : none) and the gear that is, the line."""

    found: FoundRack
    row: RackRow
    high: float
    wheel: str
    mate: Gear | None
    said: Said

    @property
    def foot(self) -> str:
        """The side opposite, from which the teeth are measured."""
        return _OPPOSITE[self.found.where]

    @property
    def line(self) -> float:
        """Height of the pitch line over the side opposite."""
        return self.high - ADDENDUM * self.found.rack.module

    @property
    def over(self) -> int:
        """Teeth to read the pitch over: ten, or as many as there are."""
        return min(10, self.row.whole - 1)

    @property
    def over_pin(self) -> float | None:
        """The usual pin laid in a gap: its top over the side opposite; None where it does not lie on both
        flanks."""
        top = self.found.rack.over_pin(self.found.rack.pin)
        return None if top is None else self.line + top


def racks_of(builder: Builder, facts: Facts, half: XY) -> tuple[RackOf, ...]:
    """The racks, in the order of their lines' text.  Raises Trouble as `rack_of` and `rack_row` do."""
    racks = []
    for claim in sorted(facts.all("rack"), key=lambda each: each.text):
        found = rack_of(claim, builder.claims)
        across, up = 2.0 * half[0], 2.0 * half[1]
        long, high = (across, up) if found.where in ("top", "bottom") else (up, across)
        try:
            row = rack_row(long, found.rack, found.teeth, found.first)
        except Trouble as trouble:
            said = f"`{claim.text}` of `{facts.name}`: {trouble.says}"
            raise Trouble(trouble.code, said, (facts.name,), advice=trouble.advice, span=claim.span) from None
        wheel, mate = _wheel(builder, claim)
        racks.append(RackOf(found, row, high, wheel, mate, said_of(claim)))
    _keep_apart(facts.name, racks)
    return tuple(racks)


def _wheel(builder: Builder, claim: Claim) -> tuple[str, Gear | None]:
    """The thing that a rack is told by, and the gear that it is, where it is made here."""
    wheel = claim.get("thing")
    if not isinstance(wheel, Ref):
        return "", None
    entry = builder.entry(wheel.name)
    made = entry.kind == "gear"
    return wheel.name, gear_of(entry, builder.claims).gear if made else None


def _keep_apart(name: str, racks: list[RackOf]) -> None:
    """Raise Trouble: 'said-twice' for two racks in one side, 'bad-gear' where their gaps leave no web
    between."""
    sides = {rack.found.where: rack for rack in racks}
    if len(sides) < len(racks):
        twice = next(rack.found.where for rack in racks if sides[rack.found.where] is not rack)
        raise Trouble(
            "said-twice",
            f"two racks are cut in the {twice} of `{name}`",
            (name,),
            advice=("one row of teeth to a side: leave one of the lines out",),
        )
    for rack in racks:
        other = sides.get(rack.foot)
        deep = rack.found.rack.depth + (other.found.rack.depth if other is not None else 0.0)
        if deep > rack.high - LEAST_WEB:
            raise Trouble(
                "bad-gear",
                f"`{rack.said.text}` of `{name}`: gaps {deep:.4g} deep leave no web of the block's "
                f"{rack.high:.4g}",
                (name,),
                advice=("a smaller module, or a higher block",),
                span=rack.said.span,
            )
