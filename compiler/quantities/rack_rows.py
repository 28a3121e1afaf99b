"""The row of a rack's teeth along a side: how many have room, and where the gaps between them stand."""

from __future__ import annotations

import math

from msgspec import Struct

from ..diagnostics.types import Trouble
from .gears import ADDENDUM
from .racks import Rack

MOST_SPACES = 2_000
LEAST_MODULE = 0.1
_ROUNDING = 1e-6


class RackRow(Struct, frozen=True):
    """The row of a rack's teeth: how many are whole, and where the middles of its gaps stand, from the middle
    of the side.
    """

    whole: int
    gaps: tuple[float, ...]


def rack_row(length: float, rack: Rack, teeth: int | None, first: float | None) -> RackRow:
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
        return RackRow(whole, tuple(pitch * (k + 0.5) for k in range(-count, count)))
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
    return RackRow(whole, tuple(start + pitch * k for k in range(last + 1)))
