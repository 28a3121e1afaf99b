"""What is cut round a stretch of a turning: serrations, splines, a diamond grip, a hexagon, a square, a flat.

Each is all that lies outside an outline, from one place on the axis to another.  A diamond grip is two sets of serrations
that climb at 30 degrees, one each way (common practice, no source).
"""

from __future__ import annotations

import math

import numpy as np

from ..diagnostics.types import Trouble
from ..facts import Claim, Entry
from ..profiles import Path, Region, Ring, facet, flatted, polygon
from ..profiles.marks import Marks
from ..profiles.outlining import FACING, SMALLER_FLAT
from ..profiles.teeth import MOST, toothed
from .kernel import Solid
from .prisms import Level, prism, stack
from .stations import Stretch

CUTS = ("serrated", "splines", "diamond", "hex", "square", "flat")
CLIMB = math.tan(math.radians(30.0))
STEP = math.radians(4.0)
MOST_LEVELS = 400
MOST_TEETH = 2_000
MOST_CROSSINGS = 8_000
MOST_CUTS = 40
BEYOND = 1.0


def grips(entry: Entry, outer: list[Stretch], marks: Marks, base: float, out: int, chord: float) -> list[Solid]:
    """The cutters of a turning whose axis is z and whose station 0 lies at `base`; Trouble where one does not work out."""
    found: list[Solid] = []
    _few_enough(entry, outer)
    for claim in entry.all(*CUTS):
        start, stop = sorted((claim.number("start"), claim.number("stop")))
        if stop - start < 1e-9:
            raise Trouble("bad-station", f"`{claim.text}` begins and ends at the same place", (entry.name,))
        reach = max((max(one.first, one.second) for one in outer if one.start < stop and one.stop > start), default=None)
        if reach is None:
            raise Trouble("bad-station", f"turning `{entry.name}` has nothing from {start:g} to {stop:g}", (entry.name,))
        label = marks.of(entry.name, claim.word)
        path = _outline(entry, claim, reach, label)
        low, high = sorted((base + out * start, base + out * stop))
        ring = facet(path, chord)
        if claim.word == "diamond":
            found += [_twisted(ring, reach, low, high, way, label) for way in (1, -1)]
        else:
            found.append(prism(_outside(ring, reach, label), low, high, label, label))
    return found


def _few_enough(entry: Entry, outer: list[Stretch]) -> None:
    """Trouble('too-many-facets') where teeth, or crossings of a diamond grip, would be too many to cut in good time."""
    radius = max((max(one.first, one.second) for one in outer), default=1.0)
    # a count that no outline can have is answered with its own line
    some = [one for one in entry.all("serrated", "splines", "diamond") if one.number("count") <= MOST]
    teeth = sum(claim.number("count") for claim in some)
    crossings = sum(
        claim.number("count") ** 2 * CLIMB * abs(claim.number("stop") - claim.number("start")) / (math.pi * radius)
        for claim in some
        if claim.word == "diamond"
    )
    if teeth > MOST_TEETH or crossings > MOST_CROSSINGS or len(entry.all(*CUTS)) > MOST_CUTS:
        raise Trouble("too-many-facets", f"the teeth of turning `{entry.name}` are too many to cut", (entry.name,),
                      advice=("fewer or coarser teeth, or a shorter stretch of them",))  # fmt: skip


def _outline(entry: Entry, claim: Claim, reach: float, label: int) -> Path:
    """What stays, seen along the axis."""
    if claim.word in ("serrated", "splines", "diamond"):
        word = "splines" if claim.word == "splines" else "serrated"
        return toothed(word, (0.0, 0.0), reach, claim.number("depth"), int(claim.number("count")), 0.0, label,
                       reach + BEYOND)  # fmt: skip
    size = claim.number("size")
    if claim.word == "flat":
        towards = FACING.get(claim.word_of("word") or "top")
        if towards is None:
            raise Trouble("no-such-side", f"the flat of `{entry.name}` can face left, right, top or bottom", (entry.name,))
        if size >= 2.0 * reach:
            raise Trouble("flat-misses", f"the flat of `{entry.name}` ({size:g} across) does not cut its round "
                          f"({2 * reach:g})", (entry.name,), advice=(SMALLER_FLAT,))  # fmt: skip
        # Read across, from the flat to the far side of the round; the arc is drawn further out, where there is nothing.
        return flatted((0.0, 0.0), reach + BEYOND, size - reach, towards, label)
    sides = 6 if claim.word == "hex" else 4
    if size >= 2.0 * reach:
        raise Trouble("flat-misses", f"the {claim.word} of `{entry.name}` ({size:g} across) does not cut its round "
                      f"({2 * reach:g})", (entry.name,), advice=_over_corners(claim.word, size, sides))  # fmt: skip
    return polygon((0.0, 0.0), size, sides, 0.5 * math.pi, label)


def _over_corners(word: str, size: float, sides: int) -> tuple[str, ...]:
    """What would do where a hex or square is as large as its round: a round that reaches over its corners."""
    over = size / math.cos(math.pi / sides)
    return (f"the {word} is cut out of the round: make that {over:.2f} across there, over the corners, or a little less",
            f"or a smaller {word}")  # fmt: skip


def _outside(ring: Ring, reach: float, label: int) -> Region:
    """All that lies outside a ring, as far as a square that holds any turned shape of this radius."""
    far = max(reach + BEYOND, float(np.hypot(*ring.points.T).max())) + BEYOND
    square = np.array([(-far, -far), (far, -far), (far, far), (-far, far)])
    hole = Ring(ring.points[::-1], np.roll(ring.labels[::-1], -1))
    return Region((Ring(square, np.full(4, label, dtype=np.int32)), hole))


def _twisted(ring: Ring, reach: float, low: float, high: float, way: int, label: int) -> Solid:
    """All outside a ring that turns as it climbs."""
    turn = way * CLIMB * (high - low) / reach
    count = max(1, math.ceil(abs(turn) / STEP))
    if count > MOST_LEVELS:
        raise Trouble("bad-station", "a diamond grip this long and thin can't be drawn", advice=("make it shorter",))
    flat = _outside(ring, 2.0 * reach, label)
    levels = []
    for k in range(count + 1):
        angle = turn * k / count
        spin = np.array([[math.cos(angle), math.sin(angle)], [-math.sin(angle), math.cos(angle)]])
        rings = tuple(Ring(one.points @ spin, one.labels) for one in flat.rings)
        levels.append(Level(low + (high - low) * k / count, Region(rings)))
    return stack(levels, label, label)
