"""Is a wall of a turning too thin: between its outside and its bore, or beside a hole along its axis?

A turning is round, so its walls are differences of radii; the outside at a place is the largest station there
unless a groove cuts it, the bore is the widest (as `profile` builds it)."""

from __future__ import annotations

import itertools
from collections.abc import Iterable, Iterator

import numpy as np

from ...checks.gaps import core_gaps
from ...checks.openings import PlaneOpenings, Survey
from ...checks.walls import EXACT, MEETS, WALL, ThinWall, shown, told
from ...diagnostics.types import Diagnostic, Label, Severity
from ...model.sections import BoxSection
from ...model.types import Said
from .model import Shaped, Teeth, Turning
from .stretches import Stretch, outside_of, stretch_of


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
        if group.body.name == turning.name and turning.plane == group.plane and not turning.lies:
            yield from told(_beside(group, turning, outside, inside))


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
    group: PlaneOpenings, turning: Turning, outside: list[Stretch], inside: list[Stretch]
) -> Iterator[ThinWall]:
    centre, base, out = turning.placed.at, turning.placed.base, turning.placed.out
    some = group.stadiums()
    axis = np.repeat(np.array([centre], dtype=np.float64), len(some.p), axis=0)
    far = np.maximum(np.hypot(*(some.p - axis).T), np.hypot(*(some.q - axis).T)) + some.radius
    near = core_gaps(some.p, some.q, axis, axis)[0] - some.radius
    for i, opening in enumerate(group.openings):
        if opening.mouth is not None and opening.mouth.conical:
            continue
        rows = some.owner == i
        farthest, nearest = float(far[rows].max()), float(near[rows].min())
        stations = sorted(((opening.low - base) * out, (opening.high - base) * out))
        for one, is_outer in (*((one, True) for one in outside), *((one, False) for one in inside)):
            start, stop = max(one.start, stations[0]), min(one.stop, stations[1])
            if stop - start <= MEETS:
                continue
            radii = (one.radius(start), one.radius(stop))
            thick = min(radii) - farthest if is_outer else nearest - max(radii)
            other = f"the outside of `{group.body.name}`" if is_outer else f"the bore of `{group.body.name}`"
            cuts_in = is_outer and nearest < max(radii) - MEETS
            runs_out = cuts_in and not isinstance(opening.hole.section, BoxSection) and opening.mouth is None
            if thick < WALL - EXACT and (thick > MEETS or runs_out):
                yield ThinWall(
                    thick, opening, other, _line(one).span, (opening.hole.name, "turned", _line(one).text)
                )
