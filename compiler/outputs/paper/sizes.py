"""What a drawing must say of a part: distances between two of its points, and notes at one of them.

Everything is said the way the part was read: a thing is dimensioned from what it was read from, a round thing
by its size across, a body by the facts it has.  Values are those of the finished part."""

from __future__ import annotations

import math
from collections.abc import Iterator

import numpy as np
from msgspec import Struct

from ...facts import Claim, Entry, Measure, Ref
from ...facts.extents import THICKNESS, box_claims, radius
from ...facts.turned import ROUND_STATIONS, station_places, station_sizes
from ...facts.types import SIDES
from ...mesh.types import Mesh
from ...places.layout import Frame, Spot
from ...quantities import Quantity
from ...quantities.vectors import XY, Vector, along, dot
from .amounts import Amount, amount, exactly, shown, wanted
from .lettering import DIAMETER
from .notes import notes
from .notes_types import Note
from .relations import finished_way, gaps, pitches
from .turned import Axis, Pair
from .views import Scene, finished


class Span(Struct, frozen=True):
    """A distance to be drawn: between which points (any one pair of several that are as good), and what to
    write.

    `face` is the direction it is best seen from; `blind` one that it is not to be seen from.  `outermost`:
    the distance is the same everywhere along the faces of this statement and is drawn at their outermost
    points."""

    name: str
    pairs: tuple[Pair, ...]
    text: str
    value: float
    face: Vector | None = None
    blind: Vector | None = None
    outermost: str = ""

    @property
    def told(self) -> str:
        """The distance in words, for a list."""
        return f"{self.name} {self.text}".strip()

    def at(self, corner: Vector) -> Pair:
        """The distance moved beside another point: both ends at their own heights over it."""
        start, stop = self.pairs[0]
        way = along(stop, (start, -1.0))
        size = math.sqrt(dot(way, way))
        unit = along((0.0, 0.0, 0.0), (way, 1.0 / size))
        foot = along(corner, (unit, dot(unit, along(start, (corner, -1.0)))))
        return foot, along(foot, (unit, size))


def corners(scene: Scene, name: str, out: Vector, mesh: Mesh) -> list[Vector]:
    """The outermost points of a statement's faces across `out`: right, left, top, bottom, front, back of the
    part.
    """
    labels = [i for i, (owner, _) in enumerate(scene.part.faces) if owner == name]
    used = np.unique(mesh.triangles[np.isin(mesh.labels, labels)].ravel())
    if not len(used):
        return []
    points = mesh.points[used]
    found: list[Vector] = []
    for axis, sign in ((0, 1), (0, -1), (1, 1), (1, -1), (2, 1), (2, -1)):
        if abs(out[axis]) < 0.9:
            x, y, z = points[int(np.argmax(sign * points[:, axis]))].tolist()
            found.append((x, y, z))
    return found


def spans(scene: Scene) -> list[Span]:
    """Every distance of a part that a drawing shows, the outer sizes last."""
    work = _Sizes(scene)
    found = [*work.between(), *work.of_bodies(), *work.of_slopes(), *work.of_zones(), *work.of_patterns()]
    kept: list[Span] = []
    for one in found:
        if one.value > 1e-3 and not any(_same(one, other) for other in kept):
            kept.append(one)
    return kept + [one for one in work.overall() if not any(_covers(other, one) for other in kept)]


def _same(one: Span, other: Span) -> bool:
    """The same distance said again: equal ends, seen either way round."""
    a, b = one.pairs[0]
    return one.text == other.text and any(
        max(math.dist(a, c), math.dist(b, d)) < 1e-3 or max(math.dist(a, d), math.dist(b, c)) < 1e-3
        for c, d in other.pairs
    )


def _covers(one: Span, outer: Span) -> bool:
    """True where a size already says how large the part is in a direction."""
    (a, b), (c, d) = one.pairs[0], outer.pairs[0]
    way, other = along(b, (a, -1.0)), along(d, (c, -1.0))
    straight = abs(dot(way, other)) > (1 - 1e-9) * math.dist(a, b) * math.dist(c, d)
    return straight and abs(one.value - outer.value) < 0.005


class _Sizes:
    def __init__(self, scene: Scene) -> None:
        self.scene = scene
        self.part = scene.part

    def _place(self, frame: Frame, at: tuple[float, float], height: float) -> Vector:
        return finished(frame.point(at, height), self.part)

    def _way(self, way: Vector) -> Vector:
        return finished_way(way, self.part.mirrored)

    # -- places ------------------------------------------------------------------------------------

    def between(self) -> Iterator[Span]:
        for gap in gaps(self.scene):
            yield Span(gap.name, ((gap.theirs, gap.mine),), gap.amount.text(), gap.amount.value, gap.out)
        for entry in self.scene.claims.entries.values():
            claim = entry.one("at")
            spot = self.scene.layout.spots.get(entry.name)
            if claim is None or spot is None or not isinstance(other := claim.get("other"), Ref):
                continue
            base = self.scene.layout.spots.get(other.name)
            if base is None or base.page != spot.page:
                continue
            frame = self.scene.layout.frames[spot.page]
            start, end = self._place(frame, base.at, spot.base), self._place(frame, spot.at, spot.base)
            corner = self._place(frame, (spot.at[0], base.at[1]), spot.base)
            for key, pair in (("x", (start, corner)), ("y", (corner, end))):
                size = _sized(claim.quantity(key), math.dist(*pair))
                yield Span(entry.name, (pair,), size.text(), size.value, self._way(frame.out))

    def of_patterns(self) -> Iterator[Span]:
        for pattern, entry, places in pitches(self.scene):
            claim = pattern.one("pitch")
            out = self._way(self.scene.layout.frames[self.scene.layout.spots[entry.name].page].out)
            if pattern.kind == "row":
                step = math.dist(places[0], places[1])
                size = _sized(claim.quantity("number") if claim is not None else None, step)
                yield self._pitch(entry, places[0], places[-1], size, len(places) - 1, out)
            elif pattern.kind == "grid" and claim is not None:
                count = pattern.one("count")
                assert count is not None
                across, up = int(count.number("across")), int(count.number("up"))
                for key, last, times in (("x", across - 1, across - 1), ("y", across * (up - 1), up - 1)):
                    if times:
                        size = _sized(claim.quantity(key), math.dist(places[0], places[last]) / times)
                        yield self._pitch(entry, places[0], places[last], size, times, out)

    @staticmethod
    def _pitch(entry: Entry, first: Vector, last: Vector, size: Amount, times: int, out: Vector) -> Span:
        said = size.text() if times == 1 else f"{times} \u00d7 {size.text()} (= {shown(times * size.value)})"
        return Span(entry.name, ((first, last),), said, times * size.value, out)

    # -- bodies ------------------------------------------------------------------------------------

    def of_bodies(self) -> Iterator[Span]:
        for entry in self.scene.claims.of_kind(
            "block", "rectangle", "turning", *sorted(THICKNESS.keys() - {"rib"})
        ):
            if self.scene.page_of(entry) is None:
                continue
            if entry.kind in ("block", "rectangle"):
                yield from self._block(entry)
            elif entry.kind == "turning":
                yield from self._turning(entry)
            else:
                yield from self._height(entry)

    def _block(self, entry: Entry) -> Iterator[Span]:
        spot = self.scene.layout.spots[entry.name]
        frame = self.scene.layout.frames[spot.page]
        low, high = self.scene.pages.heights(entry.name) if entry.kind == "block" else (spot.base, spot.base)
        (x, y), (w, h) = spot.at, spot.half
        out = self._way(frame.out)
        claims = box_claims(entry)
        sizes = [amount(claim.measure("size")) for claim in claims[:3]]
        flat = [((x - w, y - h), (x + w, y - h)), ((x - w, y - h), (x - w, y + h))]
        for size, (a, b) in zip(sizes, flat, strict=False):
            pairs = tuple((self._place(frame, a, z), self._place(frame, b, z)) for z in (high, low))
            yield Span(entry.name, pairs, size.text(), size.value, out)
        if entry.kind != "block":
            return
        reaches = entry.one("reaches")
        if len(sizes) == 3:
            size = sizes[2]
        elif reaches is not None:
            size = amount(reaches.measure("size"))
            there = self.scene.pages.height_of(reaches.ref("thing"), spot.page)
            low, high = (there, high) if abs(high - there) > abs(low - there) else (low, there)
        else:
            return
        corners = [(x + i * w, y + j * h) for i in (1, -1) for j in (-1, 1)]
        yield Span(
            entry.name,
            tuple((self._place(frame, one, low), self._place(frame, one, high)) for one in corners),
            size.text(),
            size.value,
            None,
            out,
        )

    def _height(self, entry: Entry) -> Iterator[Span]:
        """How far a plate, strip, peg or rim reaches out of its page, at the outermost points of its own
        faces.
        """
        claim = entry.one(THICKNESS[entry.kind])
        page = self.scene.page_of(entry)
        if claim is None or page is None:
            return
        frame = self.scene.layout.frames[page]
        low, high = self.scene.pages.heights(entry.name)
        size = amount(claim.measure("size"))
        out = self._way(frame.out)
        pairs = []
        for corner in corners(self.scene, entry.name, out, self.part.mesh):
            foot = along(corner, (out, -dot(out, along(corner, (self._place(frame, (0.0, 0.0), low), -1.0)))))
            pairs.append((foot, along(foot, (out, high - low))))
        if pairs:
            yield Span(entry.name, tuple(pairs), size.text(), size.value, None, out, entry.name)

    def _turning(self, entry: Entry) -> Iterator[Span]:
        """Diameters across the axis and stations along it."""
        turned = Axis(self.scene, entry)
        most = radius(entry, made=True) or 0.0
        for one in station_sizes(entry):
            if one.claim.word in ROUND_STATIONS:
                size = amount(one.measure)
                pairs = tuple(turned.across(one.at, size.value / 2))
                yield Span(entry.name, pairs, size.text(DIAMETER), size.value, None, turned.way)
        first, *others = station_places(entry, *ROUND_STATIONS)
        for place in others:
            size = _sized(place, place.value - first.value)
            pairs = tuple(turned.along(first.value, place.value, most))
            yield Span(entry.name, pairs, size.text(), size.value, None, turned.way)

    def of_slopes(self) -> Iterator[Span]:
        """The two heights of each block that tapers, and of each plane that leans, at the sides where they
        were read.
        """
        for entry in self.scene.claims.of_kind("block", "plane"):
            claim = entry.one("taper", "leans")
            if claim is None:
                continue
            lean = self.scene.pages.lean_of(entry.name)
            page, base, out = self.scene.pages.stand(entry.name) if lean is None else lean
            frame = self.scene.layout.frames[page]
            for key, place in (("first", "here"), ("second", "there")):
                value = claim.get(place)
                ref = value if isinstance(value, Ref) else Ref(entry.name, str(value), claim.span)
                spot = self.scene.layout.spots.get(ref.name)
                if spot is None or spot.page != page or ref.part not in SIDES:
                    continue
                size = amount(claim.quantity(key))
                ends = (base, base + out * claim.number(key))
                pairs = tuple(
                    (self._place(frame, at, ends[0]), self._place(frame, at, ends[1]))
                    for at in _ends_of_side(spot, ref.part)
                )
                yield Span(entry.name, pairs, size.text(), size.value, None, self._way(frame.out))

    # -- zones and the whole -----------------------------------------------------------------------

    def of_zones(self) -> Iterator[Span]:
        for zone in self.scene.claims.of_kind("thicken", "relieve"):
            on, how, where = zone.one("on"), zone.one("by", "to"), zone.one("collar", "inside", "along")
            if on is None or how is None or where is None:
                continue
            body = on.ref("thing")
            refs = where.refs("things") if where.word == "along" else (where.ref("thing"),)
            spot = self.scene.layout.spots.get(refs[0].name) if refs else None
            page = self.scene.page_of(self.scene.claims.entries[body.name])
            if spot is None or page is None or body.part not in ("front", "back") or spot.page != page:
                continue
            frame = self.scene.layout.frames[page]
            low, high = self.scene.pages.heights(body.name)
            size = how.quantity("number")
            start, stop = _zone_heights(zone.kind, how, low, high, body.part == "front")
            reach = 0.5 * where.number("number") if where.word == "collar" else 0.0
            pairs = []
            for dx, dy in ((reach, 0.0), (-reach, 0.0), (0.0, reach), (0.0, -reach)):
                at = (spot.at[0] + dx, spot.at[1] + dy)
                pairs.append((self._place(frame, at, start), self._place(frame, at, stop)))
            said = amount(Quantity(abs(stop - start), 0.0, max(size.standing, wanted(1.0).standing)))
            yield Span(zone.name, tuple(pairs), said.text(), said.value, None, self._way(frame.out))

    def overall(self) -> Iterator[Span]:
        x, y, z = self.part.figures.box
        for pairs, value, face in (
            ((((0.0, 0.0, 0.0), (x, 0.0, 0.0)),), x, (0.0, 0.0, 1.0)),
            ((((0.0, 0.0, 0.0), (0.0, y, 0.0)),), y, (0.0, 0.0, 1.0)),
            (tuple(((a, b, 0.0), (a, b, z)) for a, b in ((x, 0.0), (0.0, 0.0), (x, y), (0.0, y))), z, None),
        ):
            yield Span("", pairs, exactly(value).text(), value, face)


def _sized(quantity: Quantity | Measure | None, value: float | None = None) -> Amount:
    """What may be off a size of which the value came out otherwise (solved, or counted from elsewhere)."""
    if quantity is None:
        return exactly(value or 0.0)
    found = amount(quantity)
    return found if value is None else Amount(value, found.under, found.over, found.standing)


def _ends_of_side(spot: Spot, side: str) -> tuple[XY, XY]:
    """The two corners at the ends of a side of a block."""
    (x, y), (w, h) = spot.at, spot.half
    if side in ("left", "right"):
        x += w if side == "right" else -w
        return (x, y - h), (x, y + h)
    y += h if side == "top" else -h
    return (x - w, y), (x + w, y)


def _zone_heights(kind: str, how: Claim, low: float, high: float, front: bool) -> tuple[float, float]:
    """From where to where the size of a zone is counted, over the page of its body."""
    size = how.number("number")
    if how.word == "to":
        return (low, low + size) if front else (high - size, high)
    sign = 1.0 if kind == "thicken" else -1.0
    return (high, high + sign * size) if front else (low, low - sign * size)


__all__ = ["Note", "Span", "notes", "spans"]
