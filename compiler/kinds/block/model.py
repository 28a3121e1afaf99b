"""A block as it will be made: a box on its plane, with racks cut into its sides."""

from __future__ import annotations

from typing import ClassVar

from msgspec import Struct

from ...diagnostics.types import Trouble
from ...facts.extents import box_claims, half
from ...facts.racks import FoundRack, rack_of
from ...model.builder import Builder, said_of, size_of
from ...model.taking import Facts
from ...model.types import Corners, Prism, Said, Size
from ...quantities.vectors import XY


class Reach(Struct, frozen=True):
    """How far a block reaches beyond a flat: the size, the flat, its height over the block's plane."""

    size: Size
    flat: str
    height: float


class RackOf(Struct, frozen=True):
    """A rack of a block: what its line says, and the line."""

    found: FoundRack
    said: Said


class Block(Prism, frozen=True, kw_only=True):
    """A block: half-sizes on its plane as made, its sizes in the order x, y, out of the plane, rounded
    corners, racks.
    """

    half: XY
    sizes: tuple[Size, ...]
    reach: Reach | None
    corners: tuple[Corners, ...]
    racks: tuple[RackOf, ...]

    makes: ClassVar[bool] = True


def make(builder: Builder, facts: Facts) -> Block:
    """The block.  Raises Trouble: 'not-placed', 'no-corner', and what a rack's line raises."""
    fields = builder.prism(facts)
    if facts.peek("round inside"):
        raise Trouble(
            "no-corner",
            f"block `{facts.name}` has no hollow corner, all of them stick out",
            (facts.name,),
            advice=("round outside 2",),
        )
    facts.all("long", "wide", "high", "thick")
    return Block(
        **fields,
        half=half(facts.entry, made=True),
        sizes=tuple(size_of(claim) for claim in box_claims(facts.entry)),
        reach=_reach(builder, facts),
        corners=builder.corners(facts.all("round outside"), fields["plane"]),
        racks=tuple(_racks(builder, facts)),
    )


def _reach(builder: Builder, facts: Facts) -> Reach | None:
    claim = facts.one("reaches")
    if claim is None:
        return None
    plane = builder.planes.stand(facts.name)[0]
    ref = claim.ref("thing")
    return Reach(size_of(claim), str(ref), builder.planes.height_of(ref, plane))


def _racks(builder: Builder, facts: Facts) -> list[RackOf]:
    claims = sorted(facts.all("rack"), key=lambda each: each.text)
    return [RackOf(rack_of(claim, builder.claims), said_of(claim)) for claim in claims]
