"""What a drawing says of a turning, along its axis and across it, and how it is measured."""

from __future__ import annotations

import itertools
from collections.abc import Iterator

import numpy as np

from ...outputs.paper.amounts import amount, come_out, shown
from ...outputs.paper.holes import toothed_text
from ...outputs.paper.lettering import DIAMETER
from ...outputs.paper.measuring import made, plain
from ...outputs.paper.pointers import at_centre, owner
from ...outputs.paper.threads import figures, thread_check
from ...outputs.paper.types import Check, Dimension, Gauge, Note, Pair
from ...outputs.paper.views import Scene
from ...quantities import Quantity
from ...quantities.vectors import Vector, along, clean, cross
from .model import CutFlats, Eased, Grip, NamedSize, Shaped, Station, Teeth, Turning

NEAR = 1e-3  # mm


class Axis:
    """The axis of a turning in the finished part, and places across and along it."""

    def __init__(self, scene: Scene, turning: Turning) -> None:
        spot, frame = turning.placed, scene.model.frames[turning.placed.plane]
        if turning.lies:
            way, side = turning.axis.out, turning.axis.up
        else:
            way, side = clean(along((0.0, 0.0, 0.0), (frame.out, float(spot.out)))), frame.right
        self.start = scene.place(frame, spot.at, spot.base)
        self.way = scene.way(way)
        self.sides = (scene.way(side), scene.way(clean(cross(way, side))))

    def across(self, at: float, radius: float) -> Iterator[Pair]:
        """Two points across the axis at a station."""
        middle = along(self.start, (self.way, at))
        for side in self.sides:
            yield along(middle, (side, -radius)), along(middle, (side, radius))

    def along(self, start: float, stop: float, radius: float) -> Iterator[Pair]:
        """Two points along the axis, `radius` off it."""
        for side in self.sides:
            for sign in (1.0, -1.0):
                foot = along(self.start, (side, sign * radius))
                yield along(foot, (self.way, start)), along(foot, (self.way, stop))


# -- notes -----------------------------------------------------------------------------------------


def notes(scene: Scene, turning: Turning) -> Iterator[Note]:
    """Its threads, its eased edges, and what is worked into it."""
    for one in turning.threads:
        text = f"{turning.name} {one.said.text}{figures(one.form, one.name)}"
        yield at_centre(scene, turning, text, turning.placed.half[1])
    axis = Axis(scene, turning)
    for eased, sign in zip(turning.eased, itertools.cycle((1.0, -1.0)), strict=False):
        yield from _at_edge(scene, turning, axis, eased, sign)
    worked: list[Shaped | Grip] = [*turning.shaped, *turning.grips]
    in_order = sorted(worked, key=lambda one: one.said.text)
    for each, sign in zip(in_order, itertools.cycle((1.0, -1.0)), strict=False):
        yield _at_worked(scene, turning, axis, each, sign)


def _at_edge(scene: Scene, turning: Turning, axis: Axis, eased: Eased, sign: float) -> Iterator[Note]:
    """A note at an edge that was eased: of all edges worked like it the one at its station, off the lines
    through its middle, where other things are written."""
    points, size = scene.points(turning.name, eased.word), eased.size.value
    beside = points - np.array(axis.start)
    height = beside @ np.array(axis.way)
    off = np.sqrt(np.maximum(0.0, (beside**2).sum(axis=1) - height**2))
    near = np.abs(height - eased.station.value) <= size + NEAR
    if not near.any():
        return
    near &= off >= off[near].max() - size - NEAR if eased.outside else off <= off[near].min() + size + NEAR
    aside = sign * np.array(axis.sides[1]) - np.array(axis.sides[0])
    x, y, z = points[near][int(np.argmax(np.round(beside[near] @ aside, 6)))].tolist()
    said = f"{shown(size)} \u00d7 45\u00b0" if eased.bevel else f"R{shown(size)}"
    yield Note(turning.name, (x, y, z), 0.0, owner(scene, turning) + said, scene.out(turning))


def _at_worked(scene: Scene, turning: Turning, axis: Axis, worked: Shaped | Grip, sign: float) -> Note:
    """A note at a bead, cove, vee or grip, where it is seen from the side."""
    text = owner(scene, turning) + _worked_text(worked)
    first, second = (
        Note(turning.name, _crown(scene, turning, axis, worked, side, sign), 0.0, text, face)
        for side, face in ((axis.sides[1], axis.sides[0]), (axis.sides[0], axis.sides[1]))
    )
    return Note(second.name, second.at, second.radius, text, second.face, other=first)


def _crown(
    scene: Scene, turning: Turning, axis: Axis, worked: Shaped | Grip, side: Vector, sign: float
) -> Vector:
    """Where a note points: a crown or floor, else half way along a grip's edge."""
    if isinstance(worked, Shaped):
        radius, at = 0.5 * worked.size.value, worked.station.value
    else:
        ends = sorted((worked.start.value, worked.stop.value))
        points = scene.points(turning.name, worked.word) - np.array(axis.start)
        height, off = points @ np.array(axis.way), np.abs(points @ np.array(side))
        # at one end the cut may meet a wider stretch
        reach = [float(off[np.abs(height - end) < NEAR].max(initial=0.0)) for end in ends]
        radius, at = min((far for far in reach if far > 0.0), default=0.0), 0.5 * sum(ends)
    return along(along(axis.start, (axis.way, at)), (side, sign * radius))


def _worked_text(worked: Shaped | Grip) -> str:
    """A line such as `bead 22.4 at 20 wide 3` or `diamond 48 deep 0.6 from 6 to 17`, its main size with its
    tolerance.
    """
    if isinstance(worked, Shaped):
        inside = " inside" if worked.inside else ""
        said = f"{worked.word}{inside} {amount(worked.size).text(DIAMETER)} at {shown(worked.station.value)}"
        mouth = f" through {shown(worked.mouth.value)}" if worked.mouth is not None else ""
        return f"{said} wide {shown(worked.wide.value)}{mouth}"
    if isinstance(worked, Teeth):
        said = toothed_text(worked.count, worked.depth.value)
    else:
        said = f" {amount(worked.size).text()}"
    return f"{worked.word}{said}, from {shown(worked.start.value)} to {shown(worked.stop.value)}"


# -- sizes -----------------------------------------------------------------------------------------


def sizes(scene: Scene, turning: Turning) -> Iterator[Dimension]:
    """Diameters across the axis, and the places of the stations along it."""
    axis, name = Axis(scene, turning), turning.name
    for one in turning.sizes:
        if isinstance(one.of, Station):
            size = amount(one.size)
            pairs = tuple(axis.across(one.at, size.value / 2))
            yield Dimension(name, pairs, size.text(DIAMETER), size.value, None, axis.way)
    first, *others = _places(turning)
    for place in others:
        size = come_out(place.value - first.value, place)
        pairs = tuple(axis.along(first.value, place.value, 0.5 * turning.widest))
        yield Dimension(name, pairs, size.text(), size.value, None, axis.way)


def _places(turning: Turning) -> list[Quantity]:
    """Where stations begin and end, in their order; of a place told twice the less certain holds."""
    found: dict[float, Quantity] = {}
    for station in (*turning.outer, *turning.bored, *turning.grooves):
        for place in (station.start, station.stop):
            known = found.setdefault(round(place.value, 6), place)
            if (place.standing, place.u) > (known.standing, known.u):
                found[round(place.value, 6)] = place
    return [place for _, place in sorted(found.items())]


# -- checks ----------------------------------------------------------------------------------------


def checks(scene: Scene, turning: Turning) -> Iterator[Check]:
    """Its threads, then its sizes across."""
    for one in turning.threads:
        yield thread_check(turning.name, f" from {one.start:g} to {one.stop:g}", one.form, one.said)
    for size in turning.sizes:
        how = _jaws(turning, size)
        if how:
            inside = size.of in turning.bored
            key, gauge = f"{turning.name} {size.name}", Gauge.POCKET if inside else Gauge.SIZE
            yield plain(key, gauge, f"{how}, {size.where}", amount(size.size), made(size.of.said))


def _jaws(turning: Turning, size: NamedSize) -> str:
    """How a size is taken; '' for what no jaws measure."""
    if isinstance(size.of, CutFlats):
        return "outer jaws from the flat to the round" if size.of.single else "outer jaws over the flats"
    if isinstance(size.of, Shaped) or size.of.tapers:
        return ""
    return "inner jaws" if size.of in turning.bored else "outer jaws"
