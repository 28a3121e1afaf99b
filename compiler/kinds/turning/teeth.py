"""Teeth cut round a stretch of a turning, all as deep as asked over a surface that rises, falls and steps."""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence

import numpy as np

from ...diagnostics.types import Trouble
from ...mesh.kernel import Solid
from ...mesh.prisms import Level, stack
from ...model.sections import ToothedSection
from ...outlines import Region, Ring, facet
from ...outlines.teeth import toothed
from .model import Teeth
from .stretches import NO_ROOM, Stretch

CLIMB = math.tan(math.radians(30.0))
STEP = math.radians(4.0)
MOST_LEVELS = 2_000
MOST_CORNERS = 40_000
BEYOND = 1.0
# mm along the axis in which teeth get over a step: in no height, all their faces there would lie in one plane
OFF_STEP = 1e-3
# mm that pointed crowns stay under the surface: at the very corner of a facet they would touch it edge on
# edge
UNDER = 1e-4


def outside_ring(ring: Ring, widest: float, label: int) -> Region:
    """All that lies outside a ring, as far as a square that holds any turned shape of this radius."""
    far = max(widest + BEYOND, float(np.hypot(*ring.points.T).max())) + BEYOND
    square = np.array([(-far, -far), (far, -far), (far, far), (-far, far)])
    hole = Ring(ring.points[::-1], np.roll(ring.labels[::-1], -1))
    return Region((Ring(square, np.full(4, label, dtype=np.int32)), hole))


def teeth(grip: Teeth, under: list[Stretch], widest: float, way: int, label: int, chord: float) -> Solid:
    """All outside teeth whose crowns lie on a surface; with a `way` (1, -1) they climb to that side."""
    deep, count = grip.depth.value, grip.count
    reach, least = (pick(pick(one.first, one.second) for one in under) for pick in (max, min))
    if deep >= least:
        raise Trouble(
            "bad-size",
            f"teeth {deep:g} deep leave nothing of a round of {2 * least:.4g}: `{grip.said.text}`",
            advice=("make them less deep, or let them end before it",),
            span=grip.said.span,
        )
    splines = grip.word == "splines"
    crown = reach if splines else reach - min(UNDER, 0.01 * deep)
    section = ToothedSection(crown, deep - reach + crown, count, 0.0, splines)
    ring = facet(toothed(section, (0.0, 0.0), label, reach + BEYOND), chord)
    climb = way * CLIMB / reach
    levels = _off_steps(_levels(under, climb, reach, deep, count, chord), OFF_STEP)
    if len(levels) > MOST_LEVELS or len(levels) * len(ring.points) > MOST_CORNERS:
        raise Trouble(
            "too-many-facets",
            f"teeth this long and fine can't be cut: `{grip.said.text}`",
            advice=("make their stretch shorter, or the teeth coarser",),
            span=grip.said.span,
        )
    out = np.hypot(*ring.points.T)[:, None]
    towards = ring.points / out
    some = []
    for z, radius in levels:
        angle = climb * (z - levels[0][0])
        spin = np.array([[math.cos(angle), math.sin(angle)], [-math.sin(angle), math.cos(angle)]])
        # the same depth at every height: all corners move along the radius by as much as the surface does
        moved = Ring((towards * (out + radius - reach)) @ spin, ring.labels)
        some.append(Level(z, outside_ring(moved, widest + BEYOND, label)))
    return stack(some, label, label)


def _levels(
    under: Sequence[Stretch], climb: float, reach: float, deep: float, count: int, chord: float
) -> list[tuple[float, float]]:
    """Heights and radii at which teeth are drawn: ends of stretches, and between them what keeps facets
    within `chord`.

    On a taper a flank is a ruled surface; halved into triangles over a change of radius s it leaves it by s d
    sin(a) / (4 L), a the angle from crown to floor and L its width.  A climbing floor leaves the round by a
    sagitta."""
    half = math.pi / count
    flank = math.hypot(reach - (reach - deep) * math.cos(half), (reach - deep) * math.sin(half))
    step = min(STEP, 2.0 * math.acos(max(0.0, 1.0 - chord / reach)))
    found: list[tuple[float, float]] = []
    for one in under:
        warp = abs(one.second - one.first) * deep * math.sin(half) / (4.0 * flank * chord)
        pieces = max(1, math.ceil(abs(climb) * (one.stop - one.start) / step), math.ceil(warp))
        if pieces > MOST_LEVELS:
            return [(0.0, 0.0)] * pieces
        start = found[-1][0] if found and one.start - found[-1][0] <= NO_ROOM else one.start
        some = [
            (start, one.first),
            *(
                (
                    one.start + (one.stop - one.start) * k / pieces,
                    one.first + (one.second - one.first) * k / pieces,
                )
                for k in range(1, pieces)
            ),
            (one.stop, one.second),
        ]
        same = bool(found) and abs(found[-1][1] - one.first) <= NO_ROOM
        found += some[1:] if same else some
    return found


def _off_steps(levels: list[tuple[float, float]], by: float) -> list[tuple[float, float]]:
    """Levels whose jumps from one radius to another slope a little, on the side of the smaller one."""
    found = list(levels)
    for k, ((z, first), (above, second)) in enumerate(itertools.pairwise(levels)):
        if above > z:
            continue
        room = z - levels[k - 1][0] if second > first else levels[min(k + 2, len(levels) - 1)][0] - z
        near = min(by, 0.25 * room)
        found[k : k + 2] = (
            [(z - near, first), (z, second)] if second > first else [(z, first), (z + near, second)]
        )
    return found
