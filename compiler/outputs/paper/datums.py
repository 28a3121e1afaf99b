"""Datums: what the readings of a part start from, marked with letters as ISO 5459 does (from memory)."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

import numpy as np

from ...facts import Ref
from ...quantities.vectors import XY, Vector
from .dimensioning import Laying, on_line
from .relations import finished_way, straight_edge
from .views import Scene, finished

if TYPE_CHECKING:
    from .drawing import Placed

LETTERS = "ABC"
"""No more than three; the letters I, O, Q and X are not used for datums."""


def datums(scene: Scene, views: Sequence[Placed], laying: Laying) -> None:
    """Mark the things that most readings were taken from."""
    letters = iter(LETTERS)
    for ref in _bases(scene):
        for view, at, ways in _feet(scene, ref, views):
            letter = next(letters, None)
            if letter is None or laying.datum(at, ways, letter, view.zone):
                break
            letters = iter([letter, *letters])


def _bases(scene: Scene) -> list[Ref]:
    """What readings start from, that which serves most first."""
    counts: Counter[str] = Counter()
    refs: dict[str, Ref] = {}
    for entry in scene.claims.entries.values():
        for claim in entry.all("from"):
            ref = claim.ref("thing")
            if entry.name in scene.layout.spots:
                counts[str(ref)] += 1
                refs.setdefault(str(ref), ref)
    ranked = sorted(counts, key=lambda name: (-counts[name], name))
    return [refs[name] for name in ranked]


def _feet(scene: Scene, ref: Ref, views: Sequence[Placed]) -> Iterator[tuple[Placed, XY, list[float]]]:
    """Where a datum's triangle may stand: in which view, at which point, pointing which ways (radians)."""
    straight = straight_edge(scene, ref)
    if straight is not None:
        point, normal = finished(straight[0], scene.part), finished_way(straight[1], scene.part.mirrored)
        for view in views:
            yield from _on_straight(scene, view, point, normal)
        return
    entry = scene.claims.entries.get(ref.name)
    spot = scene.layout.spots.get(ref.name)
    if entry is None or spot is None or entry.kind not in ("bore", "peg", "turning", "round"):
        return
    out = finished_way(scene.layout.frames[spot.page].out, scene.part.mirrored)
    for view in views:
        if abs(sum(a * b for a, b in zip(out, view.shown.view.out, strict=True))) > 1 - 1e-9:
            centre, radius = view.of(scene.places(entry)[0]), view.scale * spot.half[1]
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
