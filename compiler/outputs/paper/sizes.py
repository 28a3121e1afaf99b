"""Which distances a drawing shows: everything is said the way the part was read.

A thing is dimensioned from what it was read from, a body by the sizes it has, the whole by its box.  Values
are those of the finished part."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator

from ...model import Thing
from ...model.types import Pattern
from ...model.zones import Zone
from ...quantities.vectors import along, dot
from .amounts import come_out, exactly
from .relations import gaps
from .slices import sizes_of
from .sloping import slope_sizes
from .types import Dimension
from .views import Scene


def dimensions(scene: Scene) -> list[Dimension]:
    """Every distance of a part that a drawing shows, the outer sizes last."""
    kept: list[Dimension] = []
    for one in _told(scene):
        if one.value > 1e-3 and not any(_same(one, other) for other in kept):
            kept.append(one)
    return kept + [one for one in _overall(scene) if not any(_covers(other, one) for other in kept)]


def _told(scene: Scene) -> Iterator[Dimension]:
    """Of places, bodies, slopes, zones and patterns, in this order: of two that say the same the first is
    drawn.
    """
    things = scene.model.things.values()
    zones, patterns = scene.model.of(Zone), scene.model.of(Pattern)
    yield from _places(scene)
    yield from _sizes(scene, (thing for thing in things if not isinstance(thing, Zone | Pattern)))
    for thing in things:
        yield from slope_sizes(scene, thing)
    yield from _sizes(scene, zones)
    yield from _sizes(scene, patterns)


def _sizes(scene: Scene, things: Iterable[Thing]) -> Iterator[Dimension]:
    for thing in things:
        yield from sizes_of(scene, thing)


def _same(one: Dimension, other: Dimension) -> bool:
    """The same distance said again: equal ends, seen either way round."""
    a, b = one.pairs[0]
    return one.text == other.text and any(
        max(math.dist(a, c), math.dist(b, d)) < 1e-3 or max(math.dist(a, d), math.dist(b, c)) < 1e-3
        for c, d in other.pairs
    )


def _covers(one: Dimension, outer: Dimension) -> bool:
    """True where a size already says how large the part is in a direction."""
    (a, b), (c, d) = one.pairs[0], outer.pairs[0]
    way, other = along(b, (a, -1.0)), along(d, (c, -1.0))
    straight = abs(dot(way, other)) > (1 - 1e-9) * math.dist(a, b) * math.dist(c, d)
    return straight and abs(one.value - outer.value) < 0.005


def _places(scene: Scene) -> Iterator[Dimension]:
    """How far things lie from what they were read from, or were told `at X, Y` from."""
    for gap in gaps(scene):
        yield Dimension(gap.name, ((gap.theirs, gap.mine),), gap.amount.text(), gap.amount.value, gap.out)
    for thing in scene.model.things.values():
        yield from _offset(scene, thing)


def _offset(scene: Scene, thing: Thing) -> Iterator[Dimension]:
    spot, told = thing.spot, thing.offset
    base = scene.model.things.get(told.other) if told is not None and told.other is not None else None
    if spot is None or told is None or base is None or base.spot is None or base.spot.plane != spot.plane:
        return
    frame = scene.model.frames[spot.plane]
    start, end = (scene.place(frame, at, spot.base) for at in (base.spot.at, spot.at))
    corner = scene.place(frame, (spot.at[0], base.spot.at[1]), spot.base)
    for read, pair in ((told.x, (start, corner)), (told.y, (corner, end))):
        size = come_out(math.dist(*pair), read)
        yield Dimension(thing.name, (pair,), size.text(), size.value, scene.way(frame.out))


def _overall(scene: Scene) -> Iterator[Dimension]:
    x, y, z = scene.part.figures.box
    for pairs, value, face in (
        ((((0.0, 0.0, 0.0), (x, 0.0, 0.0)),), x, (0.0, 0.0, 1.0)),
        ((((0.0, 0.0, 0.0), (0.0, y, 0.0)),), y, (0.0, 0.0, 1.0)),
        (tuple(((a, b, 0.0), (a, b, z)) for a, b in ((x, 0.0), (0.0, 0.0), (x, y), (0.0, y))), z, None),
    ):
        yield Dimension("", pairs, exactly(value).text(), value, face)
