"""Is a wall of a turning too thin: between its outside and its bore, or beside a hole along its axis?

A turning is round, so its walls are differences of radii; the outside at a place is the largest station there
unless a groove cuts it, the bore is the widest (as `solids.sections` builds it)."""

from __future__ import annotations

import itertools
from collections.abc import Iterator
from typing import TYPE_CHECKING

import numpy as np
from msgspec import Struct

from ..diagnostics.types import Diagnostic, Label, Severity
from ..facts import Claim, Claims, Entry
from ..facts.needs import THREAD_WORDS
from ..model.sections import BoxSection
from .gaps import core_gaps
from .openings import Group, Scene
from .walls import EXACT, MEETS, WALL, Wall, shown, told

if TYPE_CHECKING:
    from ..mesh.threading import Winding


class Stretch(Struct, frozen=True):
    """A stretch of the axis (start < stop, mm from station 0) with the radii at its ends, and the claim
    behind it.
    """

    start: float
    stop: float
    first: float
    second: float
    claim: Claim

    def radius(self, place: float) -> float:
        """The radius at a place on the axis."""
        return self.first + (place - self.start) / (self.stop - self.start) * (self.second - self.first)


def _windings(entry: Entry, claims: Claims) -> tuple[Winding, ...]:
    if not entry.has(*THREAD_WORDS):
        return ()
    from ..mesh.threading import windings

    return windings(entry, claims)


def stretches(entry: Entry, claims: Claims) -> tuple[list[Stretch], list[Stretch]]:
    """The outside and the bore of a turning as stretches between which nothing begins or ends; the claims
    that hold there.
    """
    outer = [_stretch(claim) for claim in entry.all("across", "taper")]
    grooves = [*(_stretch(claim) for claim in entry.all("groove")), *map(_floor, entry.all("cove", "vee"))]
    bored = [_stretch(claim) for claim in entry.all("bored", "bored taper")]
    for one in _windings(entry, claims):
        (grooves if one.form.outside else bored).append(
            Stretch(one.start, one.stop, one.ground, one.ground, one.claim)
        )
    teeth = [_stretch(claim) for claim in entry.all("serrated", "splines", "diamond")]
    places = sorted({place for one in (*outer, *grooves, *bored, *teeth) for place in (one.start, one.stop)})
    outside: list[Stretch] = []
    inside: list[Stretch] = []
    for start, stop in itertools.pairwise(places):
        middle = 0.5 * (start + stop)

        def here(some: list[Stretch], middle: float = middle) -> list[tuple[float, str, Stretch]]:
            return sorted(
                (one.radius(middle), one.claim.text, one) for one in some if one.start < middle < one.stop
            )

        if not here(outer):
            continue
        picked = here(outer)[-1]
        toothed = [one for one in teeth if one.start < middle < one.stop]
        cut = [
            *here(grooves)[:1],
            *((one.radius(middle), one.claim.text, one) for one in _floors(picked[2], toothed)),
        ]
        picked = min([picked, *cut], key=lambda one: one[0])
        outside.append(_cropped(picked[2], start, stop))
        inside.extend(_cropped(one[2], start, stop) for one in here(bored)[-1:])
    return outside, inside


def _stretch(claim: Claim) -> Stretch:
    start, stop = claim.number("start"), claim.number("stop")
    tapers, own = "taper" in claim.word, "depth" if claim.get("depth") is not None else "size"
    first, second = (claim.number("first"), claim.number("second")) if tapers else (claim.number(own),) * 2
    if start > stop:
        start, stop, first, second = stop, start, second, first
    return Stretch(start, stop, 0.5 * first, 0.5 * second, claim)


def _floors(one: Stretch, teeth: list[Stretch]) -> list[Stretch]:
    """The floors of teeth, whose stretches hold half their depth, in the surface that they follow."""
    return [
        Stretch(one.start, one.stop, one.first - 2.0 * it.first, one.second - 2.0 * it.first, it.claim)
        for it in teeth
    ]


def _floor(claim: Claim) -> Stretch:
    """A cove or vee taken for a groove of its floor's diameter: its thinnest wall is the same."""
    middle, half, radius = claim.number("station"), 0.5 * claim.number("wide"), 0.5 * claim.number("size")
    return Stretch(middle - half, middle + half, radius, radius, claim)


def _cropped(one: Stretch, start: float, stop: float) -> Stretch:
    return Stretch(start, stop, one.radius(start), one.radius(stop), one.claim)


def thin_turnings(scene: Scene) -> list[Diagnostic]:
    """Warnings for the walls of turnings, and notes for holes that run out through their side."""
    found: list[Diagnostic] = []
    shapes = {entry.name: stretches(entry, scene.claims) for entry in scene.claims.of_kind("turning")}
    for name, (outside, inside) in shapes.items():
        found.extend(_shells(scene.claims.entries[name], outside, inside))
    for group in scene.groups():
        spot = scene.layout.spots.get(group.body.name)
        if (
            group.body.name in shapes
            and spot is not None
            and spot.page == group.plane
            and group.body.round_radius is not None
        ):
            found.extend(told(_beside(group, spot.at, spot.base, spot.out, *shapes[group.body.name])))
    return found


def _shells(entry: Entry, outside: list[Stretch], inside: list[Stretch]) -> list[Diagnostic]:
    """The wall between outside and bore: straight between its ends, so the thinner end is its thickness."""
    thinnest: dict[tuple[str, str], tuple[float, float, Stretch, Stretch]] = {}
    for outer, inner in itertools.product(outside, inside):
        if outer.start != inner.start:
            continue
        for place in (outer.start, outer.stop):
            thick = outer.radius(place) - inner.radius(place)
            key = (outer.claim.text, inner.claim.text)
            if thick < WALL - 1e-9 and (key not in thinnest or thick < thinnest[key][0]):
                thinnest[key] = (thick, place, outer, inner)
    found = []
    for thick, place, outer, inner in thinnest.values():
        said = f"the wall of turning `{entry.name}` is only {shown(thick)} thick at {place:g}"
        advice = (f"two strands of a 0.4 nozzle need {WALL:g}: bore it less, or make it larger outside",)
        found.append(
            Diagnostic(
                "thin-wall",
                Severity.WARNING,
                said,
                inner.claim.span,
                others=(Label(outer.claim.span, "the wall ends here"),),
                advice=advice,
            )
        )
    return found


def _beside(
    group: Group,
    centre: tuple[float, float],
    base: float,
    out: int,
    outside: list[Stretch],
    inside: list[Stretch],
) -> Iterator[Wall]:
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
                yield Wall(
                    thick, opening, other, one.claim.span, (opening.hole.name, "turned", one.claim.text)
                )
