"""What is cut round a stretch of a turning: serrations, splines, a diamond grip, a hexagon, a square, a flat.

Teeth follow the surface of the stretch (a taper, a step, a bead) and are as deep as asked everywhere; what
was let into it is cut as far as it stands higher than their floors.  A diamond grip is two sets of serrations
that climb at 30 degrees where the stretch is widest, one each way (common practice, no source).  A hexagon, a
square and a flat are planes: all outside them goes."""

from __future__ import annotations

import itertools
import math

from ...diagnostics.types import Trouble
from ...mesh.combine import remove
from ...mesh.kernel import Solid
from ...mesh.meeting import NEAR
from ...mesh.prisms import prism
from ...model.holes import FACING, SMALLER_FLAT
from ...outlines import Path, facet, flatted, polygon
from ...outlines.marks import Marks
from ...outlines.teeth import MOST
from .model import CutFlats, Grip, Teeth, Turning
from .profile import LEAST_WALL, AsBuilt, bore_of, surface_of
from .stretches import NO_ROOM, Stretch, clipped, outside_of
from .teeth import BEYOND, CLIMB, outside_ring, teeth

MOST_TEETH = 2_000
MOST_CROSSINGS = 8_000
MOST_CUTS = 40
MOST_OVERLAPS = 12
NOTHING = 1e-3  # mm3: a cut that takes less changes nothing
TOUCHED = 1e-6  # mm along the axis


def gripped(solid: Solid, built: AsBuilt, marks: Marks, chord: float) -> Solid:
    """A turning with all that is cut round it.

    Forces the kernel to work where there is such a cut.  Raises Trouble: 'grip-misses' for one without which
    the turning would be the same, 'no-wall' where teeth reach the bore, 'bad-station', 'bad-count',
    'bad-size', 'flat-misses', 'no-such-side', 'too-many-facets'."""
    turning, grips = built.turning, built.turning.grips
    if not grips:
        return solid
    surface = surface_of(built, marks)
    _few_enough(turning, surface)
    ends = [place for one in surface for place in (one.start, one.stop)]
    places = [_settled(_along(grip, built.base, built.out), ends) for grip in grips]
    for grip, between in zip(grips, places, strict=True):
        if isinstance(grip, Teeth):
            _above_bore(turning.name, grip, clipped(surface, *between), bore_of(built.profile))
    overlaps = sum(a[0] < b[1] and b[0] < a[1] for a, b in itertools.combinations(places, 2))
    if overlaps > MOST_OVERLAPS:
        raise Trouble(
            "too-many-facets",
            f"too many grips of turning `{turning.name}` lie over one another",
            (turning.name,),
            advice=("leave out those that others take away again",),
        )
    cuts = [
        (between, _cutters(turning, grip, surface, marks.of(turning.name, grip.word), between, chord))
        for grip, between in zip(grips, places, strict=True)
    ]
    for k, (grip, ((low, high), tools)) in enumerate(zip(grips, cuts, strict=True)):
        cut = remove(solid, tools)
        # a later cut over the same stretch may take all that this one does
        later = [
            tool for (start, stop), some in cuts[k + 1 :] if start < high and stop > low for tool in some
        ]
        if remove(solid, later).volume() - remove(cut, later).volume() <= NOTHING:
            raise Trouble(
                "grip-misses",
                f"`{grip.said.text}` changes nothing of turning `{turning.name}`",
                (turning.name,),
                span=grip.said.span,
                advice=("something else is cut as deep there: check the places and the sizes",),
            )
        solid = cut
    return solid


def beyond(turning: Turning, grip: Grip) -> list[tuple[float, float]]:
    """From where to where a cut runs past the ends of its turning."""
    start, stop = grip.stretch
    outer = outside_of(turning)
    low, high = min(one.start for one in outer), max(one.stop for one in outer)
    return [(a, b) for a, b in ((start, min(stop, low)), (max(start, high), stop)) if b - a > TOUCHED]


def untouched(turning: Turning, grip: CutFlats) -> list[tuple[float, float]]:
    """From where to where on the axis the stations under a hexagon, square or flat are too thin for it to
    cut.
    """
    start, stop = grip.stretch
    outer = outside_of(turning)
    some = clipped(outer, start, stop)
    reach = max((max(one.first, one.second) for one in some), default=0.0)
    away = _away(grip, reach)
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


def _along(grip: Grip, base: float, out: int) -> tuple[float, float]:
    """From where to where a cut runs, as built."""
    low, high = sorted((base + out * grip.start.value, base + out * grip.stop.value))
    return low, high


def _above_bore(name: str, grip: Teeth, under: list[Stretch], bore: list[Stretch]) -> None:
    """Trouble('no-wall') where the floors of teeth reach the bore."""
    for one in under:
        for other in clipped(bore, one.start, one.stop):
            for place, hollow in ((other.start, other.first), (other.stop, other.second)):
                floor = one.radius(place) - grip.depth.value
                if floor <= hollow + LEAST_WALL:
                    raise Trouble(
                        "no-wall",
                        f"`{grip.said.text}` leaves no wall of turning `{name}`: its floors are "
                        f"{2 * floor:.4g} across, its bore is {2 * hollow:.4g}",
                        (name,),
                        advice=("make the teeth less deep, or bore it less",),
                        span=grip.said.span,
                    )


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
    turning: Turning,
    grip: Grip,
    surface: list[Stretch],
    label: int,
    between: tuple[float, float],
    chord: float,
) -> list[Solid]:
    low, high = between
    start, stop = grip.stretch
    if high - low < NO_ROOM:
        raise Trouble(
            "bad-station",
            f"`{grip.said.text}` begins and ends at the same place",
            (turning.name,),
            span=grip.said.span,
        )
    under = clipped(surface, low, high)
    if not under:
        raise Trouble(
            "bad-station",
            f"turning `{turning.name}` has nothing from {start:g} to {stop:g}: `{grip.said.text}`",
            (turning.name,),
            span=grip.said.span,
        )
    widest = max(max(one.first, one.second) for one in surface)
    if isinstance(grip, Teeth):
        ways = (1, -1) if grip.word == "diamond" else (0,)
        return [teeth(grip, under, widest, way, label, chord) for way in ways]
    ring = facet(_planes(turning, grip, widest, label), chord)
    return [prism(outside_ring(ring, widest, label), low, high, label, label)]


def _few_enough(turning: Turning, surface: list[Stretch]) -> None:
    """Trouble('too-many-facets') where teeth, or crossings of a diamond grip, would be too many to cut in
    good time.
    """
    radius = max((max(one.first, one.second) for one in surface), default=1.0)
    # a count that no outline can have is answered with its own line
    some = [one for one in turning.grips if isinstance(one, Teeth) and one.count <= MOST]
    count = sum(grip.count for grip in some)
    crossings = sum(
        grip.count**2 * CLIMB * abs(grip.stop.value - grip.start.value) / (math.pi * radius)
        for grip in some
        if grip.word == "diamond"
    )
    if count > MOST_TEETH or crossings > MOST_CROSSINGS or len(turning.grips) > MOST_CUTS:
        raise Trouble(
            "too-many-facets",
            f"the teeth of turning `{turning.name}` are too many to cut",
            (turning.name,),
            advice=("fewer or coarser teeth, or a shorter stretch of them",),
        )


def _planes(turning: Turning, grip: CutFlats, widest: float, label: int) -> Path:
    """What stays of a hexagon, a square or a flat, seen along the axis; its rounds lie where there is
    nothing.
    """
    start, stop = grip.stretch
    some = clipped(outside_of(turning), start, stop)
    reach, size = max(max(one.first, one.second) for one in some), grip.size.value
    if grip.word == "flat" and (grip.facing or "top") not in FACING:
        raise Trouble(
            "no-such-side",
            f"the flat of `{turning.name}` can face left, right, top or bottom",
            (turning.name,),
            span=grip.said.span,
        )
    if size >= 2.0 * reach:
        raise Trouble(
            "flat-misses",
            f"the {grip.word} of `{turning.name}` ({size:g} across) does not cut its round "
            f"({2 * reach:.4g}): `{grip.said.text}`",
            (turning.name,),
            advice=_larger(grip.word, size),
            span=grip.said.span,
        )
    away = _away(grip, reach)
    if grip.word != "flat":
        return polygon((0.0, 0.0), size, 6 if grip.word == "hex" else 4, 0.5 * math.pi, label)
    gone = [one for one in some if min(one.first, one.second) <= -away]
    if gone:
        raise Trouble(
            "bad-size",
            f"`{grip.said.text}` leaves nothing of turning `{turning.name}` from {gone[0].start:.4g} to "
            f"{gone[0].stop:.4g}",
            (turning.name,),
            span=grip.said.span,
            advice=(f"it is read across the widest round ({2 * reach:.4g}): let it end at the step",),
        )
    return flatted((0.0, 0.0), widest + BEYOND, away, FACING[grip.facing or "top"], label)


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


def _away(grip: CutFlats, reach: float) -> float:
    """How far from the axis the planes lie: a flat is read across, from it to the far side of the widest
    round.
    """
    size = grip.size.value
    return size - reach if grip.word == "flat" else 0.5 * size
