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
from ..quantities.racks import Rack
from ..quantities.vectors import XY
from .booleans import turned_over
from .corners import round_corners
from .facets import facet
from .types import Path, Ring, Straight

MOST_SPACES = 2_000
LEAST_MODULE = 0.1
BEYOND = 1.0
LEAST_LAND = 0.4
"""mm: what is left of a side beside the last gap, narrower than this, is cut away; one strand of a nozzle
would stand there.
"""
_ROUNDING = 1e-6
LEAST_WEB = 0.4  # mm: a strand of a nozzle; what is thinner is no web
_OPPOSITE = {"left": "right", "right": "left", "top": "bottom", "bottom": "top"}


class Row(Struct, frozen=True):
    """The row of a rack's teeth: how many are whole, and where the middles of its gaps stand, from the middle
    of the side.
    """

    whole: int
    gaps: tuple[float, ...]


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


def rack_row(length: float, rack: Rack, teeth: int | None, first: float | None) -> Row:
    """The row along a side of that length: so many whole teeth with a gap at either end, in the middle of the
    side or with the first one at `first` from its start; where no count is said, as far as the side goes, a
    tooth in its middle or at `first`.

    Raises Trouble('bad-gear') for teeth that are too fine, too many, or have no room."""
    pitch, middle = rack.pitch, 0.5 * length
    if rack.module < LEAST_MODULE:
        raise Trouble("bad-gear", f"teeth of module {rack.module:.4g} are too fine to print")
    if length < 2.0 * pitch:
        raise Trouble(
            "bad-gear", f"a side of {length:.4g} has no room for the teeth of a rack {pitch:.4g} apart"
        )
    if length / pitch > MOST_SPACES:
        raise Trouble("bad-gear", f"a rack of {length / pitch:.0f} teeth is more than anyone could print")
    if rack.half_gap(ADDENDUM * rack.module) >= 0.5 * pitch:
        raise Trouble(
            "bad-gear",
            f"a play of {rack.thinner:g} leaves no tooth of module {rack.module:.4g}",
            advice=("backlash 0.1   is usual",),
        )
    if teeth is None and first is None:
        count = math.floor((middle + 0.5 * pitch) / pitch)
        whole = 2 * math.floor((middle - rack.half_whole + _ROUNDING) / pitch) + 1
        return Row(whole, tuple(pitch * (k + 0.5) for k in range(-count, count)))
    room = math.floor((length - 2.0 * rack.half_whole + _ROUNDING) / pitch) + 1
    if first is not None:
        if not rack.half_whole - _ROUNDING <= first <= length - rack.half_whole + _ROUNDING:
            raise Trouble(
                "bad-gear",
                f"a tooth whose middle stands at {first:g} is not whole on a side of {length:.4g}",
                advice=("`first at` is read from the left or bottom end to the middle of the tooth",),
            )
        room = math.floor((length - rack.half_whole + _ROUNDING - first) / pitch) + 1
    whole = room if teeth is None else teeth
    if whole > room:
        behind = f" from {first:g} on" if first is not None else ""
        raise Trouble(
            "bad-gear",
            f"{whole} teeth {pitch:.4g} apart have no room on a side of {length:.4g}{behind}",
            advice=(f"{room} have room",),
        )
    start = (first - middle if first is not None else -0.5 * (whole - 1) * pitch) - 0.5 * pitch
    # Where no count ends the row, the last gap is the one whose mouth still reaches over the side.
    mouth = rack.half_gap(ADDENDUM * rack.module)
    last = whole if teeth is not None else math.ceil((middle + mouth - start) / pitch) - 1
    return Row(whole, tuple(start + pitch * k for k in range(last + 1)))


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
