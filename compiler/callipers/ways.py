"""Which way everything runs on the finished part, in plain words: where a hole enters, how deep it goes, what
is under its floor, which side of a notch is wide, where an arm points.

Words for directions are those of the sides of a body that lies as the part was read: right, left, top,
bottom, front, back.  All of it is seen on the mesh."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterator

import numpy as np
from msgspec import Struct

from ..kinds import own_file
from ..mesh.types import Part
from ..model import Body, Model, Thing
from ..model.holes import Hole
from ..model.things import Plane
from ..model.types import Prism
from ..quantities.arrays import Longs
from ..quantities.vectors import Vector, along, dot
from .bench import Bench
from .surfaces import Facets

STRAIGHT = 0.9999
"""Cosine: a direction nearer than this (0.8 degrees) to a side is told as that side."""
SEEN = 0.005
"""mm; less is nothing that callipers would show."""
_SIDES: tuple[tuple[str, Vector], ...] = (
    ("right", (1.0, 0.0, 0.0)),
    ("left", (-1.0, 0.0, 0.0)),
    ("top", (0.0, 1.0, 0.0)),
    ("bottom", (0.0, -1.0, 0.0)),
    ("front", (0.0, 0.0, 1.0)),
    ("back", (0.0, 0.0, -1.0)),
)


class HowItRuns(Struct, frozen=True):
    """What is said of one thing: its name, what it is, and the words."""

    thing: str
    noun: str
    text: str


def ways_of(model: Model, part: Part) -> tuple[HowItRuns, ...]:
    """All holes, planes, sloping flats and arms of a part, in the order of their names."""
    bench = Bench(model, part)
    borders = _Borders(bench, part)
    return tuple(way for thing in model.things.values() for way in _of(bench, borders, thing))


def _of(bench: Bench, borders: _Borders, thing: Thing) -> Iterator[HowItRuns]:
    text = ""
    if isinstance(thing, Hole):
        text = _hole(bench, borders, thing)
    elif isinstance(thing, Plane) and thing.frame is not None:
        frame = thing.frame
        right, up = towards(frame.right), towards(frame.up)
        text = f"faces {towards(frame.out)}; on it, right is {right} and up is {up}"
    elif isinstance(thing, Prism) and thing.slope is not None:
        text = _slope(thing)
    elif isinstance(thing, Body) and (own := own_file(thing.noun, "callipers")) is not None:
        text = own.way(bench, thing) if hasattr(own, "way") else ""
    if text:
        more = len(thing.copies)
        copies = f"; {more} more {'copy' if more == 1 else 'copies'} of it" if more else ""
        yield HowItRuns(thing.name, thing.noun, text + copies)


def towards(way: Vector) -> str:
    """A direction in words: a side, or how many degrees off the nearest one towards the next."""
    ranked = sorted(_SIDES, key=lambda side: -dot(side[1], way))
    (first, axis), (second, _) = ranked[0], ranked[1]
    share = dot(axis, way)
    if share > STRAIGHT:
        return f"towards the {first}"
    lean = math.degrees(math.acos(max(-1.0, min(1.0, share))))
    third, last = ranked[2]
    beside = f" and the {third}" if dot(last, way) > 1 - STRAIGHT else ""
    return f"{lean:.1f} degrees off the {first} towards the {second}{beside}"


def _hole(bench: Bench, borders: _Borders, hole: Hole) -> str:
    out = bench.model.frame(hole).out
    facets = bench.own(hole)
    if facets.empty:
        return "cuts nothing that is left on the part"
    walls = facets.some(np.abs(facets.normals @ np.asarray(out)) < STRAIGHT)
    if walls.empty:
        return ""
    low, high = walls.span(out)
    upper, lower = borders.of(hole.name, facets, out, 0.5 * (low + high))
    floor = _floor(bench, hole, out)
    said = _sizes(bench, hole, walls)
    if floor is None:
        there = f"goes through {towards(_minus(out))}, {high - low:.2f} long"
        ends = f", from {upper} to {lower}" if upper and lower else ""
        return f"{there}{ends}{_cut(bench, hole, borders, facets)}{said}"
    down = abs(floor - low) <= abs(floor - high)
    way, mouth = (_minus(out), upper) if down else (out, lower)
    deep = high - floor if down else floor - low
    enters = f"enters at {mouth} and " if mouth else ""
    under = _under(bench, hole, floor, way)
    return f"{enters}goes {towards(way)}, {deep:.2f} deep{under}{_cut(bench, hole, borders, facets)}{said}"


def _minus(way: Vector) -> Vector:
    return (0.0 - way[0], 0.0 - way[1], 0.0 - way[2])


def _floor(bench: Bench, hole: Hole, out: Vector) -> float | None:
    """How far along `out` the floor of a hole lies, None for one that goes through."""
    facets = bench.own(hole, 1, "bottom")
    flat = facets.some(np.abs(facets.normals @ np.asarray(out)) > STRAIGHT)
    return None if flat.empty else float((flat.corners[:, 0] @ np.asarray(out)).mean())


def _under(bench: Bench, hole: Hole, floor: float, way: Vector) -> str:
    """What is left under the floor, as a rod pushed through would find it."""
    home = bench.home(hole)
    out = bench.model.frame(hole).out
    start = along(home, (out, floor - dot(home, out)))
    left = [at for at in bench.crossings(along(start, (way, 1e-3)), way) if at > SEEN]
    return f", {left[0]:.2f} is left under its floor" if left else ""


def _cut(bench: Bench, hole: Hole, borders: _Borders, facets: Facets) -> str:
    bodies = [
        name for name in borders.names(hole.name, facets) if isinstance(bench.model.things.get(name), Body)
    ]
    return f"; cuts {' and '.join(bodies)}" if bodies else ""


def _sizes(bench: Bench, hole: Hole, walls: Facets) -> str:
    """Of something with straight walls, how far these are apart and which way."""
    if not hole.straight_sided or hole.spot is None:
        return ""
    frame, told = bench.model.frame(hole), []
    for turn in (hole.spot.turn, hole.spot.turn + 0.5 * math.pi):
        way = frame.direction(turn)
        low, high = walls.span(way)
        told.append(f"{high - low:.2f} {_both_ways(way)}")
    return f"; {', '.join(told)}"


def _both_ways(way: Vector) -> str:
    back, out = towards(_minus(way)), towards(way)
    plain = "towards the "
    if back.startswith(plain) and out.startswith(plain):
        return f"from {back.removeprefix(plain)} to {out.removeprefix(plain)}"
    return f"along a line {out}"


def _slope(body: Prism) -> str:
    slope = body.slope
    assert slope is not None
    out = slope.plane.out
    lean = math.degrees(math.acos(min(1.0, abs(dot(out, body.frame.out)))))
    down = along(out, (body.frame.out, -dot(out, body.frame.out)))
    size = math.hypot(*down)
    if size < 1e-9:
        return f"its {slope.part} lies level"
    sign = 1.0 if dot(out, body.frame.out) * body.out > 0 else -1.0
    thinner = (sign * down[0] / size, sign * down[1] / size, sign * down[2] / size)
    return f"its {slope.part} slopes by {lean:.2f} degrees: thinner {towards(thinner)}"


class _Borders:
    """Which faces of other statements the faces of a hole meet at their edges."""

    def __init__(self, bench: Bench, part: Part) -> None:
        self.bench, self.part = bench, part
        numbers = bench.all.numbers.astype(np.int64)
        self.size = len(bench.points)
        edges = np.stack([numbers, np.roll(numbers, -1, axis=1)], axis=2).reshape(-1, 2)
        keys = edges[:, 0] * self.size + edges[:, 1]
        self.order = np.argsort(keys, kind="stable")
        self.keys = keys[self.order]

    def _across(self, facets: Facets) -> tuple[Longs, Longs]:
        """The edges (n, 2) of facets, and the triangle on the other side of each."""
        numbers = facets.numbers.astype(np.int64)
        edges = np.stack([numbers, np.roll(numbers, -1, axis=1)], axis=2).reshape(-1, 2)
        place = np.searchsorted(self.keys, edges[:, 1] * self.size + edges[:, 0])
        triangles: Longs = self.order[np.minimum(place, len(self.order) - 1)] // 3
        return edges, triangles

    def of(self, own: str, facets: Facets, out: Vector, middle: float) -> tuple[str, str]:
        """The face that most of the upper rim of a hole lies on, and that of the lower one; '' for none."""
        edges, triangles = self._across(facets)
        rims: tuple[dict[str, float], dict[str, float]] = (defaultdict(float), defaultdict(float))
        points = self.bench.points
        for (a, b), triangle in zip(edges.tolist(), triangles.tolist(), strict=True):
            label = int(self.part.mesh.labels[triangle])
            name, detail = self.part.faces[label] if label >= 0 else ("", "")
            if name in ("", own):
                continue
            at = float((points[a] + points[b]) @ np.asarray(out)) / 2
            length = float(np.linalg.norm(points[a] - points[b]))
            rims[0 if at > middle else 1][self._spoken(name, detail)] += length
        upper, lower = (max(rim, key=lambda name: rim[name], default="") for rim in rims)
        return upper, lower

    def _spoken(self, name: str, detail: str) -> str:
        """How a face is spoken of: `body.front` where it is a flat of a body, else the thing."""
        flats = ("front", "back", "left", "right", "top", "bottom")
        return f"{name}.{detail}" if detail in flats else f"the {detail} of {name}" if detail else name

    def names(self, own: str, facets: Facets) -> list[str]:
        """The statements whose faces a hole meets, in the order of their names."""
        _, triangles = self._across(facets)
        labels = {int(label) for label in self.part.mesh.labels[triangles]}
        return sorted({self.part.faces[label][0] for label in labels if label >= 0} - {own})
