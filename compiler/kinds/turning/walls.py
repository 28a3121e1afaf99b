"""Is a wall of a turning too thin: between its outside and its bore, or beside a hole along its axis?

A turning is round, so its walls are differences of radii; the outside at a place is the largest station there
unless a groove cuts it, the bore is the widest (as `profile` builds it)."""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterable, Iterator

import numpy as np
from msgspec import Struct

from ...checks.gaps import core_gaps
from ...checks.openings import Opening, PlaneOpenings, Survey
from ...checks.walls import BESIDE, EXACT, MEETS, WALL, ThinWall, shown, told
from ...diagnostics.types import Diagnostic, Label, Severity
from ...model.sections import BoxSection
from ...model.types import Said
from ...quantities.vectors import XY, dot
from .model import Shaped, Teeth, Turning
from .stretches import Stretch, outside_of, stretch_of

ROUND_ABOUT = 48
"""So many places about an opening are looked at for what lies outside the turning."""


def stretches(turning: Turning) -> tuple[list[Stretch], list[Stretch]]:
    """The outside and the bore of a turning as stretches between which nothing begins or ends; the lines that
    hold there.
    """
    outer = outside_of(turning)
    grooves = [stretch_of(station) for station in turning.grooves]
    grooves += [_floor(one) for one in turning.shaped if one.word != "bead"]
    bored = [stretch_of(station) for station in turning.bored]
    for one in turning.threads:
        ground = Stretch(one.start, one.stop, one.ground, one.ground, said=one.said)
        (grooves if one.form.outside else bored).append(ground)
    teeth = [grip for grip in turning.grips if isinstance(grip, Teeth)]
    ends = [(one.start, one.stop) for one in (*outer, *grooves, *bored)]
    places = sorted({place for some in (*ends, *(grip.stretch for grip in teeth)) for place in some})
    outside: list[Stretch] = []
    inside: list[Stretch] = []
    for start, stop in itertools.pairwise(places):
        middle = 0.5 * (start + stop)
        standing = _here(outer, middle)
        if not standing:
            continue
        picked = standing[-1]
        toothed = [grip for grip in teeth if grip.stretch[0] < middle < grip.stretch[1]]
        cut = [*_here(grooves, middle)[:1], *(_toothed(picked, grip) for grip in toothed)]
        picked = min([picked, *cut], key=lambda one: one.radius(middle))
        outside.append(_cropped(picked, start, stop))
        inside.extend(_cropped(one, start, stop) for one in _here(bored, middle)[-1:])
    return outside, inside


def _here(some: Iterable[Stretch], middle: float) -> list[Stretch]:
    """The stretches at a place, the smallest radius first."""
    there = [one for one in some if one.start < middle < one.stop]
    return sorted(there, key=lambda one: (one.radius(middle), _line(one).text))


def _line(one: Stretch) -> Said:
    assert one.said is not None
    return one.said


def _toothed(one: Stretch, grip: Teeth) -> Stretch:
    """The floors of teeth in the surface that they follow."""
    deep = grip.depth.value
    return Stretch(one.start, one.stop, one.first - deep, one.second - deep, said=grip.said)


def _floor(one: Shaped) -> Stretch:
    """A cove or vee taken for a groove of its floor's diameter: its thinnest wall is the same."""
    middle, half, radius = one.station.value, 0.5 * one.wide.value, 0.5 * one.size.value
    return Stretch(middle - half, middle + half, radius, radius, said=one.said)


def _cropped(one: Stretch, start: float, stop: float) -> Stretch:
    return Stretch(start, stop, one.radius(start), one.radius(stop), said=one.said)


def thin_turning(scene: Survey, turning: Turning) -> Iterator[Diagnostic]:
    """Warnings for the walls of a turning, and notes for holes that run out through its side."""
    outside, inside = stretches(turning)
    yield from _shells(turning, outside, inside)
    for group in scene.groups():
        if group.body.name == turning.name and (axis := _axis_on(scene, turning, group.plane)) is not None:
            yield from told(_beside(scene, group, axis, outside, inside))


class _AxisOn(Struct, frozen=True):
    """Where a plane that stands square to the axis of a turning sees it: the axis' place, and over that plane
    the height of station 0 and the sense (+1 or -1) in which stations count up."""

    at: XY
    base: float
    sense: int


def _axis_on(scene: Survey, turning: Turning, plane: str) -> _AxisOn | None:
    """None where the plane does not stand square to the axis."""
    frame = scene.model.frames[plane]
    share = dot(turning.way, frame.out)
    if abs(abs(share) - 1.0) > 1e-9:
        return None
    at, base = frame.onto(turning.axis.point((0.0, 0.0), 0.0 if turning.lies else turning.placed.base))
    return _AxisOn(at, base, 1 if share > 0.0 else -1)


def _shells(turning: Turning, outside: list[Stretch], inside: list[Stretch]) -> Iterator[Diagnostic]:
    """The wall between outside and bore: straight between its ends, so the thinner end is its thickness."""
    thinnest: dict[tuple[str, str], tuple[float, float, Stretch, Stretch]] = {}
    for outer, inner in itertools.product(outside, inside):
        if outer.start != inner.start:
            continue
        for place in (outer.start, outer.stop):
            thick = outer.radius(place) - inner.radius(place)
            key = (_line(outer).text, _line(inner).text)
            if thick < WALL - 1e-9 and (key not in thinnest or thick < thinnest[key][0]):
                thinnest[key] = (thick, place, outer, inner)
    for thick, place, outer, inner in thinnest.values():
        yield Diagnostic(
            "thin-wall",
            Severity.WARNING,
            f"the wall of turning `{turning.name}` is only {shown(thick)} thick at {place:g}",
            _line(inner).span,
            others=(Label(_line(outer).span, "the wall ends here"),),
            advice=(f"two strands of a 0.4 nozzle need {WALL:g}: bore it less, or make it larger outside",),
        )


def _beside(
    scene: Survey, group: PlaneOpenings, axis: _AxisOn, outside: list[Stretch], inside: list[Stretch]
) -> Iterator[ThinWall]:
    some = group.stadiums()
    centre = np.repeat(np.array([axis.at], dtype=np.float64), len(some.p), axis=0)
    far = np.maximum(np.hypot(*(some.p - centre).T), np.hypot(*(some.q - centre).T)) + some.radius
    near = core_gaps(some.p, some.q, centre, centre)[0] - some.radius
    for i, opening in enumerate(group.openings):
        if opening.mouth is not None and opening.mouth.conical:
            continue
        rows = some.owner == i
        farthest, nearest = float(far[rows].max()), float(near[rows].min())
        stations = sorted((end - axis.base) * axis.sense for end in (opening.low, opening.high))
        for one, is_outer in (*((one, True) for one in outside), *((one, False) for one in inside)):
            start, stop = max(one.start, stations[0]), min(one.stop, stations[1])
            if stop - start <= MEETS:
                continue
            radii = (one.radius(start), one.radius(stop))
            thick = min(radii) - farthest if is_outer else nearest - max(radii)
            other = f"the outside of `{group.body.name}`" if is_outer else f"the bore of `{group.body.name}`"
            cuts_in = is_outer and nearest < max(radii) - MEETS
            runs_out = cuts_in and not isinstance(opening.hole.section, BoxSection) and opening.mouth is None
            if thick >= WALL - EXACT or not (thick > MEETS or runs_out):
                continue
            if is_outer and _goes_on(scene, group, axis, opening, _cropped(one, start, stop), thick):
                continue
            yield ThinWall(
                thick, opening, other, _line(one).span, (opening.hole.name, "turned", _line(one).text)
            )


def _goes_on(
    scene: Survey, group: PlaneOpenings, axis: _AxisOn, opening: Opening, outer: Stretch, thick: float
) -> bool:
    """True where other bodies' material lies outside a stretch of a turning wherever an opening comes
    nearest to it or leaves it: there it has no wall, and is not open to the air."""
    frame, others = scene.model.frames[group.plane], scene.bodies_but(group.body.name)
    reach = opening.radius + max(thick, 0.0) + BESIDE
    around = _around(opening, axis.at, reach)
    for share in (0.02, 0.5, 0.98):
        station = outer.start + share * (outer.stop - outer.start)
        height = axis.base + axis.sense * station
        # where the outside tapers, the wall is thinnest at one end only
        beyond = [at for at in around if math.dist(at, axis.at) > outer.radius(station)]
        if not all(scene.held(others, frame.point(at, height)) for at in beyond):
            return False
    return True


def _around(opening: Opening, centre: XY, reach: float) -> list[XY]:
    """Places at a distance about the ends of an opening's cores, one of them straight away from a centre."""
    found = []
    for end in dict.fromkeys(itertools.chain.from_iterable(opening.cores)):
        away = math.atan2(end[1] - centre[1], end[0] - centre[0])
        turns = (away + math.tau * k / ROUND_ABOUT for k in range(ROUND_ABOUT))
        found += [(end[0] + reach * math.cos(turn), end[1] + reach * math.sin(turn)) for turn in turns]
    return found
