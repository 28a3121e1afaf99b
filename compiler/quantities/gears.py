"""Spur and helical gears of the ISO 53 rack: every size that follows from teeth, module, shift and helix.

Lengths in mm, angles in radians.  Formulas are those of involute gearing as in ISO 21771 (the standard was
not read; they are checked against published examples in the tests).  A ring gear is seen by its spaces: they
have the shape of the teeth of a wheel with the same count, module and shift, so `d`, `db` and the flanks are
those of that wheel."""

from __future__ import annotations

import math

from msgspec import Struct

PRESSURE = math.radians(20.0)
ADDENDUM, DEDENDUM, ROOT = 1.0, 1.25, 0.38
"""ISO 53: heights over and under the reference line, and the rounding of the rack's tooth root, in
modules.
"""
MODULES = (1.0, 1.25, 1.5, 2.0, 2.5, 3.0, 4.0, 5.0, 6.0, 8.0, 10.0)
"""ISO 54, series I (from memory)."""
SECOND = (1.125, 1.375, 1.75, 2.25, 2.75, 3.5, 4.5, 5.5, 7.0, 9.0)
"""ISO 54, series II (from memory)."""
FINE = (0.2, 0.25, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9)
"""Modules below 1 that are common (from memory)."""
LEAST_TIP = 0.1  # modules: a tooth is cut off where it gets thinner


def involute(angle: float) -> float:
    """inv a = tan a - a."""
    return math.tan(angle) - angle


def angle_of(value: float) -> float:
    """The angle whose involute this is, by Newton's method from (3 inv)^(1/3); value >= 0."""
    if value <= 0.0:
        return 0.0
    angle: float = min(1.5, math.cbrt(3.0 * value))
    for _ in range(60):
        step = (involute(angle) - value) / math.tan(angle) ** 2
        angle = min(1.55, max(1e-6, angle - step))
        if abs(step) < 1e-15:
            break
    return angle


class Gear(Struct, frozen=True):
    """A gear: `module` is the normal one, `helix` the angle of its teeth from the axis, `thinner` how much
    (mm, along the pitch circle) each tooth gives up for play."""

    teeth: int
    module: float
    shift: float = 0.0
    inside: bool = False
    helix: float = 0.0
    left: bool = False
    thinner: float = 0.0

    @property
    def transverse(self) -> float:
        """Module along the pitch circle."""
        return self.module / math.cos(self.helix)

    @property
    def pressure(self) -> float:
        """Pressure angle square to the axis: tan at = tan an / cos b."""
        return math.atan(math.tan(PRESSURE) / math.cos(self.helix))

    @property
    def pitch(self) -> float:
        """d = m z / cos b."""
        return self.transverse * self.teeth

    @property
    def base(self) -> float:
        """db = d cos at."""
        return self.pitch * math.cos(self.pressure)

    @property
    def tip(self) -> float:
        """da = d + 2 m (1 + x); a ring's d - 2 m (1 - x), but not below its base circle, where there is no
        flank.
        """
        full = self.full_tip
        return max(full, self.base) if self.inside else min(full, self._pointed(full))

    @property
    def full_tip(self) -> float:
        """The tip diameter of ISO 53, whether or not a tooth gets so far."""
        way = -1.0 if self.inside else 1.0
        return self.pitch + 2.0 * self.module * (way * ADDENDUM + self.shift)

    @property
    def root(self) -> float:
        """df = d - 2 m (1.25 - x); a ring's d + 2 m (1.25 + x)."""
        if self.inside:
            return self.pitch + 2.0 * self.module * (DEDENDUM + self.shift)
        return self.pitch - 2.0 * self.module * (DEDENDUM - self.shift)

    @property
    def thickness(self) -> float:
        """Tooth (ring: space) along the pitch circle without play: (m / cos b)(pi / 2 + 2 x tan an)."""
        return self.transverse * 0.5 * math.pi + 2.0 * self.shift * self.module * math.tan(self.pressure)

    def half_angle(self, across: float) -> float:
        """Half the angle that a tooth (ring: a space) covers at a diameter at or over the base circle, play
        taken off (ring: added)."""
        worn = self.thickness + (self.thinner if self.inside else -self.thinner)
        there = math.acos(min(1.0, self.base / across))
        return worn / self.pitch + involute(self.pressure) - involute(there)

    def _pointed(self, full: float) -> float:
        """Where the tooth has become LEAST_TIP modules thin, `full` where it never does before
        (bisection).
        """
        low, high = max(self.base, self.root), full
        if high <= low or self.half_angle(full) * full >= LEAST_TIP * self.module:
            return full
        for _ in range(60):
            middle = 0.5 * (low + high)
            low, high = (
                (middle, high)
                if self.half_angle(middle) * middle >= LEAST_TIP * self.module
                else (low, middle)
            )
        return low

    @property
    def undercut_below(self) -> float:
        """Fewest teeth without undercut at this shift: 2 (1 - x) cos b / sin^2 at (17.1 for x = 0)."""
        return 2.0 * (ADDENDUM - self.shift) * math.cos(self.helix) / math.sin(self.pressure) ** 2

    @property
    def spanned(self) -> int:
        """Teeth to span so that the jaws touch about half way up: z acos(z cos a / (z + 2 x)) / pi + 1/2."""
        share = min(1.0, self.teeth * math.cos(PRESSURE) / max(self.teeth + 2.0 * self.shift, 1.0))
        return max(2, min(self.teeth, round(self.teeth * math.acos(share) / math.pi + 0.5)))

    def span(self, over: int) -> float:
        """W over `over` teeth: m cos a ((k - 1/2) pi + z inv at) + 2 x m sin a, less the play."""
        worn = self.thinner * math.cos(self.helix) * math.cos(PRESSURE)
        return (
            span_factor(self.teeth, over, self.helix) * self.module
            + 2.0 * self.shift * self.module * math.sin(PRESSURE)
            - worn
        )

    @property
    def over_tips(self) -> float:
        """Largest reading over the tips: of an even count the tip diameter; of an odd one no tip lies
        opposite, and the jaws hold the near corners of two lands: da cos(pi / 2z - half the angle of a
        land)."""
        if self.teeth % 2 == 0:
            return self.tip
        land = self.half_angle(self.tip)
        land = math.pi / self.teeth - land if self.inside else land
        return self.tip * math.cos(max(0.0, 0.5 * math.pi / self.teeth - land))

    @property
    def pin(self) -> float:
        """A usual pin for measuring over pins: 1.728 m (common practice)."""
        return 1.728 * self.module

    def over_pins(self, pin: float) -> float:
        """Size over two pins in opposite spaces of a straight-toothed wheel, or between them in a ring.

        inv ap = inv a + pin / db - pi / 2z + 2 x tan a / z (less the play); M = db / cos ap + pin for even
        counts, times cos(pi / 2z) on the first term for odd ones.  A ring's pins lie in its spaces: signs of
        pin and play turn."""
        way = -1.0 if self.inside else 1.0
        worn = self.thinner if self.inside else -self.thinner
        angle = way * (
            way * (involute(self.pressure) + (self.thickness + worn) / self.pitch)
            + pin / self.base
            - (math.pi / self.teeth if way > 0 else 0.0)
        )
        across = self.base / math.cos(angle_of(angle))
        across *= math.cos(0.5 * math.pi / self.teeth) if self.teeth % 2 else 1.0
        return across + way * pin


def span_factor(teeth: int, over: int, helix: float = 0.0) -> float:
    """W / m over `over` teeth at no shift."""
    transverse = math.atan(math.tan(PRESSURE) / math.cos(helix))
    return math.cos(PRESSURE) * (math.pi * (over - 0.5) + teeth * involute(transverse))


def centre_distance(one: Gear, two: Gear) -> float:
    """Where the two mesh without play beyond what their teeth give up: inv aw = inv at + 2 (x1 + x2) tan an /
    (z1 + z2), a = a0 cos at / cos aw; with a ring the differences."""
    inner = one.inside or two.inside
    teeth = abs(two.teeth - one.teeth) if inner else one.teeth + two.teeth
    wheel, other = (two, one) if one.inside else (one, two)
    shift = other.shift - wheel.shift if inner else one.shift + two.shift
    reference = 0.5 * one.transverse * teeth
    working = angle_of(involute(one.pressure) + 2.0 * shift * math.tan(PRESSURE) / teeth)
    return reference * math.cos(one.pressure) / math.cos(working)


def shift_sum(teeth: int, module: float, distance: float, helix: float = 0.0) -> float:
    """Sum (a ring: difference) of the shifts at which a pair of `teeth` in all (a ring: their difference)
    meshes there.

    Raises ValueError where the distance is shorter than base circles allow."""
    pressure = math.atan(math.tan(PRESSURE) / math.cos(helix))
    least = 0.5 * module * teeth / math.cos(helix) * math.cos(pressure)
    if not 0.0 < least <= distance:
        raise ValueError("centres closer than the base circles")
    return teeth * (involute(math.acos(least / distance)) - involute(pressure)) / (2.0 * math.tan(PRESSURE))


def contact_ratio(one: Gear, two: Gear, distance: float) -> float:
    """Transverse contact ratio of two wheels: (sqrt(ra1^2 - rb1^2) + sqrt(ra2^2 - rb2^2) - a sin aw) / (pi mt
    cos at).
    """
    working = math.acos(min(1.0, 0.5 * (one.base + two.base) / distance))
    reach = sum(0.5 * math.sqrt(max(0.0, each.tip**2 - each.base**2)) for each in (one, two))
    return (reach - distance * math.sin(working)) / (math.pi * one.transverse * math.cos(one.pressure))
