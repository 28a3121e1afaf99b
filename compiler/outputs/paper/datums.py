"""Datums: what the readings of a part start from, marked with letters as ISO 5459 does (from memory)."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterator, Sequence

import numpy as np

from ...model.types import Centre, ReadDistance
from ...quantities.vectors import XY, Vector
from .dimensioning import Arranging, on_line
from .placed import Placed
from .relations import straight_edge
from .views import Scene, finished

LETTERS = "ABC"
"""No more than three; the letters I, O, Q and X are not used for datums."""


def datums(scene: Scene, views: Sequence[Placed], arranging: Arranging) -> None:
    """Mark the things that most readings were taken from."""
    letters = iter(LETTERS)
    for base in _bases(scene):
        for view, at, ways in _feet(scene, base, views):
            letter = next(letters, None)
            if letter is None or arranging.datum(at, ways, letter, view.zone):
                break
            letters = iter([letter, *letters])


def _bases(scene: Scene) -> list[ReadDistance]:
    """What readings start from, a reading of each, that which serves most first."""
    counts: Counter[str] = Counter()
    bases: dict[str, ReadDistance] = {}
    for thing in scene.model.things.values():
        for read in thing.distances if thing.spot is not None else ():
            counts[read.other] += 1
            bases.setdefault(read.other, read)
    ranked = sorted(counts, key=lambda name: (-counts[name], name))
    return [bases[name] for name in ranked]


def _feet(
    scene: Scene, base: ReadDistance, views: Sequence[Placed]
) -> Iterator[tuple[Placed, XY, list[float]]]:
    """Where a datum's triangle may stand: in which view, at which point, pointing which ways (radians)."""
    straight = straight_edge(scene.model, base.other, base.name, base.part)
    if straight is not None:
        point, normal = finished(straight[0], scene.part), scene.way(straight[1])
        for view in views:
            yield from _on_straight(scene, view, point, normal)
        return
    thing = scene.model.things.get(base.name)
    if thing is None or thing.spot is None or thing.centre < Centre.RIM:
        return
    out = scene.way(scene.model.frames[thing.spot.plane].out)
    for view in views:
        if abs(sum(a * b for a, b in zip(out, view.shown.view.out, strict=True))) > 1 - 1e-9:
            centre, radius = view.of(scene.places(thing)[0]), view.scale * thing.spot.half[1]
            for step in (1, 3, 5, 7, 0, 2, 4, 6):
                way = math.radians(45 * step + 22.5)
                at = (centre[0] + radius * math.cos(way), centre[1] + radius * math.sin(way))
                if on_line(at, view.outline):
                    yield view, at, [way]


def _on_straight(
    scene: Scene, view: Placed, point: Vector, normal: Vector
) -> Iterator[tuple[Placed, XY, list[float]]]:
    """On a straight edge that is seen as a line: near its ends or in its middle, pointing away from the
    part.
    """
    if (
        abs(sum(a * b for a, b in zip(normal, view.shown.view.out, strict=True))) > 1e-9
        or view.shown.cut is not None
    ):
        return
    points = scene.part.mesh.points
    on = points[np.abs((points - np.array(point)) @ np.array(normal)) < 0.005]
    if len(on) < 2:
        return
    flat = view.shown.view.flat(on)
    across = view.shown.view.flat(np.array([normal]))[0]
    along = flat @ np.array([-across[1], across[0]])
    first, last = flat[int(np.argmin(along))], flat[int(np.argmax(along))]
    middle = 0.5 * (np.array(view.shown.low) + np.array(view.shown.high))
    outwards = across * (1.0 if float((first - middle) @ across) >= 0 else -1.0)
    way = math.atan2(float(outwards[1]), float(outwards[0]))
    for share in (0.85, 0.15, 0.7, 0.3, 0.5):
        at = first + share * (last - first)
        yield view, view.point((float(at[0]), float(at[1]))), [way]
