"""Sizes of what outlines are made of, taken on the walls drawn from them: rounds, rectangles, webs, arcs."""

from __future__ import annotations

import math
from collections.abc import Iterator

import numpy as np

from ..model import Thing
from ..model.stated import Number
from ..model.things import OutlineArc, Rectangle, Round, Web
from ..quantities.vectors import Vector, dot
from .bench import Bench
from .drawn import grown
from .locating import walls_along
from .surfaces import Facets, RoundFace, axis_of, flats_of, round_of
from .taking import sized
from .types import Taken

NO_FACE = "no face of it is left on the part"


def flat_sizes(bench: Bench, thing: Thing) -> Iterator[Taken]:
    """The sizes of a thing that has no folder of its own."""
    if isinstance(thing, Round):
        yield from _round(bench, thing)
    elif isinstance(thing, Rectangle):
        yield from _rectangle(bench, thing)
    elif isinstance(thing, Web):
        yield from _web(bench, thing)
    elif isinstance(thing, OutlineArc):
        yield from _arc(bench, thing)


def _round(bench: Bench, thing: Round) -> Iterator[Taken]:
    face = round_of(bench.own(thing), bench.model.frame(thing).out)
    numbers = [number for number in thing.numbers if number.is_size]
    more = grown(bench, thing.name) * (-1 if face is not None and face.inside else 1)
    why = f"the outline is grown by {more:g}" if more else ""
    if face is None:
        yield from (sized(thing, number, None, NO_FACE) for number in numbers)
    elif len(numbers) == 1:
        yield sized(thing, numbers[0], 2 * face.radius, why, numbers[0].size.value + 2 * more)
    else:
        yield from _by_chord(thing, numbers, face.radius - more, why)


def _by_chord(thing: Round, numbers: list[Number], radius: float, why: str) -> Iterator[Taken]:
    """A round told by a chord c and its rise h: r = (c c / 4 + h h) / (2 h); each by the other one."""
    told = [number for number in numbers if number.key == "size"]
    if len(told) != 2:
        return
    chord, rise = told if told[0].size.said == thing.size.said else told[::-1]
    h, c = rise.size.value, chord.size.value
    found = 2 * math.sqrt(max(0.0, 2 * radius * h - h * h))
    yield sized(thing, chord, found, why)
    deep = math.copysign(math.sqrt(max(0.0, radius**2 - 0.25 * c * c)), radius - h)
    yield sized(thing, rise, radius - deep, why)


def _rectangle(bench: Bench, thing: Rectangle) -> Iterator[Taken]:
    frame, turn = bench.model.frame(thing), thing.placed.turn
    ways = (frame.direction(turn), frame.direction(turn + 0.5 * math.pi))
    numbers = [number for number in thing.numbers if number.is_size]
    for size in thing.sizes:
        number = next(one for one in numbers if one.size.said == size.said)
        found = _between(bench, thing, ways, thing.sizes.index(size))
        yield sized(thing, number, found, "" if found is not None else NO_FACE)


def _between(bench: Bench, thing: Thing, ways: tuple[Vector, Vector], which: int) -> float | None:
    return between_walls(bench, thing, ways[which], SIDES[which])


SIDES = (("left", "right"), ("bottom", "top"))
"""The sides of something with four of them, along and across."""


def between_walls(bench: Bench, thing: Thing, way: Vector, sides: tuple[str, str]) -> float | None:
    """How far two opposite sides of a thing are apart along a direction; None without either."""
    back, out = (
        [at for at, flat in walls_along(bench, thing, 1, way, (side,)) if sign * dot(flat.normal, way) > 0]
        for side, sign in zip(sides, (-1, 1), strict=True)
    )
    return abs(max(out) - min(back)) if out and back else None


def _web(bench: Bench, thing: Web) -> Iterator[Taken]:
    flats = flats_of(bench.faces(thing.name))
    found = None
    if flats:
        way = flats[0].normal
        ends = [dot(flat.point, way) for flat in flats if abs(dot(flat.normal, way)) > 1 - 1e-6]
        found = max(ends) - min(ends) if len(ends) > 1 else None
    for number in thing.numbers:
        if number.is_size:
            yield sized(thing, number, found, "" if found is not None else NO_FACE)


def _arc(bench: Bench, thing: OutlineArc) -> Iterator[Taken]:
    facets = bench.faces(thing.name)
    face = None if facets.empty else round_of(facets, axis_of(facets))
    for number in thing.numbers:
        if not number.is_size:
            continue
        if face is None:
            yield sized(thing, number, None, NO_FACE)
        elif thing.rise is not None and number.size.said == thing.rise.said:
            yield sized(thing, number, _rise(facets, face))
        else:
            yield sized(thing, number, face.radius)


def _rise(facets: Facets, face: RoundFace) -> float:
    """How far an arc rises over the straight between its ends, as a rule laid across it shows."""
    axis = np.asarray(face.way)
    away = facets.corners.reshape(-1, 3) - np.asarray(face.point)
    flat = away - np.outer(away @ axis, axis)
    chord = float(np.linalg.norm(flat[:, None] - flat[None], axis=2).max())
    down = math.sqrt(max(0.0, face.radius**2 - 0.25 * chord**2))
    return face.radius + (down if face.turn > math.pi else -down)
