"""Gears as solids: the outline of the teeth drawn up the axis, turning as it goes where the teeth lean."""

from __future__ import annotations

import math

import numpy as np

from ...diagnostics.types import Trouble
from ...facts import Entry
from ...facts.gears import gear_of
from ...mesh.bodies import Bodies
from ...mesh.combine import remove
from ...mesh.kernel import Solid
from ...mesh.prisms import Level, prism, stack
from ...outlines import Region, canonical, circle, facet, turned_over
from ...outlines.gears import gear_ring
from ...outlines.types import Ring
from ...quantities.gears import Gear

BEYOND = 1.0
LEAST_RIM = 0.4
MOST_POINTS = 300_000


def build(bodies: Bodies, entry: Entry) -> Solid:
    """The gear in space.  Raises Trouble: 'fact-missing' for a ring without its rim, and what `toothed`
    raises.
    """
    spot = bodies.spot(entry)
    gear, rim = gear_of(entry, bodies.claims).gear, entry.one("rim")
    if gear.inside and rim is None:
        raise Trouble(
            "fact-missing",
            f"ring gear `{entry.name}` does not say how wide its `rim` is outside",
            (entry.name,),
            advice=(f"add a line such as: rim {math.ceil(gear.root + 4.0 * gear.module):d}",),
        )
    low, high = bodies.pages.heights(entry.name)
    labels = [bodies.marks.of(entry.name, one) for one in ("teeth", "front", "back", "side")]
    solid = toothed(
        gear,
        rim.number("size") if rim is not None else 0.0,
        low,
        high,
        bodies.chord,
        (labels[0], labels[1], labels[2], labels[3]),
        entry.name,
    )
    return bodies.placed(solid.translate((*spot.at, 0.0)), bodies.frame(entry.name))


def toothed(
    gear: Gear,
    rim: float,
    low: float,
    high: float,
    chord: float,
    labels: tuple[int, int, int, int],
    name: str,
) -> Solid:
    """A gear about z from `low` to `high`; a ring gear is `rim` across outside.  Labels: teeth, front, back,
    rim.

    Raises Trouble: 'bad-gear', 'no-wall', 'too-many-facets'."""
    teeth, front, back, side = labels
    ring = gear_ring(gear, chord, teeth)
    if not gear.inside:
        return _drawn(ring, gear, low, high, low, chord, front, back)
    if 0.5 * (rim - gear.root) < LEAST_RIM:
        would = f"rim {math.ceil(gear.root + 4.0 * gear.module):d}"
        raise Trouble(
            "no-wall",
            f"ring gear `{name}` is {rim:.4g} across outside, {gear.root:.4g} at the feet of its teeth: "
            "no rim is left",
            (name,),
            advice=(would,),
        )
    outside = canonical([facet(circle((0.0, 0.0), 0.5 * rim, side), chord)])
    space = _drawn(turned_over(ring), gear, low - BEYOND, high + BEYOND, low, chord, teeth, teeth)
    return remove(prism(outside, low, high, front, back), [space])


def _drawn(
    ring: Ring, gear: Gear, low: float, high: float, zero: float, chord: float, front: int, back: int
) -> Solid:
    """The ring drawn from `low` to `high`, as outlined at the height `zero`: a point at radius r climbs at
    the helix angle on the pitch circle, so it turns by tan b / (d / 2) for each mm."""
    region = canonical([ring])
    if gear.helix == 0.0:
        return prism(region, low, high, front, back)
    rate = math.tan(gear.helix) / (0.5 * gear.pitch) * (-1.0 if gear.left else 1.0)
    reach = float(np.hypot(*ring.points.T).max())
    step = 2.0 * math.acos(1.0 - min(0.5, 0.25 * chord / reach))
    count = max(2, math.ceil(abs(rate) * (high - low) / step))
    if count * len(ring.points) > MOST_POINTS:
        raise Trouble(
            "too-many-facets",
            f"the teeth of this gear wind round in {count} steps: too many facets to make",
            advice=("ask for coarser curves: --chord 0.05",),
        )
    levels = []
    for k in range(count + 1):
        z = low + (high - low) * k / count
        levels.append(Level(z, _turned(region, rate * (z - zero))))
    return stack(levels, front, back)


def _turned(region: Region, angle: float) -> Region:
    c, s = math.cos(angle), math.sin(angle)
    matrix = np.array([[c, s], [-s, c]])
    return Region(tuple(Ring(np.ascontiguousarray(one.points @ matrix), one.labels) for one in region.rings))
