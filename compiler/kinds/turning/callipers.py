"""A turning measured back: its stations by the rings of its half profile, and where along the axis they begin
and end.

Of the model only this is asked: over which stretch the faces of a station are to be looked for."""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Sequence

import numpy as np
from msgspec import Struct

from ...callipers.bench import Bench
from ...callipers.locating import on_axis
from ...callipers.standing import raised, stands_at
from ...callipers.surfaces import Facets, RoundFace
from ...callipers.taking import Seen, sized
from ...callipers.turned import SAME, FoundAxis, Rings, axis_of_bands, ends, rings, upright, within
from ...callipers.types import ALLOWED, Taken
from ...model.stated import Number
from ...places.layout import Frame
from ...quantities.vectors import XY, along
from .. import needed_file
from .gripped import grip_rows
from .model import Shaped, Station, Teeth, Turning
from .worked import eased_rows, shaped_rows

HIDDEN = "it lies under a larger stretch"
GONE = "no face of it is left on the part"
RUNS_ON = "it runs on into a stretch of the same size"
WORKED = "what is worked into the turning there leaves no edge"
CUT_OFF = "it is cut off there"
BURIED = "other material meets it there"
NO_AXIS = "too little of the turning is left to find its axis"
AT = 1e-4
"""mm: a level face is that of a place where it was built no further off."""


class Lathe(Struct, frozen=True):
    """A turning between centres: its axis as the mesh has it, and its own faces."""

    bench: Bench
    turning: Turning
    axis: FoundAxis

    def faces(self, *details: str) -> Facets:
        """Its own faces, or some of them."""
        return self.bench.own(self.turning, 1, *details)


def where(bench: Bench, turning: Turning, number: int, frame: Frame) -> tuple[tuple[XY, float], ...]:
    """Where its axis is on a plane, by its round faces."""
    axis = axis_of(bench, turning, number)
    if axis is None:
        return ()
    face = RoundFace(axis.start, axis.way, 0.0, False, 0.0, 0.0, 0.0)
    return on_axis(face, frame, bench.home(turning, number))


def axis_of(bench: Bench, turning: Turning, number: int = 1) -> FoundAxis | None:
    """The axis by the round faces of the turning or a copy of it, its station 0 where it stands."""
    way = bench.turned(turning, number, turning.way)
    words = {*(one.word for one in (*turning.shaped, *turning.eased, *turning.grips))}
    details = ("side", "bore", "groove", *sorted(words), "thread")
    groups = (bench.own(turning, number, detail) for detail in details)
    axis = axis_of_bands(groups, bench.home(turning, number), way)
    if axis is None or turning.lies or number > 1:
        return axis
    base = stands_at(bench, turning, way)
    return axis if base is None else FoundAxis(along(axis.start, (way, base)), way, axis.right, axis.up)


def measures(bench: Bench, turning: Turning) -> Iterator[Taken]:
    """Its stations, what is worked into them, and its threads."""
    axis = axis_of(bench, turning)
    if axis is None:
        for number in turning.numbers:
            if number.word not in ("at", "from", "over", "angle"):
                yield sized(turning, number, None, NO_AXIS)
        return
    lathe = Lathe(bench, turning, axis)
    for some, detail, inside in (
        (turning.outer, "side", False),
        (turning.bored, "bore", True),
        (turning.grooves, "groove", False),
    ):
        for station in some:
            yield from _station(lathe, station, StretchLines(some, detail, inside))
    for shaped in turning.shaped:
        yield from shaped_rows(bench, turning, axis, shaped)
    for eased in turning.eased:
        yield from eased_rows(bench, turning, axis, eased)
    for grip in turning.grips:
        yield from grip_rows(bench, turning, axis, grip)
    if turning.threads:
        own = needed_file("thread", "callipers")
        for one in turning.threads:
            numbers = [number for number in turning.numbers if number.size.said.span == one.said.span]
            facets = within(lathe.faces("thread"), axis, one.start, one.stop)
            facets = upright(facets, axis, one.inside) if not facets.empty else facets
            yield from own.thread_rows(bench, turning, numbers, own.FoundThread(axis, facets, one.inside))
            yield from _thread_ends(lathe, numbers, facets, (one.start, one.stop))
    yield from raised(bench, turning)


class StretchLines(Struct, frozen=True):
    """Stations of one kind: those outside, bored or let in as grooves; the name of their faces."""

    stations: Sequence[Station]
    detail: str
    inside: bool


# -- stations -----------------------------------------------------------------------------------


def _station(lathe: Lathe, station: Station, group: StretchLines) -> Iterator[Taken]:
    turning = lathe.turning
    open_at = uncovered(station, group, turning)
    found = _surface(lathe, open_at, group)
    numbers = [number for number in turning.numbers if number.size.said.span == station.said.span]
    for number in numbers:
        if number.key in ("start", "stop"):
            place = (station.start if number.key == "start" else station.stop).value
            at, why = _end(lathe, station, group, place)
            yield sized(turning, number, at, why)
        else:
            across, why = _across(lathe, station, found, open_at, number)
            yield sized(turning, number, across, why)


def _across(
    lathe: Lathe, station: Station, found: Rings, open_at: list[tuple[float, float]], number: Number
) -> Seen:
    """A size of a station: the same all along, or of a taper at one of its ends."""
    if not found.empty and station.tapers:
        radius = found.radius((station.start if number.key == "first" else station.stop).value)
        return (None, GONE) if radius is None else (2 * radius, "")
    if not found.empty:
        return 2 * float(np.median(found.radii) if number.word == "bored" else found.radii.max()), ""
    if not open_at:
        return None, HIDDEN
    toothed = [grip for grip in lathe.turning.grips if isinstance(grip, Teeth)]
    if number.word != "across" or station.tapers or not toothed:
        return None, GONE
    crowns = [
        float(lathe.axis.radii(facets.corners).max())
        for (low, high), grip in itertools.product(open_at, toothed)
        if not (
            facets := within(
                lathe.faces(grip.word), lathe.axis, max(low, grip.stretch[0]), min(high, grip.stretch[1])
            )
        ).empty
    ]
    return (2 * max(crowns), "over the crowns of its teeth") if crowns else (None, GONE)


def uncovered(station: Station, group: StretchLines, turning: Turning) -> list[tuple[float, float]]:
    """The stretches of a station over which none of its kind reaches further."""
    low, high = station.stretch
    places = {low, high}
    for other in group.stations:
        places |= {end for end in other.stretch if low < end < high} | set(_meeting(station, other))
    found: list[tuple[float, float]] = []
    for start, stop in itertools.pairwise(sorted(places)):
        middle, mine = 0.5 * (start + stop), radius(station, 0.5 * (start + stop))
        others = [
            radius(one, middle)
            for one in group.stations
            if one is not station and one.stretch[0] < middle < one.stretch[1]
        ]
        out = -1 if group.detail == "groove" else 1
        if any(out * other > out * mine for other in others) or stop - start < SAME:
            continue
        if group.detail == "groove" and not _cuts(turning, middle, mine):
            continue
        joins = bool(found) and start - found[-1][1] < SAME
        found[-1:] = [(found[-1][0], stop)] if joins else [*found[-1:], (start, stop)]
    return found


def _cuts(turning: Turning, place: float, mine: float) -> bool:
    """Whether a groove reaches into what stands there."""
    there = [radius(one, place) for one in turning.outer if one.stretch[0] < place < one.stretch[1]]
    return not there or max(there) > mine


def _meeting(one: Station, other: Station) -> Iterator[float]:
    """Where on the axis two stations, one of which tapers, are of one size."""
    low, high = max(one.stretch[0], other.stretch[0]), min(one.stretch[1], other.stretch[1])
    if high - low < SAME or not (one.tapers or other.tapers):
        return
    before, after = radius(one, low) - radius(other, low), radius(one, high) - radius(other, high)
    if before * after < 0:
        yield low + (high - low) * before / (before - after)


def radius(station: Station, place: float) -> float:
    """The radius of a station at a place on the axis, as built."""
    a, b = station.start.value, station.stop.value
    share = 0.0 if a == b else (place - a) / (b - a)
    return 0.5 * (station.first.value + share * (station.second.value - station.first.value))


def _surface(lathe: Lathe, open_at: list[tuple[float, float]], group: StretchLines) -> Rings:
    """The rings of a station over the stretches where its surface is bare."""
    facets = lathe.faces(group.detail)
    if facets.empty:
        return Rings(np.zeros(0), np.zeros(0))
    facets = upright(facets, lathe.axis, group.inside)
    some = [within(facets, lathe.axis, low, high) for low, high in open_at]
    found = [rings(one, lathe.axis, group.inside) for one in some]
    if not found:
        return Rings(np.zeros(0), np.zeros(0))
    heights = np.concatenate([one.heights for one in found])
    order = np.argsort(heights, kind="stable")
    return Rings(heights[order], np.concatenate([one.radii for one in found])[order])


# -- places along the axis ----------------------------------------------------------------------


def _end(lathe: Lathe, station: Station, group: StretchLines, place: float) -> Seen:
    """Where a station begins or ends: the last ring of its bare surface there, or a level face."""
    turning, low = lathe.turning, place == station.stretch[0]
    bare = [one for one in uncovered(station, group, turning) if abs(one[0 if low else 1] - place) < SAME]
    if not bare:
        return _level(lathe, place, HIDDEN)
    beyond = place - SAME if low else place + SAME
    mine = radius(station, place)
    if any(
        one is not station
        and one.stretch[0] - 2 * SAME < beyond < one.stretch[1] + 2 * SAME
        and abs(radius(one, place) - mine) < SAME
        and abs(_slope(one) - _slope(station)) < SAME
        for one in group.stations
    ):
        return None, RUNS_ON
    if _worked_at(turning, place, group.inside):
        return _level(lathe, place, WORKED)
    facets = lathe.faces(group.detail)
    facets = facets if facets.empty else upright(facets, lathe.axis, group.inside)
    some = within(facets, lathe.axis, *bare[0]) if not facets.empty else facets
    found = rings(some, lathe.axis, group.inside)
    if found.empty:
        return _level(lathe, place, GONE)
    at = found.low if low else found.high
    heights = lathe.axis.heights(some.corners)
    reach, other = float(heights.min() if low else heights.max()), bare[0][1 if low else 0]
    if abs(reach - at) > AT or abs(at - other) < AT:
        return None, CUT_OFF
    beside = lathe.bench.names_at(some.numbers[np.abs(heights - at) < SAME]) - {turning.name}
    if beside and abs(at - place) > ALLOWED:
        return None, BURIED
    return at, ""


def _slope(station: Station) -> float:
    long = station.stop.value - station.start.value
    return (station.second.value - station.first.value) / long if station.tapers else 0.0


def _worked_at(turning: Turning, place: float, inside: bool) -> bool:
    """Whether an edge there, outside or in the bore, was eased, or something else reaches over it."""
    stretches = [
        *((one.start, one.stop) for one in turning.threads if one.inside == inside),
        *(_stretch(one) for one in turning.shaped if one.inside == inside),
        *((one.station.value, one.station.value) for one in turning.eased if one.outside != inside),
    ]
    if not inside:
        stretches += [one.stretch for one in (*turning.grooves, *turning.grips)]
    return any(low - SAME <= place <= high + SAME for low, high in stretches)


def _stretch(one: Shaped) -> tuple[float, float]:
    half = 0.5 * one.wide.value
    return one.station.value - half, one.station.value + half


def _level(lathe: Lathe, place: float, why: str) -> Seen:
    """A level face of the turning at a place; without one the reason why."""
    found = ends(lathe.faces(), lathe.axis)
    near = found[np.abs(found - place) < AT]
    return (float(near[0]), "") if len(near) else (None, why)


def _thread_ends(
    lathe: Lathe, numbers: list[Number], facets: Facets, stretch: tuple[float, float]
) -> Iterator[Taken]:
    """Where the stretch of a thread begins and ends: its ground is its own face from end to end."""
    told = sorted((one for one in numbers if one.key in ("start", "stop")), key=lambda one: one.size.value)
    for number, place in zip(told, stretch, strict=True):
        if not facets.empty:
            heights = lathe.axis.heights(facets.corners)
            at = float(heights.min() if place == stretch[0] else heights.max())
            if abs(at - place) < AT:
                yield sized(lathe.turning, number, at)
                continue
        found, why = _level(lathe, place, WORKED)
        yield sized(lathe.turning, number, found, why)


__all__ = ["measures", "where"]
