"""Sizes that all holes have, taken on the mesh: across, depth, mouth.

A drill shank is what fits between the walls; a depth rod goes down from the flat that the depth was counted
from to where the material begins."""

from __future__ import annotations

from collections.abc import Iterator

from ..model.holes import Hole
from ..model.stated import Number
from ..model.types import Depth
from ..quantities.vectors import Vector, dot
from .bench import Bench, height
from .surfaces import Facets, flats_of
from .taking import sized
from .types import Taken

NO_WALL = "no wall of it is left on the part"
NO_FLOOR = "it has no floor of its own: it runs into the open"
FOR_FIT = "made for what goes there"


def fit_size(hole: Hole) -> Number | None:
    """The size that a fit makes of a hole or peg, as its line has it; None where it has none."""
    return next((number for number in hole.numbers if number.key == "meant"), None)


def across(bench: Bench, hole: Hole, number: Number, found: float | None) -> Taken:
    """The size across of a hole, which a fit may have made other than it was read."""
    fit = fit_size(hole)
    if found is None:
        return sized(hole, number, None, NO_WALL)
    if fit is None or number is fit:
        return sized(hole, number, found)
    return sized(hole, number, found, FOR_FIT, fit.size.value)


def floor(bench: Bench, hole: Hole) -> float | None:
    """How high over its plane the floor of a hole lies; None where it has none."""
    frame = bench.model.frame(hole)
    facets = bench.own(hole, 1, "bottom")
    heights = bench.level(facets, frame)
    if not heights:
        return None
    out = 1 if hole.depth is None else hole.depth.out
    return heights[0] if out > 0 else heights[-1]


def depth(bench: Bench, hole: Hole, number: Number) -> Taken:
    """How deep a hole goes, from the flat it was counted from."""
    bottom, told = floor(bench, hole), hole.depth
    if told is None or bottom is None:
        return sized(hole, number, None, NO_FLOOR)
    start = top(bench, hole, told)
    return sized(hole, number, (start - bottom) * told.out)


def top(bench: Bench, hole: Hole, told: Depth) -> float:
    """How high over the plane of a hole the flat lies that its depth is counted from: as the mesh has that
    flat, or as the recipe has it where none of it is left (or it is a plane).
    """
    frame = bench.model.frame(hole)
    name, _, part = told.flat.partition(".")
    for thing in (name,) if name else hole.owners[:1]:
        if not part:
            break
        flat = bench.flat(thing, part)
        if flat is not None and abs(dot(flat.normal, frame.out)) > 1 - 1e-6:
            return height(frame, flat.point)
    return told.start


def wall_facets(bench: Bench, hole: Hole) -> Facets:
    """The walls of the hole itself, its flats and floor left out."""
    return bench.own(hole, 1, "")


def between_flats(facets: Facets, way: Vector) -> float | None:
    """How far walls that face along a direction, or against it, are apart; None without two."""
    ends = [dot(flat.point, way) for flat in flats_of(facets) if abs(dot(flat.normal, way)) > 1 - 1e-6]
    return max(ends) - min(ends) if len(ends) > 1 else None


def measures(bench: Bench, hole: Hole) -> Iterator[Taken]:
    """A round hole: across, depth and mouth."""
    face = bench.round_face(hole)
    found = None if face is None else 2 * face.radius
    for number in hole.numbers:
        if (
            number.fitted
            or number.key == "meant"
            or (hole.size is not None and number.size.said == hole.size.said)
        ):
            if number.is_size or number.key == "meant":
                yield across(bench, hole, number, found)
        elif hole.depth is not None and number.size.said == hole.depth.said and number.is_size:
            yield depth(bench, hole, number)


__all__ = ["across", "depth", "fit_size", "measures"]
