"""Teeth of an ISO 53 rack cut into a side of a block: straight flanks of 20 degrees, tips in the side,
rounded roots.
"""

from __future__ import annotations

import math

import numpy as np
from msgspec import Struct

from ..diagnostics.types import Trouble
from ..facts import Claim, Claims, Entry
from ..facts.extents import half
from ..facts.racks import FoundRack, rack_of
from ..quantities.arrays import Floats
from ..quantities.gears import ADDENDUM, DEDENDUM, ROOT
from ..quantities.rack_rows import Row, rack_row
from ..quantities.racks import Rack
from ..quantities.vectors import XY
from .booleans import turned_over
from .corners import round_corners
from .facets import facet
from .types import Path, Ring, Straight

BEYOND = 1.0
LEAST_LAND = 0.4
"""mm: what is left of a side beside the last gap, narrower than this, is cut away; one strand of a nozzle
would stand there.
"""
LEAST_WEB = 0.4  # mm: a strand of a nozzle; what is thinner is no web
_OPPOSITE = {"left": "right", "right": "left", "top": "bottom", "bottom": "top"}


class BlockRack(Struct, frozen=True):
    """A rack of a block: its line, what that says, its teeth, and how high (mm) their tips stand over the
    side opposite.
    """

    claim: Claim
    found: FoundRack
    row: Row
    high: float

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
        flanks.
        """
        top = self.found.rack.over_pin(self.found.rack.pin)
        return None if top is None else self.line + top


def block_racks(entry: Entry, claims: Claims) -> list[BlockRack]:
    """The racks of a block, in the order of their lines' text; raises Trouble as `rack_of` and `rack_row`
    do.
    """
    x, y = half(entry, made=True)
    racks = []
    for claim in sorted(entry.all("rack"), key=lambda one: one.text):
        found = rack_of(claim, claims)
        long, high = (2.0 * x, 2.0 * y) if found.where in ("top", "bottom") else (2.0 * y, 2.0 * x)
        try:
            row = rack_row(long, found.rack, found.teeth, found.first)
        except Trouble as trouble:
            said = f"`{claim.text}` of `{entry.name}`: {trouble.says}"
            raise Trouble(trouble.code, said, (entry.name,), advice=trouble.advice) from None
        racks.append(BlockRack(claim, found, row, high))
    _keep_apart(entry, racks)
    return racks


def _keep_apart(entry: Entry, racks: list[BlockRack]) -> None:
    """Raise Trouble: 'said-twice' for two racks in one side, 'bad-gear' where their gaps leave no web
    between.
    """
    sides = {one.found.where: one for one in racks}
    if len(sides) < len(racks):
        twice = next(one.found.where for one in racks if sides[one.found.where] is not one)
        raise Trouble(
            "said-twice",
            f"two racks are cut in the {twice} of `{entry.name}`",
            (entry.name,),
            advice=("one row of teeth to a side: leave one of the lines out",),
        )
    for one in racks:
        other = sides.get(one.foot)
        deep = one.found.rack.depth + (other.found.rack.depth if other is not None else 0.0)
        if deep > one.high - LEAST_WEB:
            raise Trouble(
                "bad-gear",
                f"`{one.claim.text}` of `{entry.name}`: gaps {deep:.4g} deep leave no web of the block's "
                f"{one.high:.4g}",
                (entry.name,),
                advice=("a smaller module, or a higher block",),
            )


def rack_spaces(
    start: XY, end: XY, rack: Rack, gaps: tuple[float, ...], chord: float, label: int
) -> list[Ring]:
    """The gaps of a rack along the side from `start` to `end`, material on its left; `gaps` are their middles
    from the middle of the side, counted towards `end`."""
    length = math.dist(start, end)
    space = _space(rack, chord, label)
    angle = math.atan2(end[1] - start[1], end[0] - start[0])
    c, s = math.cos(angle), math.sin(angle)
    turn = np.array([[c, s], [-s, c]])
    middle = 0.5 * np.array([start[0] + end[0], start[1] + end[1]])
    rings = [Ring((space.points + np.array([at, 0.0])) @ turn + middle, space.labels) for at in gaps]
    stumps = [*_stump(min(gaps), -0.5 * length, rack), *_stump(max(gaps), 0.5 * length, rack)]
    return [*rings, *(Ring(box @ turn + middle, np.full(4, label, dtype=np.int32)) for box in stumps)]


def _space(rack: Rack, chord: float, label: int) -> Ring:
    """One gap about the y axis, the side on y = 0 and material above it (the ring anticlockwise)."""
    module = rack.module
    mouth = rack.half_gap(ADDENDUM * module + BEYOND)
    bottom = rack.half_gap(-DEDENDUM * module)
    deep = rack.depth
    corners = [(-mouth, -BEYOND), (mouth, -BEYOND), (bottom, deep), (-bottom, deep)]
    path: Path = tuple(
        Straight(a, b, label) for a, b in zip(corners, [*corners[1:], corners[0]], strict=True)
    )
    path = round_corners(path, min(ROOT * module, 0.9 * bottom), "outside", corners[2:], label)
    return turned_over(facet(path, chord, hole=True))


def _stump(gap: float, end: float, rack: Rack) -> list[Floats]:
    """What takes away the stump of material between the last gap and that end of the side where its land is
    hardly there.
    """
    mouth = rack.half_gap(ADDENDUM * rack.module)
    land = abs(end) - math.copysign(1.0, end) * gap - mouth
    if land >= LEAST_LAND or land <= -2.0 * mouth:
        return []
    low, high = sorted((gap, end + math.copysign(BEYOND, end)))
    return [np.array([(low, -BEYOND), (high, -BEYOND), (high, rack.depth), (low, rack.depth)])]
