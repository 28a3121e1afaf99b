"""The stops of a walk round an outline: points, rounds, lines and arcs, each with the caller's label and
name.
"""

from __future__ import annotations

from msgspec import Struct

from ..quantities.vectors import XY


class PointStop(Struct, frozen=True):
    """A corner of the outline at `at` (mm)."""

    at: XY
    label: int = 0
    name: str = "the point"


class RoundStop(Struct, frozen=True):
    """A round that the outline follows tangentially; with `hollow` the material lies outside the round."""

    centre: XY
    radius: float
    hollow: bool = False
    label: int = 0
    name: str = "the round"


class LineStop(Struct, frozen=True):
    """An endless line through `point` along `direction` (any length, either way); part of it is an edge.

    Next to a round the line must be tangent, unless `into`: then the edge ends where it first meets the
    round, as an arm runs into a boss.  With `far` it runs on through the round to the other crossing, as a
    bar with a rounded end."""

    point: XY
    direction: XY
    into: bool = False
    far: bool = False
    label: int = 0
    name: str = "the line"


class ArcStop(Struct, frozen=True):
    """An arc between the two point stops beside it, given by its rise over the chord or by its radius
    (exactly one).

    It bulges away from the material, or into it with `out=False`.  A radius gives the shorter of the two
    arcs."""

    rise: float | None = None
    radius: float | None = None
    out: bool = True
    label: int = 0
    name: str = "the arc"


Stop = PointStop | RoundStop | LineStop | ArcStop
Corner = PointStop | RoundStop | LineStop
