"""The rack of ISO 53 as it is made and measured: every size that follows from its module and its play.

Lengths in mm.  Heights count from the pitch line, on which a tooth and a gap are of one width but for the
play: the tips stand a module over it, the ground of a gap lies 1.25 modules under it, and the flanks lean by
20 degrees."""

from __future__ import annotations

import math

from msgspec import Struct

from .gears import ADDENDUM, DEDENDUM, PRESSURE, ROOT, Gear


class Rack(Struct, frozen=True):
    """A rack: `thinner` is how much (mm, along the pitch line) each tooth gives up for play."""

    module: float
    thinner: float = 0.0

    @property
    def pitch(self) -> float:
        """p = pi m, from a flank of a tooth to the same flank of the next."""
        return math.pi * self.module

    @property
    def depth(self) -> float:
        """From the tips to the ground of a gap: 2.25 m."""
        return (ADDENDUM + DEDENDUM) * self.module

    @property
    def thickness(self) -> float:
        """A tooth on the pitch line: p / 2, less the play."""
        return 0.5 * self.pitch - self.thinner

    def half_gap(self, height: float) -> float:
        """Half the width of a gap at a height over the pitch line."""
        return 0.25 * self.pitch + 0.5 * self.thinner + height * math.tan(PRESSURE)

    @property
    def half_whole(self) -> float:
        """Half of a tooth a module under the pitch line, as deep as its mate's tips reach: what a whole one
        has.
        """
        return 0.5 * self.pitch - self.half_gap(-ADDENDUM * self.module)

    @property
    def pin(self) -> float:
        """The pin nearest to the usual 1.728 m (common practice) that a set of drills in tenths holds."""
        return max(0.5, round(1.728 * self.module, 1))

    def over_pin(self, pin: float) -> float | None:
        """Height of the top of a pin laid in a gap over the pitch line; None for a pin that does not lie on
        both flanks.

        Its middle lies d / (2 sin a) over where the flanks would meet, and that lies half a gap / tan a under
        the pitch line: M = d / 2 (1 + 1 / sin a) - (p / 2 + play) / (2 tan a)."""
        radius = 0.5 * pin
        middle = radius / math.sin(PRESSURE) - self.half_gap(0.0) / math.tan(PRESSURE)
        touching = middle - radius * math.sin(PRESSURE)
        straight = (DEDENDUM - ROOT * (1.0 - math.sin(PRESSURE))) * self.module
        if not -straight <= touching <= ADDENDUM * self.module or middle - radius <= -DEDENDUM * self.module:
            return None
        return middle + radius


def rack_contact(gear: Gear) -> float:
    """Contact ratio of a wheel and a rack: (sqrt(ra^2 - rb^2) - r sin a + m (1 - x) / sin a) / (pi m cos a).

    The rack's tips reach m (1 - x) into the pitch circle; where that is further than the wheel has a flank,
    its flank counts."""
    out = 0.5 * math.sqrt(max(0.0, gear.tip**2 - gear.base**2)) - 0.5 * gear.pitch * math.sin(gear.pressure)
    into = gear.module * (ADDENDUM - gear.shift) / math.sin(gear.pressure)
    flank = 0.5 * gear.pitch * math.sin(gear.pressure)
    return (out + min(into, flank)) / (math.pi * gear.transverse * math.cos(gear.pressure))
