"""A block as it will be made: a box on its plane, with racks cut into its sides."""

from __future__ import annotations

from typing import TYPE_CHECKING, ClassVar

from msgspec import Struct

from ...diagnostics.types import Trouble
from ...facts.extents import box_claims, half
from ...model.builder import Builder, size_of
from ...model.stops import corners_of
from ...model.taking import Facts
from ...model.types import Corners, Prism, Size
from ...quantities.vectors import XY
from .. import needed_file

if TYPE_CHECKING:
    from .racks import RackOf


class Reach(Struct, frozen=True):
    """How far a block reaches beyond a flat: the size, the flat, its height over the block's plane."""

    size: Size
    flat: str
    height: float


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
    straight_sided: ClassVar[bool] = True


def make(builder: Builder, facts: Facts) -> Block:
    """The block.  Raises Trouble: 'not-placed', 'no-corner', and what a rack's line raises."""
    fields = builder.prism(facts)
    hollow = facts.one("round inside")
    if hollow is not None:
        raise Trouble(
            "no-corner",
            f"block `{facts.name}` has no hollow corner, all of them stick out",
            (facts.name,),
            advice=("round outside 2",),
            span=hollow.span,
        )
    facts.all("long", "wide", "high", "thick")
    reach = half(facts.entry, made=True)
    return Block(
        **fields,
        half=reach,
        sizes=tuple(size_of(claim) for claim in box_claims(facts.entry)),
        reach=_reach(builder, facts),
        corners=corners_of(builder, facts.all("round outside"), fields["plane"]),
        racks=needed_file("block", "racks").racks_of(builder, facts, reach) if facts.peek("rack") else (),
    )


def _reach(builder: Builder, facts: Facts) -> Reach | None:
    claim = facts.one("reaches")
    if claim is None:
        return None
    plane = builder.planes.stand(facts.name)[0]
    ref = claim.ref("thing")
    return Reach(size_of(claim), str(ref), builder.planes.height_of(ref, plane))
