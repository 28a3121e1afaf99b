"""Gears as solids: the outline of the teeth drawn up the axis, turning as it goes where the teeth lean."""

from __future__ import annotations

import math

import numpy as np

from ...diagnostics.types import Trouble, at_fault
from ...mesh.combine import remove
from ...mesh.kernel import Solid
from ...mesh.prisms import Level, prism, stack
from ...mesh.workshop import Workshop
from ...outlines import Region, canonical, circle, facet, turned_over
from ...outlines.gears import gear_ring
from ...outlines.types import Ring
from ...quantities.gears import Gear as Wheel
from .model import GearBody

BEYOND = 1.0
LEAST_RIM = 0.4
MOST_POINTS = 300_000


def build(shop: Workshop, body: GearBody) -> Solid:
    """The gear in space.  Raises Trouble as `toothed` does."""
    labels = [shop.marks.of(body.name, face) for face in ("teeth", "front", "back", "side")]
    rim, line = (0.0, None) if body.rim is None else (body.rim.value, body.rim.said.span)
    four = (labels[0], labels[1], labels[2], labels[3])
    with at_fault(line, "no-wall"):
        solid = toothed(body.wheel, rim, (body.low, body.high), shop.chord, four, body.name)
    return shop.placed(solid.translate((*body.placed.at, 0.0)), body.frame)


def edge(shop: Workshop, body: GearBody) -> Region | None:
    """The round at the feet of the teeth of a gear on its plane; None for a ring gear, which has them
    inside."""
    if body.wheel.inside:
        return None
    feet = circle(body.placed.at, 0.5 * body.wheel.root, shop.marks.of(body.name, "teeth"))
    return canonical([facet(feet, shop.chord)])


def toothed(
    gear: Wheel,
    rim: float,
    heights: tuple[float, float],
    chord: float,
    labels: tuple[int, int, int, int],
    name: str,
) -> Solid:
    """A gear about z between two heights; a ring gear is `rim` across outside.  Labels: teeth, front, back,
    rim.

    Raises Trouble: 'bad-gear', 'no-wall', 'too-many-facets'."""
    teeth, front, back, side = labels
    low, high = heights
    ring = gear_ring(gear, chord, teeth)
    if not gear.inside:
        return _drawn(ring, gear, (low, high, low), chord, front, back)
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
    space = _drawn(turned_over(ring), gear, (low - BEYOND, high + BEYOND, low), chord, teeth, teeth)
    return remove(prism(outside, low, high, front, back), [space])


def _drawn(
    ring: Ring, gear: Wheel, heights: tuple[float, float, float], chord: float, front: int, back: int
) -> Solid:
    """The ring drawn from the first height to the second, as outlined at the third: a point at radius r
    climbs at the helix angle on the pitch circle, so it turns by tan b / (d / 2) for each mm."""
    low, high, zero = heights
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
