"""Stretches of a turning's axis: straight ones from its stations, and short ones that draw beads, coves and
vees.

A bead is a ridge of circular section, a cove the groove that a round-nosed tool leaves, a vee what a pointed
one leaves.  Each states the diameter at its crown or floor, its middle on the axis and its width.  One that
is higher than half its width is half round with straight sides."""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterable

from msgspec import Struct

from ...diagnostics.types import Trouble
from ...model.types import Said
from .model import Shaped, Station, Turning

MOST_SHAPED = 64  # beads, coves and vees on one turning: each is drawn by dozens of stretches
FEWEST = 4
NO_ROOM = 1e-9  # mm


class Stretch(Struct, frozen=True):
    """A stretch of the axis over which the radius runs straight from `first` at `start` to `second` at `stop`
    (mm), the label of its face, and the line it comes from where a message speaks of it."""

    start: float
    stop: float
    first: float
    second: float
    label: int = 0
    said: Said | None = None

    def radius(self, z: float) -> float:
        """The radius at a place on the axis."""
        share = (z - self.start) / (self.stop - self.start)
        return self.first + share * (self.second - self.first)


def radius_at(stretches: list[Stretch], z: float) -> float | None:
    """The largest radius of the stretches at a place on the axis (ends count); None where there is none."""
    return max((one.radius(z) for one in stretches if one.start - 1e-9 <= z <= one.stop + 1e-9), default=None)


def stretch_of(station: Station, label: int = 0) -> Stretch:
    """A station as a stretch of the axis.  Raises Trouble('bad-station') for one of no length."""
    # 0.3 and 0.1 + 0.2 are one place
    start, stop = round(station.start.value, 9), round(station.stop.value, 9)
    if abs(stop - start) < 1e-9:
        raise Trouble(
            "bad-station",
            f"`{station.said.text}` begins and ends at the same place",
            span=station.said.span,
        )
    first, second = station.first.value, station.second.value
    if start > stop:
        start, stop, first, second = stop, start, second, first
    return Stretch(start, stop, 0.5 * first, 0.5 * second, label, station.said)


def outside_of(turning: Turning, label: int = 0) -> list[Stretch]:
    """The outer stretches of a turning, before beads and grooves."""
    return [stretch_of(station, label) for station in turning.outer]


def clipped(surface: Iterable[Stretch], low: float, high: float) -> list[Stretch]:
    """What of some stretches lies from one place to another."""
    found = []
    for one in surface:
        start, stop = max(one.start, low), min(one.stop, high)
        if stop - start > NO_ROOM:
            found.append(Stretch(start, stop, one.radius(start), one.radius(stop), one.label, one.said))
    return found


def shaped(name: str, one: Shaped, ground: list[Stretch], label: int, chord: float) -> list[Stretch]:
    """The stretches that draw a bead, cove or vee upon the surface that `ground` makes there.

    Trouble: 'bad-station' where there is no such surface, or it already reaches as far.
    """
    z, wide, aim = one.station.value, one.wide.value, 0.5 * one.size.value
    base = radius_at(ground, z)
    if base is None:
        raise Trouble(
            "bad-station",
            f"turning `{name}` has no {'bore' if one.inside else 'outside'} at {z:g} to shape",
            (name,),
            advice=("add a station there, or move it",),
        )
    rises = one.word == "bead" and not one.inside
    high = aim - base if rises else base - aim
    if high <= 1e-6:
        where, much = f"{2 * base:g} across at {z:g}", "more" if rises else "less"
        raise Trouble(
            "bad-station",
            f"the {one.word} of {2 * aim:g} does nothing: turning `{name}` is {where}",
            (name,),
            advice=(f"a {one.word} there is {much} than {2 * base:g}",),
        )
    if one.word == "vee":
        line = [(-0.5 * wide, 0.0), (0.0, high), (0.5 * wide, 0.0)]
    else:
        line = _segment(wide, high, chord, hollow=one.word == "cove")
    sign = 1.0 if rises else -1.0
    return [
        Stretch(z + a, z + b, base + sign * h, base + sign * k, label)
        for (a, h), (b, k) in itertools.pairwise(line)
        if b - a > 1e-9
    ]


def _segment(wide: float, high: float, chord: float, hollow: bool) -> list[tuple[float, float]]:
    """Corners (along, height) over a circular segment of this width and height; its facets leave material
    away.

    Of a bead the corners lie on the arc; of a cove (`hollow`) the facets touch it from within the material.
    """
    half = 0.5 * wide
    rho = half if high >= half else (high * high + half * half) / (2.0 * high)
    sweep = 0.5 * math.pi if high >= half else math.asin(min(1.0, half / rho))
    # an even count: a corner (of a cove: a touching facet) stands at the very crown, where callipers measure
    count = max(FEWEST, 2 * math.ceil(0.5 * sweep / math.acos(rho / (rho + chord))))
    step = 2.0 * sweep / count

    def at(angle: float, far: float) -> tuple[float, float]:
        return far * math.sin(angle), high - rho + far * math.cos(angle)

    if not hollow:
        return [at(k * step - sweep, rho) for k in range(count + 1)]
    middle = [at((k + 0.5) * step - sweep, rho / math.cos(0.5 * step)) for k in range(count)]
    return [at(-sweep, rho), *middle, at(sweep, rho)]


def check_count(turning: Turning) -> None:
    """Raise Trouble('bad-count') for more beads, coves and vees than can be drawn."""
    if len(turning.shaped) > MOST_SHAPED:
        raise Trouble(
            "bad-count",
            f"turning `{turning.name}` has {len(turning.shaped)} beads, coves and vees; "
            f"{MOST_SHAPED} are the most",
            (turning.name,),
            advice=("make several turnings of it",),
        )
