"""Each body's own material: plates, blocks, strips, turnings, pegs, ribs, fillets, rims, snap arms, before
zones and holes.
"""

from __future__ import annotations

import itertools
import math
from typing import cast

import numpy as np
from msgspec import Struct

from ..diagnostics.types import Trouble
from ..facts import Claims, Entry, Ref
from ..facts.needs import BODIES, BROUGHT, THREAD_WORDS
from ..facts.stock import Stock
from ..facts.types import SIDES
from ..kinds import own_file
from ..model import Model
from ..outlines import Path, Region, canonical, circle, facet, merge, web
from ..outlines.marks import Marks
from ..outlines.outlining import Outliner
from ..places.layout import Flat, Frame, Layout, Spot
from ..places.leaning import height_over
from ..places.planes import Pages
from ..quantities.arrays import Floats
from ..quantities.vectors import Vector, along, clean, cross, dot
from .combine import place, trim
from .corners import corner_fill
from .kernel import Solid
from .prisms import prism
from .rounds import behind, has_flat, round_at, round_fillet

PROUD = 1e-6  # mm
OVER = 1.0
"""How far (mm) a body that tapers is built past its sloping flat, so that the cut leaves nothing of the
end.
"""


class Corner(Struct, frozen=True):
    """The corner of two flats: a point of its line and the way it runs, the ways into the flats away from it
    (unit vectors), how far a rib reaches along each, or a fillet's radius, and from where to where along the
    line (mm)."""

    flats: tuple[Ref, Ref]
    edge: Vector
    way: Vector
    into: tuple[Vector, Vector]
    reach: tuple[float, float]
    stretch: tuple[float, float]


class Bodies:
    """Builds the bare material of each body in space."""

    def __init__(
        self,
        model: Model,
        claims: Claims,
        layout: Layout,
        pages: Pages,
        outliner: Outliner,
        marks: Marks,
        chord: float,
    ) -> None:
        self.model, self.claims, self.layout, self.pages = model, claims, layout, pages
        self.outliner, self.marks, self.chord = outliner, marks, chord
        # A thread keeps its hand where the body is mirrored afterwards: it is wound the other way before.
        self.flip = (claims.recipe is not None and claims.recipe.has("other hand")) != claims.flipped
        self.plain = self.flip
        self._regions: dict[str, Region] = {}
        self._bare: dict[tuple[str, bool], Solid] = {}

    def frame(self, name: str) -> Frame:
        """The frame of the page a body lies on."""
        page = self.pages.stand(name)[0]
        frame = self.layout.frames.get(page)
        if frame is None:
            raise Trouble("not-placed", f"`{name}` stands on something that is not placed", (name,))
        return frame

    def region(self, name: str) -> Region:
        """The outline of a plate, block or strip on its page, before holes."""
        if name not in self._regions:
            entry = self.claims.entries[name]
            page = self.pages.stand(name)[0]
            make = {"plate": self.outliner.plate, "block": self.outliner.block, "strip": self.outliner.strip}
            if entry.kind not in make:
                raise Trouble("wrong-kind", f"a {entry.kind} has no flat outline to work inside", (name,))
            self._regions[name] = make[entry.kind](entry, page)
        return self._regions[name]

    def solid(self, name: str, region: Region | None = None) -> Solid:
        """The bare material of a body in space; `region` replaces its outline where holes were let in
        already.
        """
        if region is not None:
            return self._prism(self.claims.entries[name], region)
        key = (name, self.flip)
        if key not in self._bare:
            self._bare[key] = self._made(self.claims.entries[name])
        return self._bare[key]

    def _made(self, entry: Entry) -> Solid:
        if entry.kind in ("plate", "block", "strip"):
            return self._prism(entry, self.region(entry.name))
        if entry.kind == "peg":
            return self._peg(entry)
        if entry.kind == "rib" and entry.has("along"):
            return self._wall(entry)
        if entry.kind in BROUGHT:
            return self._brought(entry)
        own = own_file(entry.kind, "solid")
        if own is None:
            return self._corner(entry)
        return cast(
            Solid, own.build(self, self.model.things[entry.name] if entry.kind == "turning" else entry)
        )

    def spot(self, entry: Entry) -> Spot:
        """Where a thing is.  Raises Trouble('not-placed')."""
        spot = self.layout.spots.get(entry.name)
        if spot is None:
            raise Trouble("not-placed", f"`{entry.name}` is not placed", (entry.name,))
        return spot

    def _prism(self, entry: Entry, region: Region) -> Solid:
        low, high = self.pages.heights(entry.name)
        bevels = {"front": 0.0, "back": 0.0}
        for claim in entry.all("bevel"):
            where = claim.word_of("where", "both")
            for face in ("front", "back") if where == "both" else (where,):
                bevels[face] = max(bevels[face], claim.number("number"))
        sloping = self.pages.tapered_flat(entry.name)
        if sloping is not None:
            low, high = self._room(entry, region, sloping, bevels[sloping])
        solid = prism(
            region,
            low,
            high,
            self.marks.of(entry.name, "front"),
            self.marks.of(entry.name, "back"),
            bevels["front"],
            bevels["back"],
            self.marks.of(entry.name, "bevel"),
        )
        placed = self.placed(solid, self.frame(entry.name))
        flat = self.pages.flat(Ref(entry.name, sloping, entry.span)) if sloping is not None else None
        if flat is None:
            return placed
        # what stands on a flat that slopes would hang a rounding error over it
        proud = PROUD if self._spoken_of(entry.name, sloping or "") else 0.0
        return trim(
            placed,
            along(flat.point, (flat.normal, proud)),
            flat.normal,
            self.marks.of(entry.name, sloping or ""),
        )

    def _spoken_of(self, name: str, flat: str) -> bool:
        """True where anything is placed by a flat of a body, so that it may stand on it."""
        values = (
            value for one in self.claims.entries.values() for claim in one.claims for _, value in claim.values
        )
        each = (ref for value in values for ref in (value if isinstance(value, tuple) else (value,)))
        return any(isinstance(ref, Ref) and (ref.name, ref.part) == (name, flat) for ref in each)

    def _room(self, entry: Entry, region: Region, sloping: str, bevel: float) -> tuple[float, float]:
        """From where to where a body that tapers has to be built before its sloping flat is cut."""
        if bevel:
            other = "back" if sloping == "front" else "front"
            raise Trouble(
                "not-square",
                f"the {sloping} of `{entry.name}` slopes, so its edge can't be bevelled",
                (entry.name,),
                advice=(f"bevel the other flat: bevel {bevel:g} at {other}",),
            )
        frame, plane = self.frame(entry.name), self.pages.frame(f"{entry.name}.{sloping}")
        if plane is None:
            raise Trouble("not-placed", f"where `{entry.name}` was measured is not placed", (entry.name,))
        low, high = self.pages.heights(entry.name)
        ends = [
            height_over(frame, plane, (float(x), float(y))) for ring in region.rings for x, y in ring.points
        ]
        bottom, top = (low, max(ends)) if sloping == "front" else (min(ends), high)
        if top - bottom <= PROUD:
            return low, low
        return (low, top + OVER) if sloping == "front" else (bottom - OVER, high)

    @staticmethod
    def placed(solid: Solid, frame: Frame) -> Solid:
        """What was made upright about z, as it stands in a frame."""
        if frame == Frame():
            return solid
        return place(solid, frame.origin, axes(frame))

    def _peg(self, entry: Entry) -> Solid:
        spot = self.spot(entry)
        low, high = self.pages.heights(entry.name)
        tip, foot = ("front", "back") if spot.out > 0 else ("back", "front")
        bevels = {tip: 0.0, foot: 0.0}
        for claim in entry.all("bevel"):
            where = claim.word_of("where", "tip")
            for face, said in ((tip, "tip"), (foot, "foot")):
                if where in (said, "both"):
                    bevels[face] = max(bevels[face], claim.number("number"))
        if entry.has(*THREAD_WORDS):
            from ..kinds.peg.model import Peg
            from ..kinds.thread.ridges import Wound
            from ..kinds.thread.solid import threaded_peg

            peg = self.model.body(entry.name)
            assert isinstance(peg, Peg) and peg.thread is not None
            label = self.marks.of(entry.name, "thread")
            wound = Wound(peg.thread, low, high, peg.thread.left != self.flip, label)
            ends = (bevels["back"], bevels["front"])
            solid = threaded_peg(entry.name, wound, ends, self.marks, self.chord).translate((*spot.at, 0.0))
        else:
            region = canonical([facet(self.outliner.hole(entry, spot.at, spot.turn), self.chord)])
            solid = prism(
                region,
                low,
                high,
                self.marks.of(entry.name, "front"),
                self.marks.of(entry.name, "back"),
                bevels["front"],
                bevels["back"],
                self.marks.of(entry.name, "bevel"),
            )
        return self.placed(solid, self.frame(entry.name))

    def _brought(self, entry: Entry) -> Solid:
        """The material of a file, its back towards what it stands on."""
        return self.placed(self.bare_stock(entry), self.frame(entry.name))

    def bare_stock(self, entry: Entry) -> Solid:
        """The material of a file in the frame of its page."""
        spot = self.spot(entry)
        from .brought import stock_solid

        heights = self.pages.heights(entry.name)
        return stock_solid(self.stock(entry.name), spot.at, heights, spot.out, self.marks, entry.name)

    def stock(self, name: str) -> Stock:
        """The material of a file; while threads are wound the other way for a mirrored copy, its twin."""
        stock = self.claims.stock[name]
        return stock.twin if self.flip != self.plain and stock.twin is not None else stock

    def hollows(self, name: str) -> list[tuple[str, Solid]]:
        """The holes of a used part, each with its name, filled out to the hull of its walls."""
        spot = self.layout.spots[name]
        from .brought import hollow_solids

        some = hollow_solids(self.claims.stock[name], spot.at, self.pages.heights(name), spot.out)
        return [(hole, self.placed(solid, self.frame(name))) for hole, solid in some]

    def _wall(self, entry: Entry) -> Solid:
        """A rib that runs along a row of things: a straight wall from each to the next."""
        page = self.pages.stand(entry.name)[0]
        thick, path = entry.one("thick"), entry.one("along")
        assert thick is not None and path is not None
        spots = [self.outliner.spot(ref, page) for ref in path.refs("things")]
        if len(spots) < 2:
            raise Trouble(
                "outline-too-short", f"rib `{entry.name}` needs two things to run between", (entry.name,)
            )
        label, wide = self.marks.of(entry.name, "side"), thick.number("size")
        bars: list[Path] = [web(a, b, wide, label) for a, b in itertools.pairwise(spots)]
        bars += [circle(spot, 0.5 * wide, label) for spot in spots[1:-1]]
        return self.upright(entry, merge([facet(bar, self.chord) for bar in bars]))

    def upright(self, entry: Entry, region: Region) -> Solid:
        """A region drawn out of its page as far as `high` says.  Raises Trouble('fact-missing')."""
        if not entry.has("high"):
            raise Trouble(
                "fact-missing",
                f"{entry.kind} `{entry.name}` does not say how `high`",
                (entry.name,),
                advice=("add a line such as: high 3.0",),
            )
        low, high = self.pages.heights(entry.name)
        solid = prism(
            region, low, high, self.marks.of(entry.name, "front"), self.marks.of(entry.name, "back")
        )
        return self.placed(solid, self.frame(entry.name))

    def _corner(self, entry: Entry) -> Solid:
        """A rib or fillet in the corner between two flats, along the stretch where both are there."""
        one = self.corner(entry)
        rounds = (round_at(self, one.flats[0]), round_at(self, one.flats[1]))
        for foot, other in zip(rounds, reversed(one.flats), strict=True):
            flat = self.pages.flat(other)
            if foot is not None and flat is not None and entry.kind == "fillet":
                return round_fillet(self, entry, foot, other, flat)
        deep = (
            behind(rounds[0], one.edge, one.way, *one.stretch, self.chord),
            behind(rounds[1], one.edge, one.way, *one.stretch, self.chord),
        )
        return corner_fill(
            "hollow" if entry.kind == "fillet" else "straight",
            one.edge,
            one.way,
            *one.into,
            *one.reach,
            *one.stretch,
            self.marks.of(entry.name),
            self.chord,
            behind=deep,
        )

    def corner(self, entry: Entry) -> Corner:
        """The corner between two flats that a rib or fillet fills."""
        between = entry.one("between")
        assert between is not None
        first, second = between.ref("first"), between.ref("second")
        a, b = self.pages.flat(first), self.pages.flat(second)
        if a is None or b is None:
            raise Trouble("not-placed", f"`{first}` or `{second}` is not placed", (entry.name,))
        way = cross(a.normal, b.normal)
        if math.sqrt(dot(way, way)) < 1e-6:
            raise Trouble(
                "flat-corner",
                f"`{first}` and `{second}` lie along one another: there is no corner to fill",
                (entry.name,),
            )
        size = math.sqrt(dot(way, way))
        way = clean((way[0] / size, way[1] / size, way[2] / size))
        edge = _meeting(a, b, way)
        start, stop = self._shared(first, second, edge, way)
        if entry.kind == "fillet":
            claim = entry.one("radius")
            assert claim is not None
            reach = (claim.number("size"), claim.number("size"))
        else:
            reach = self._reaches(entry, first, second)
            start, stop = self._rib_stretch(entry, edge, way, start, stop)
        into = (_square_to(a.normal, b.normal), _square_to(b.normal, a.normal))
        return Corner((first, second), edge, way, into, reach, (start, stop))

    def _reaches(self, entry: Entry, first: Ref, second: Ref) -> tuple[float, float]:
        found: dict[str, float] = {
            str(claim.ref("thing")): claim.number("number") for claim in entry.all("reach")
        }
        for ref in (first, second):
            if str(ref) not in found:
                raise Trouble(
                    "fact-missing",
                    f"rib `{entry.name}` does not say how far it reaches along `{ref}`",
                    (entry.name,),
                    advice=(f"add a line: reach 20.0 along {ref}",),
                )
        return found[str(first)], found[str(second)]

    def _shared(self, first: Ref, second: Ref, edge: Vector, way: Vector) -> tuple[float, float]:
        """The stretch of the corner's line along which both bodies are there."""
        for ref in (first, second):
            entry = self.claims.entries[ref.name]
            if entry.kind not in BODIES | {"plane"}:
                raise Trouble(
                    "wrong-kind",
                    f"`{ref.name}` is a {entry.kind}: a corner needs flats of bodies",
                    advice=("between leaf.front, base.top",),
                )
            if not has_flat(entry, ref):
                raise Trouble(
                    "not-square",
                    f"`{ref}` is an edge of `{ref.name}`, no flat: no corner can be filled there",
                    advice=("name another side, or turn it",),
                )
        spans = [
            self._span(ref.name, edge, way)
            for ref in (first, second)
            if self.claims.entries[ref.name].kind in BODIES
        ]
        if not spans:
            raise Trouble(
                "wrong-kind",
                f"`{first}` and `{second}` are planes: a corner needs a flat of a body",
                advice=("between leaf.front, base.top",),
            )
        start, stop = max(one[0] for one in spans), min(one[1] for one in spans)
        if stop - start < 1e-6:
            raise Trouble("flats-apart", f"`{first}` and `{second}` do not meet along an edge")
        return start, stop

    def _span(self, name: str, edge: Vector, way: Vector) -> tuple[float, float]:
        """How far a body reaches along a way, from its points: the box would say too much of one that
        leans.
        """
        ends = (np.asarray(self.solid(name).to_mesh64().vert_properties)[:, :3] - edge) @ way
        return float(ends.min()), float(ends.max())

    def _rib_stretch(
        self, entry: Entry, edge: Vector, way: Vector, start: float, stop: float
    ) -> tuple[float, float]:
        claim = entry.one("thick")
        assert claim is not None
        thick = claim.number("size")
        for line in sorted(entry.all("flush with", "from"), key=lambda one: one.text):
            ref = line.ref("thing")
            flat = self.pages.flat(ref) if ref.part else None
            if flat is None or abs(abs(dot(flat.normal, way)) - 1.0) > 1e-6:
                raise Trouble(
                    "not-square", f"`{ref}` does not stand across rib `{entry.name}`", (entry.name,)
                )
            at = dot(way, (flat.point[0] - edge[0], flat.point[1] - edge[1], flat.point[2] - edge[2]))
            inwards = -1.0 if dot(flat.normal, way) > 0 else 1.0
            gap = line.number("readings") if line.word == "from" else 0.0
            gap -= {"far": thick, "centre": 0.5 * thick}.get(line.word_of("edges"), 0.0)
            one, two = at + inwards * gap, at + inwards * (gap + thick)
            return min(one, two), max(one, two)
        middle = 0.5 * (start + stop)
        midway = entry.one("midway")
        if midway is not None:
            flats = [self.pages.flat(midway.ref(key)) for key in ("first", "second")]
            places = [dot(way, along(one.point, (edge, -1.0))) for one in flats if one is not None]
            middle = sum(places) / max(1, len(places))
        elif stop - start > thick + 1e-6:
            raise Trouble(
                "left-open",
                f"rib `{entry.name}` can still move along the corner",
                (entry.name,),
                advice=(self._across(entry),),
            )
        return middle - 0.5 * thick, middle + 0.5 * thick

    def _across(self, entry: Entry) -> str:
        """What would settle where a rib stands along its corner."""
        between = entry.one("between")
        for ref in (between.ref("first"), between.ref("second")) if between is not None else ():
            if round_at(self, ref) is not None:
                beside = SIDES[2:] if ref.part in SIDES[:2] else SIDES[:2]
                return "midway " + ", ".join(f"{ref.name}.{side}" for side in beside)
        return "flush with a side, from a side near ..., or midway two sides"


def axes(frame: Frame) -> Floats:
    """A frame's axes as the columns of a matrix (3, 3)."""
    return np.array([frame.right, frame.up, frame.out], dtype=np.float64).T.copy()


def _meeting(a: Flat, b: Flat, way: Vector) -> Vector:
    """A point on the line where two planes meet: the one level with the origin along that line."""
    rows = np.array([a.normal, b.normal, way], dtype=np.float64)
    sides = np.array([dot(a.normal, a.point), dot(b.normal, b.point), 0.0], dtype=np.float64)
    x, y, z = np.linalg.solve(rows, sides)
    return (float(x), float(y), float(z))


def _square_to(own: Vector, other: Vector) -> Vector:
    """The direction that lies in a flat and leads away from the corner it makes with another: towards the
    other's outside.
    """
    share = dot(own, other)
    x, y, z = along(other, (own, -share))
    size = math.sqrt(x * x + y * y + z * z)
    return clean((x / size, y / size, z / size))
