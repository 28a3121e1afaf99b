"""What is open in which body, seen flat: every hole, counterbore and countersink with its copies, and the
body's edge.

Openings are grouped by the body they are in and the page they are drawn on; only things of one group can
leave a wall between them that is seen on that page."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping

import numpy as np
from msgspec import Struct, field

from ..diagnostics.types import Span, Trouble
from ..facts import HOLES, Claim, Claims, Entry, Ref
from ..facts.extents import across, radius
from ..imports.types import ImportedMesh
from ..mesh.holes import Holes
from ..mesh.workshop import Workshop
from ..model import Model
from ..outlines import Region, Ring, canonical, circle, contains, facet
from ..outlines.marks import Marks
from ..outlines.outlining import Outliner
from ..outlines.types import Bend, Path
from ..places.layout import Frame, Layout, Move, Spot
from ..places.planes import Pages
from ..quantities.vectors import XY, dot
from .gaps import Stadiums

FINE = 0.001
"""Chord (mm) of the outlines that walls are measured to: a tenth of what is printed, so that walls come out
exact.
"""


class Opening(Struct, frozen=True):
    """A hole, or the mouth of one (`mouth` is its claim), in one body: cores of its stadiums, their radius,
    its heights.

    `copy` counts from 1.  Heights are over the page, endless where it goes through."""

    entry: Entry
    copy: int
    mouth: Claim | None
    cores: tuple[tuple[XY, XY], ...]
    radius: float
    low: float
    high: float

    @property
    def span(self) -> Span:
        """Where it was written."""
        return self.entry.span if self.mouth is None else self.mouth.span

    @property
    def shown(self) -> str:
        """How a message speaks of it."""
        name = f"`{self.entry.name}`" if self.copy == 1 else f"`{self.entry.name}.{self.copy}`"
        return f"{self.entry.kind} {name}" if self.mouth is None else f"the {self.mouth.word} of {name}"


class Group(Struct):
    """The openings of one body on one page."""

    body: Entry
    page: str
    openings: list[Opening] = field(default_factory=list)

    def stadiums(self) -> Stadiums:
        """All openings as arrays."""
        cores = [core for one in self.openings for core in one.cores]
        counts = [len(one.cores) for one in self.openings]
        flat = np.array(cores, dtype=np.float64).reshape(-1, 2, 2)
        radii = np.repeat(np.array([one.radius for one in self.openings], dtype=np.float64), counts)
        return Stadiums(flat[:, 0], flat[:, 1], radii, np.repeat(np.arange(len(counts)), counts))


class Scene:
    """Holes, bodies and their edges for one recipe that was built without error.

    `meshes`: the material of the bodies that come from files."""

    def __init__(
        self,
        model: Model,
        claims: Claims,
        layout: Layout,
        meshes: Mapping[str, ImportedMesh] | None = None,
    ) -> None:
        self.model, self.claims, self.layout = model, claims, layout
        self.pages, self.marks = Pages(claims, layout), Marks()
        self.outliner = Outliner(model, claims, layout, self.marks, FINE)
        self.bodies = Workshop(model, self.marks, FINE, meshes or {})
        self.bodies.claims, self.bodies.layout = claims, layout
        self.holes = Holes(model, claims, layout, self.pages, self.outliner, self.marks, FINE)
        self._groups: list[Group] | None = None
        self._edges: dict[tuple[str, str], Region | None] = {}

    def groups(self) -> list[Group]:
        """Every body with its openings, by the names of body and page."""
        if self._groups is None:
            found: dict[tuple[str, str], Group] = {}
            for entry in self.claims.of_kind(*HOLES):
                spot = self.layout.spots.get(entry.name)
                if spot is None:
                    continue
                for owner in self.holes.owners(entry):
                    group = found.setdefault((owner, spot.page), Group(self.claims.entries[owner], spot.page))
                    group.openings.extend(self._openings(entry, spot, owner))
            self._groups = [found[key] for key in sorted(found)]
        return self._groups

    # -- one hole ----------------------------------------------------------------------------------

    def _openings(self, entry: Entry, spot: Spot, owner: str) -> Iterator[Opening]:
        cores, size = self._cores(entry, spot)
        low, high = self._run(entry.one("deep"), entry, spot, owner)
        own = [Opening(entry, 1, None, cores, size, low, high)]
        mouth = entry.one("counterbore", "countersink")
        if mouth is not None:
            low, high = self._run(mouth, entry, spot, owner)
            cores, size = self._mouth(entry, mouth, spot)
            own.append(Opening(entry, 1, mouth, cores, size, low, high))
        yield from own
        frame = self.layout.frames[spot.page]
        for copy, move in enumerate(self.layout.copies.get(entry.name, ()), start=2):
            out = tuple(dot(row, frame.out) for row in move.rows)
            if abs(abs(dot((out[0], out[1], out[2]), frame.out)) - 1.0) < 1e-9:
                yield from (_moved(one, copy, move, frame) for one in own)

    def _cores(self, entry: Entry, spot: Spot) -> tuple[tuple[tuple[XY, XY], ...], float]:
        if entry.kind == "bore" and not entry.has("hex", "square", "flat", "flats"):
            return ((spot.at, spot.at),), radius(entry, made=True) or 0.0
        path = self.outliner.hole(entry, spot.at, spot.turn)
        if entry.kind == "slot" and not entry.has("square ends"):
            bends = [edge for edge in path if isinstance(edge, Bend)]
            return ((bends[0].centre, bends[-1].centre),), bends[0].radius
        return _round_about(path), 0.0

    def _mouth(self, entry: Entry, mouth: Claim, spot: Spot) -> tuple[tuple[tuple[XY, XY], ...], float]:
        if mouth.word_of("which") == "nut":
            return _round_about(self.outliner.mouth(entry, mouth, spot.at, spot.turn)), 0.0
        return ((spot.at, spot.at),), 0.5 * mouth.number("number")

    def _run(self, claim: Claim | None, entry: Entry, spot: Spot, owner: str) -> tuple[float, float]:
        """The heights between which an opening is open, from the claim that says how deep it goes (None:
        through).
        """
        if claim is None:
            return -math.inf, math.inf
        height, out = self._start(claim, entry, spot, owner)
        if claim.word == "deep":
            depth = claim.number("size")
        elif claim.word == "counterbore":
            depth = claim.number("depth")
        else:
            size = across(entry)
            depth = 0.5 * (claim.number("number") - (size.made.value if size is not None else 0.0))
        bottom = height - out * depth
        return (bottom, math.inf) if out > 0 else (-math.inf, bottom)

    def _start(self, claim: Claim, entry: Entry, spot: Spot, owner: str) -> tuple[float, int]:
        """The height of the flat that an opening starts from, and +1 where that faces out of the page."""
        ref = claim.get("thing")
        if not isinstance(ref, Ref):
            if any(self.pages.is_flat(one.ref("thing")) for one in entry.all("on")):
                return spot.base, spot.out
            ref = Ref("", "front", claim.span)
        ref = ref if ref.name else Ref(owner, ref.part, ref.span)
        flat = self.pages.flat(ref)
        faces_out = flat is None or dot(flat.normal, self.layout.frames[spot.page].out) > 0
        return self.pages.height_of(ref, spot.page), 1 if faces_out else -1

    # -- the edge of a body ------------------------------------------------------------------------

    def edge(self, body: str, page: str) -> Region | None:
        """A body's outline on a page; None where it is not told by a flat outline (turnings, other
        directions).
        """
        if (body, page) not in self._edges:
            self._edges[(body, page)] = self._edge(self.claims.entries[body], page)
        return self._edges[(body, page)]

    def _edge(self, body: Entry, page: str) -> Region | None:
        if self.pages.stand(body.name)[0] == page:
            if body.kind in ("plate", "block", "strip"):
                return self.bodies.region(body.name)
            spot = self.layout.spots.get(body.name)
            if body.kind == "peg" and spot is not None:
                return canonical([facet(self.outliner.hole(body, spot.at, spot.turn), FINE)])
            if body.kind == "gear" and spot is not None:
                from ..facts.gears import gear_of

                gear = gear_of(body, self.claims).gear
                feet = circle(spot.at, 0.5 * gear.root, self.marks.of(body.name, "teeth"))
                return None if gear.inside else canonical([facet(feet, FINE)])
            return None
        return self._seen_from_aside(body, page) if body.kind == "block" else None

    def _seen_from_aside(self, body: Entry, page: str) -> Region | None:
        """A block as a page that stands square to its own sees it: a rectangle."""
        frame, seen = self.bodies.frame(body.name), self.layout.frames[page]
        spot, heights = self.layout.spots[body.name], self.pages.heights(body.name)
        if all(abs(abs(dot(axis, seen.out)) - 1.0) > 1e-9 for axis in (frame.right, frame.up, frame.out)):
            return None
        x, y = spot.half
        corners = [
            seen.onto(frame.point((spot.at[0] + i * x, spot.at[1] + j * y), height))[0]
            for i in (-1, 1)
            for j in (-1, 1)
            for height in heights
        ]
        away = max(
            abs(dot(axis, way)) for axis in (frame.right, frame.up, frame.out) for way in (seen.right,)
        )
        if abs(away - 1.0) > 1e-9:
            return None
        low = (min(at[0] for at in corners), min(at[1] for at in corners))
        high = (max(at[0] for at in corners), max(at[1] for at in corners))
        points = np.array([low, (high[0], low[1]), high, (low[0], high[1])], dtype=np.float64)
        return Region((Ring(points, np.full(4, self.marks.of(body.name, "side"), dtype=np.int32)),))

    # -- other bodies ------------------------------------------------------------------------------

    def joined_on(self, group: Group, opening: Opening, at: XY) -> bool:
        """True where another body's material lies at a place of the page, all along the opening: there is no
        edge.
        """
        frame = self.layout.frames[group.page]
        points = [frame.point(at, height) for height in self._heights(group, opening)]
        others = [one for one in self.bodies_but(group.body.name) if self._has_outline(one)]
        return bool(others) and all(any(self._holds(one, point) for one in others) for point in points)

    def bodies_but(self, name: str) -> list[str]:
        """The other bodies."""
        return [one for one in self.holes.bodies if one != name]

    def _heights(self, group: Group, opening: Opening) -> list[float]:
        low, high = opening.low, opening.high
        if self.pages.stand(group.body.name)[0] == group.page:
            own = self.pages.heights(group.body.name)
            low, high = max(low, own[0]), min(high, own[1])
        if not (math.isfinite(low) and math.isfinite(high)):
            spot = self.layout.spots[opening.entry.name]
            return [spot.base - 0.5 * spot.out]
        return [low + share * (high - low) for share in (0.02, 0.5, 0.98)]

    def _has_outline(self, name: str) -> bool:
        try:
            return self.claims.entries[name].kind in ("plate", "block", "strip", "peg", "turning") and (
                name in self.layout.spots or self.bodies.region(name) is not None
            )
        except Trouble:
            return False

    def _holds(self, name: str, point: tuple[float, float, float]) -> bool:
        """True where a point lies in the bare material of a body (a turning: within its largest round)."""
        page = self.pages.stand(name)[0]
        at, height = self.layout.frames[page].onto(point)
        low, high = self.pages.heights(name)
        if not low - 1e-6 <= height <= high + 1e-6:
            return False
        entry = self.claims.entries[name]
        if entry.kind == "turning":
            spot = self.layout.spots[name]
            return not entry.has("lies along") and math.dist(at, spot.at) <= spot.half[0]
        region = self.edge(name, page)
        return region is not None and contains(region, at)


def _round_about(path: Path) -> tuple[tuple[XY, XY], ...]:
    points = [(float(x), float(y)) for x, y in facet(path, FINE).points]
    return tuple(zip(points, [*points[1:], points[0]], strict=True))


def _moved(one: Opening, copy: int, move: Move, frame: Frame) -> Opening:
    """An opening as a copy of its hole has it."""

    def there(at: XY, height: float) -> tuple[XY, float]:
        return frame.onto(move.point(frame.point(at, height)))

    anchor = one.cores[0][0]
    ends = [there(anchor, height)[1] if math.isfinite(height) else height for height in (one.low, one.high)]
    if there(anchor, 1.0)[1] < there(anchor, 0.0)[1]:
        ends = [-ends[1] if math.isinf(ends[1]) else ends[1], -ends[0] if math.isinf(ends[0]) else ends[0]]
    cores = tuple((there(p, 0.0)[0], there(q, 0.0)[0]) for p, q in one.cores)
    return Opening(one.entry, copy, one.mouth, cores, one.radius, ends[0], ends[1])
