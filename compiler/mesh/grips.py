"""What is cut round a stretch of a turning: serrations, splines, a diamond grip, a hexagon, a square, a flat.

Teeth follow the surface of the stretch (a taper, a step, a bead) and are as deep as asked everywhere; what
was let into it is cut as far as it stands higher than their floors.  A diamond grip is two sets of serrations
that climb at 30 degrees where the stretch is widest, one each way (common practice, no source).  A hexagon, a
square and a flat are planes: all outside them goes."""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence

import numpy as np

from ..diagnostics.types import Trouble
from ..facts import Claim, Entry
from ..outlines import Path, Region, Ring, facet, flatted, polygon
from ..outlines.marks import Marks
from ..outlines.outlining import FACING, SMALLER_FLAT
from ..outlines.teeth import MOST, toothed
from .combine import remove
from .kernel import Solid
from .meeting import NEAR
from .prisms import Level, prism, stack
from .sections import LEAST_WALL, Profile, bore_of, outside_of, surface_of
from .stations import Stretch

TOOTHED = ("serrated", "splines", "diamond")
PLANE = ("hex", "square", "flat")
CUTS = (*TOOTHED, *PLANE)
CLIMB = math.tan(math.radians(30.0))
STEP = math.radians(4.0)
MOST_LEVELS = 2_000
MOST_CORNERS = 40_000
MOST_TEETH = 2_000
MOST_CROSSINGS = 8_000
MOST_CUTS = 40
MOST_OVERLAPS = 12
BEYOND = 1.0
NOTHING = 1e-3  # mm3: a cut that takes less changes nothing
TOUCHED = 1e-6  # mm along the axis
NO_ROOM = 1e-9  # mm
# mm along the axis in which teeth get over a step: in no height, all their faces there would lie in one plane
OFF_STEP = 1e-3
# mm that pointed crowns stay under the surface: at the very corner of a facet they would touch it edge on
# edge
UNDER = 1e-4


def gripped(
    solid: Solid, entry: Entry, profile: Profile, marks: Marks, base: float, out: int, chord: float
) -> Solid:
    """A turning (its axis z, its station 0 at `base`, its half `profile` as built) with all that is cut round
    it.

    Forces the kernel to work where there is such a cut.  Raises Trouble: 'grip-misses' for one without which
    the turning would be the same, 'no-wall' where teeth reach the bore, 'bad-station', 'bad-count',
    'bad-size', 'flat-misses', 'no-such-side', 'too-many-facets'."""
    claims = entry.all(*CUTS)
    if not claims:
        return solid
    surface = surface_of(entry, profile, marks, base, out)
    _few_enough(entry, surface)
    ends = [place for one in surface for place in (one.start, one.stop)]
    places = [_settled(_along(claim, base, out), ends) for claim in claims]
    for claim, between in zip(claims, places, strict=True):
        if claim.word in TOOTHED:
            _above_bore(entry, claim, _clipped(surface, *between), bore_of(profile))
    overlaps = sum(a[0] < b[1] and b[0] < a[1] for a, b in itertools.combinations(places, 2))
    if overlaps > MOST_OVERLAPS:
        raise Trouble(
            "too-many-facets",
            f"too many grips of turning `{entry.name}` lie over one another",
            (entry.name,),
            advice=("leave out those that others take away again",),
        )
    cuts = [
        (between, _cutters(entry, claim, surface, marks.of(entry.name, claim.word), between, chord))
        for claim, between in zip(claims, places, strict=True)
    ]
    for k, (claim, ((low, high), tools)) in enumerate(zip(claims, cuts, strict=True)):
        cut = remove(solid, tools)
        # a later cut over the same stretch may take all that this one does
        later = [
            tool for (start, stop), some in cuts[k + 1 :] if start < high and stop > low for tool in some
        ]
        if remove(solid, later).volume() - remove(cut, later).volume() <= NOTHING:
            raise Trouble(
                "grip-misses",
                f"`{claim.text}` changes nothing of turning `{entry.name}`",
                (entry.name,),
                advice=("something else is cut as deep there: check the places and the sizes",),
            )
        solid = cut
    return solid


def beyond(entry: Entry, claim: Claim) -> list[tuple[float, float]]:
    """From where to where a cut runs past the ends of its turning."""
    start, stop = sorted((claim.number("start"), claim.number("stop")))
    outer = outside_of(entry, 0)
    low, high = min(one.start for one in outer), max(one.stop for one in outer)
    return [(a, b) for a, b in ((start, min(stop, low)), (max(start, high), stop)) if b - a > TOUCHED]


def untouched(entry: Entry, claim: Claim) -> list[tuple[float, float]]:
    """From where to where on the axis the stations under a hexagon, square or flat are too thin for it to
    cut.
    """
    start, stop = sorted((claim.number("start"), claim.number("stop")))
    outer = outside_of(entry, 0)
    some = _clipped(outer, start, stop)
    reach = max((max(one.first, one.second) for one in some), default=0.0)
    away = _away(claim, reach)
    found: list[tuple[float, float]] = []
    for low, high in itertools.pairwise(
        sorted({place for one in some for place in (one.start, one.stop, *_meets(one, away))})
    ):
        middle = 0.5 * (low + high)
        radius = max((one.radius(middle) for one in some if one.start < middle < one.stop), default=None)
        if radius is None or radius > away + NO_ROOM or high - low <= TOUCHED:
            continue
        joins = bool(found) and low - found[-1][1] <= TOUCHED
        found[-1:] = [(found[-1][0], high)] if joins else [*found[-1:], (low, high)]
    return found


def _meets(one: Stretch, radius: float) -> tuple[float, ...]:
    """Where a taper is as wide as this."""
    if not min(one.first, one.second) < radius < max(one.first, one.second):
        return ()
    return (one.start + (one.stop - one.start) * (radius - one.first) / (one.second - one.first),)


def _along(claim: Claim, base: float, out: int) -> tuple[float, float]:
    """From where to where a cut runs, as built."""
    low, high = sorted((base + out * claim.number("start"), base + out * claim.number("stop")))
    return low, high


def _above_bore(entry: Entry, claim: Claim, under: list[Stretch], bore: list[Stretch]) -> None:
    """Trouble('no-wall') where the floors of teeth reach the bore."""
    for one in under:
        for other in _clipped(bore, one.start, one.stop):
            for place, hollow in ((other.start, other.first), (other.stop, other.second)):
                floor = one.radius(place) - claim.number("depth")
                if floor <= hollow + LEAST_WALL:
                    raise Trouble(
                        "no-wall",
                        f"`{claim.text}` leaves no wall of turning `{entry.name}`: its floors are "
                        f"{2 * floor:.4g} across, its bore is {2 * hollow:.4g}",
                        (entry.name,),
                        advice=("make the teeth less deep, or bore it less",),
                    )


def _clipped(surface: list[Stretch], low: float, high: float) -> list[Stretch]:
    """What of a surface lies from one place to another."""
    found = []
    for one in surface:
        start, stop = max(one.start, low), min(one.stop, high)
        if stop - start > NO_ROOM:
            found.append(Stretch(start, stop, one.radius(start), one.radius(stop), one.label))
    return found


def _settled(between: tuple[float, float], ends: list[float]) -> tuple[float, float]:
    """Two places, each taken for an end that lies as near as a rounding error, else another end from now on.

    What is left between a cut and an end beside it would be a skin.
    """
    found = []
    for place in between:
        near = [one for one in ends if abs(one - place) <= NEAR]
        found.append(near[0] if near else place)
        ends.append(found[-1])
    return found[0], found[1]


def _cutters(
    entry: Entry, claim: Claim, surface: list[Stretch], label: int, between: tuple[float, float], chord: float
) -> list[Solid]:
    low, high = between
    start, stop = sorted((claim.number("start"), claim.number("stop")))
    if high - low < NO_ROOM:
        raise Trouble("bad-station", f"`{claim.text}` begins and ends at the same place", (entry.name,))
    under = _clipped(surface, low, high)
    if not under:
        raise Trouble(
            "bad-station",
            f"turning `{entry.name}` has nothing from {start:g} to {stop:g}: `{claim.text}`",
            (entry.name,),
        )
    widest = max(max(one.first, one.second) for one in surface)
    if claim.word in TOOTHED:
        ways = (1, -1) if claim.word == "diamond" else (0,)
        return [_teeth(claim, under, widest, way, label, chord) for way in ways]
    ring = facet(_planes(entry, claim, widest, label), chord)
    return [prism(_outside(ring, widest, label), low, high, label, label)]


def _few_enough(entry: Entry, surface: list[Stretch]) -> None:
    """Trouble('too-many-facets') where teeth, or crossings of a diamond grip, would be too many to cut in
    good time.
    """
    radius = max((max(one.first, one.second) for one in surface), default=1.0)
    # a count that no outline can have is answered with its own line
    some = [one for one in entry.all(*TOOTHED) if one.number("count") <= MOST]
    teeth = sum(claim.number("count") for claim in some)
    crossings = sum(
        claim.number("count") ** 2
        * CLIMB
        * abs(claim.number("stop") - claim.number("start"))
        / (math.pi * radius)
        for claim in some
        if claim.word == "diamond"
    )
    if teeth > MOST_TEETH or crossings > MOST_CROSSINGS or len(entry.all(*CUTS)) > MOST_CUTS:
        raise Trouble(
            "too-many-facets",
            f"the teeth of turning `{entry.name}` are too many to cut",
            (entry.name,),
            advice=("fewer or coarser teeth, or a shorter stretch of them",),
        )


def _planes(entry: Entry, claim: Claim, widest: float, label: int) -> Path:
    """What stays of a hexagon, a square or a flat, seen along the axis; its rounds lie where there is
    nothing.
    """
    start, stop = sorted((claim.number("start"), claim.number("stop")))
    some = _clipped(outside_of(entry, 0), start, stop)
    reach, size = max(max(one.first, one.second) for one in some), claim.number("size")
    if claim.word == "flat" and (claim.word_of("word") or "top") not in FACING:
        raise Trouble(
            "no-such-side", f"the flat of `{entry.name}` can face left, right, top or bottom", (entry.name,)
        )
    if size >= 2.0 * reach:
        raise Trouble(
            "flat-misses",
            f"the {claim.word} of `{entry.name}` ({size:g} across) does not cut its round "
            f"({2 * reach:.4g}): `{claim.text}`",
            (entry.name,),
            advice=_larger(claim.word, size),
        )
    away = _away(claim, reach)
    if claim.word != "flat":
        return polygon((0.0, 0.0), size, 6 if claim.word == "hex" else 4, 0.5 * math.pi, label)
    gone = [one for one in some if min(one.first, one.second) <= -away]
    if gone:
        raise Trouble(
            "bad-size",
            f"`{claim.text}` leaves nothing of turning `{entry.name}` from {gone[0].start:.4g} to "
            f"{gone[0].stop:.4g}",
            (entry.name,),
            advice=(f"it is read across the widest round ({2 * reach:.4g}): let it end at the step",),
        )
    return flatted((0.0, 0.0), widest + BEYOND, away, FACING[claim.word_of("word") or "top"], label)


def _larger(word: str, size: float) -> tuple[str, ...]:
    """What would do where a hex or square is as large as its round: a round that reaches over its corners."""
    if word == "flat":
        return (SMALLER_FLAT,)
    over = size / math.cos(math.pi / (6 if word == "hex" else 4))
    return (
        (
            f"the {word} is cut out of the round: make that {over:.2f} "
            "across there, over the corners, or a little less"
        ),
        f"or a smaller {word}",
    )


def _away(claim: Claim, reach: float) -> float:
    """How far from the axis the planes lie: a flat is read across, from it to the far side of the widest
    round.
    """
    size = claim.number("size")
    return size - reach if claim.word == "flat" else 0.5 * size


def _outside(ring: Ring, widest: float, label: int) -> Region:
    """All that lies outside a ring, as far as a square that holds any turned shape of this radius."""
    far = max(widest + BEYOND, float(np.hypot(*ring.points.T).max())) + BEYOND
    square = np.array([(-far, -far), (far, -far), (far, far), (-far, far)])
    hole = Ring(ring.points[::-1], np.roll(ring.labels[::-1], -1))
    return Region((Ring(square, np.full(4, label, dtype=np.int32)), hole))


def _teeth(claim: Claim, under: list[Stretch], widest: float, way: int, label: int, chord: float) -> Solid:
    """All outside teeth whose crowns lie on a surface; with a `way` (1, -1) they climb to that side."""
    deep, count = claim.number("depth"), int(claim.number("count"))
    reach, least = (pick(pick(one.first, one.second) for one in under) for pick in (max, min))
    if deep >= least:
        raise Trouble(
            "bad-size",
            f"teeth {deep:g} deep leave nothing of a round of {2 * least:.4g}: `{claim.text}`",
            advice=("make them less deep, or let them end before it",),
        )
    word = "splines" if claim.word == "splines" else "serrated"
    crown = reach if word == "splines" else reach - min(UNDER, 0.01 * deep)
    ring = facet(
        toothed(word, (0.0, 0.0), crown, deep - reach + crown, count, 0.0, label, reach + BEYOND), chord
    )
    climb = way * CLIMB / reach
    levels = _off_steps(_levels(under, climb, reach, deep, count, chord), OFF_STEP)
    if len(levels) > MOST_LEVELS or len(levels) * len(ring.points) > MOST_CORNERS:
        raise Trouble(
            "too-many-facets",
            f"teeth this long and fine can't be cut: `{claim.text}`",
            advice=("make their stretch shorter, or the teeth coarser",),
        )
    out = np.hypot(*ring.points.T)[:, None]
    towards = ring.points / out
    some = []
    for z, radius in levels:
        angle = climb * (z - levels[0][0])
        spin = np.array([[math.cos(angle), math.sin(angle)], [-math.sin(angle), math.cos(angle)]])
        # the same depth at every height: all corners move along the radius by as much as the surface does
        moved = Ring((towards * (out + radius - reach)) @ spin, ring.labels)
        some.append(Level(z, _outside(moved, widest + BEYOND, label)))
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
