"""The outlines that a recipe asks for: walked, belted, chained or merged, then grown or shrunk, then rounded.

The order of these steps is fixed, whatever order the facts are written in; so is which edge gets whose label.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import TYPE_CHECKING

import numpy as np

from ..diagnostics.types import Trouble
from ..facts import Claim, Claims, Entry, Ref
from ..facts.extents import across, half, radius
from ..model import Model
from ..places.layout import Layout
from ..quantities.vectors import XY
from .belts import belt, chain
from .booleans import canonical, common, cut, merge
from .corners import round_corners
from .facets import facet
from .marks import Marks
from .offsets import offset, offset_path
from .shapes import circle, flatted, polygon, rectangle, slot_path, two_flatted, web
from .smoothing import smoothed
from .stops import ArcStop, LineStop, PointStop, RoundStop, Stop
from .strips import Side, strip
from .teeth import toothed
from .types import Path, Region, Ring
from .walks import walk

if TYPE_CHECKING:
    from .racks import BlockRack

STRAIGHT = 1e-6
"""mm2: a path whose corners turn by less in all turns to neither side."""
SMALLER_FLAT = (
    "a flat is read from the flat to the far side of the "
    "round, two over both: a smaller one, or a larger round"
)
FACING = {
    "right": 0.0,
    "top": 0.5 * math.pi,
    "above": 0.5 * math.pi,
    "left": math.pi,
    "bottom": 1.5 * math.pi,
    "below": 1.5 * math.pi,
}


class Outliner:
    """Makes the outlines of one recipe; raises Trouble with the names of what does not work out."""

    def __init__(self, model: Model, claims: Claims, layout: Layout, marks: Marks, chord: float) -> None:
        self.model, self.claims, self.layout = model, claims, layout
        self.marks, self.chord = marks, chord

    def spot(self, ref: Ref, page: str) -> XY:
        """Where a thing lies on a page; a copy where its copy lies."""
        spot = self.layout.spots.get(ref.name)
        if spot is None:
            raise Trouble("not-placed", f"`{ref}` is not placed", (ref.name,))
        if ref.part.isdigit() and int(ref.part) > 1:
            moves = self.layout.copies.get(ref.name, ())
            if int(ref.part) > len(moves) + 1:
                raise Trouble("unknown-part", f"there is no `{ref}`: the copies are .1 to .{len(moves) + 1}")
            point = moves[int(ref.part) - 2].point(self.layout.frames[spot.page].point(spot.at))
            return self.layout.frames[page].onto(point)[0]
        if spot.page != page:
            raise Trouble(
                "other-plane",
                f"`{ref}` lies on {spot.page}, but this is drawn on {page}",
                (ref.name,),
                advice=(f"give `{ref}` the line: on {page}",),
            )
        return spot.at

    def corner(self, ref: Ref, hollow: bool, page: str) -> PointStop | RoundStop:
        """A point or round as a stop of a walk."""
        entry = self.claims.entries[ref.name]
        at = self.spot(ref, page)
        if entry.kind == "point":
            return PointStop(at, self.marks.of(ref.name), str(ref))
        size = radius(entry, made=True) or 0.0
        return RoundStop(at, size, hollow, self.marks.of(ref.name), str(ref))

    def stop(self, ref: Ref, how: str, page: str) -> Stop:
        """A stop of a walk: point, round, line or arc."""
        entry = self.claims.entries[ref.name]
        label = self.marks.of(ref.name)
        if entry.kind == "line":
            there = self.layout.lines.get(ref.name)
            if there is None or there[0] != page:
                raise Trouble("other-plane", f"line `{ref}` is not placed on {page}", (ref.name,))
            c, s = math.cos(there[1].angle), math.sin(there[1].angle)
            foot = (c * there[1].offset, s * there[1].offset)
            return LineStop(foot, (s, -c), how == "into", label=label, name=ref.name)
        if entry.kind == "arc":
            rise, bend = entry.one("rise"), entry.one("radius")
            return ArcStop(
                rise.number("size") if rise else None,
                bend.number("size") if bend else None,
                not entry.has("inwards"),
                label,
                ref.name,
            )
        return self.corner(ref, how == "inside", page)

    def plate(self, entry: Entry, page: str) -> Region:
        """The outline of a plate on its page."""
        label = self.marks.of(entry.name, "side")
        path: Path | None = None
        region: Region | None = None
        shape = entry.one("outline", "belt", "chain", "merge")
        assert shape is not None
        if shape.word == "outline":
            path = walk([self.stop(one.thing, one.how, page) for one in shape.passes("stops")], label)
        elif shape.word == "belt":
            path = belt(self._rounds(shape, page), label)
        elif shape.word == "chain":
            region = merge([facet(one, self.chord) for one in chain(self._rounds(shape, page), label)])
        else:
            region = merge([facet(self.shape(ref, page), self.chord) for ref in shape.refs("things")])
            _in_one_piece(region, entry)
        by = sum(
            claim.number("number") * (1 if claim.word == "grow" else -1)
            for claim in entry.all("grow", "shrink")
        )
        return self._finished(entry, path, region, by, page)

    def _finished(
        self, entry: Entry, path: Path | None, region: Region | None, by: float, page: str
    ) -> Region:
        label = self.marks.of(entry.name, "side")
        if by and path is not None:
            grown = offset_path(path, by)
            region = offset(path, by, self.chord) if grown is None else None
            path = grown
        elif by and region is not None:
            region = offset(region, by, self.chord, label)
        for claim in sorted(entry.all("round inside", "round outside"), key=lambda one: one.text):
            size = claim.number("number")
            places = [self.spot(ref, page) for ref in claim.refs("things")] or None
            which = "inside" if claim.word == "round inside" else "outside"
            name = self.marks.of(entry.name, claim.word)
            if path is not None:
                path = round_corners(path, size, "inside" if which == "inside" else "outside", places, name)
            elif region is not None:
                rounds = [
                    (place, self._size(ref))
                    for place, ref in zip(places or (), claim.refs("things"), strict=True)
                ]
                region = smoothed(region, size, which == "inside", rounds or None, self.chord, name)
        if path is not None:
            return canonical([_eased(path, self.chord) if entry.has("bevel") else facet(path, self.chord)])
        assert region is not None
        return region

    def _size(self, ref: Ref) -> float:
        entry = self.claims.entries[ref.name]
        return (radius(entry, made=True) or 0.0) if entry.kind in ("round", "turning", "peg") else 0.0

    def _rounds(self, claim: Claim, page: str) -> Sequence[RoundStop]:
        found = []
        for ref in claim.refs("things"):
            stop = self.corner(ref, False, page)
            found.append(
                stop if isinstance(stop, RoundStop) else RoundStop(stop.at, 0.0, False, stop.label, stop.name)
            )
        return found

    def shape(self, ref: Ref, page: str) -> Path:
        """A round, rectangle or web as a closed path."""
        entry = self.claims.entries[ref.name]
        if entry.kind == "web":
            joins, wide = entry.one("joins"), entry.one("wide")
            assert joins is not None and wide is not None
            first, second = (self.spot(joins.ref(key), page) for key in ("first", "second"))
            return web(first, second, wide.number("size"), self.marks.of(ref.name))
        at = self.spot(ref, page)
        if entry.kind == "rectangle":
            return self.box(entry, at, page)
        return circle(at, radius(entry, made=True) or 0.0, self.marks.of(ref.name))

    def box(self, entry: Entry, at: XY, page: str) -> Path:
        """The rectangle of a block, notch or rectangle, its corners rounded where it says so."""
        x, y = half(entry, made=True)
        labels = [self.marks.of(entry.name, side) for side in ("left", "bottom", "right", "top")]
        low, high = (at[0] - x, at[1] - y), (at[0] + x, at[1] + y)
        path = rectangle(low, high, (labels[0], labels[1], labels[2], labels[3]))
        if entry.kind == "block" and entry.has("round inside"):
            raise Trouble(
                "no-corner",
                f"block `{entry.name}` has no hollow corner, all of them stick out",
                (entry.name,),
                advice=("round outside 2",),
            )
        for claim in sorted(entry.all("round outside"), key=lambda one: one.text):
            places = [self.spot(ref, page) for ref in claim.refs("things")] or None
            path = round_corners(
                path, claim.number("number"), "outside", places, self.marks.of(entry.name, claim.word)
            )
        return path

    def block(self, entry: Entry, page: str) -> Region:
        """The outline of a block on its page, the teeth of racks cut into its sides."""
        at = self.spot(Ref(entry.name, "", entry.span), page)
        region = canonical([facet(self.box(entry, at, page), self.chord)])
        if not entry.has("rack"):
            return region
        from .racks import block_racks

        return cut(
            region, [space for one in block_racks(entry, self.claims) for space in self._rack(entry, one, at)]
        )

    def _rack(self, entry: Entry, one: BlockRack, at: XY) -> list[Ring]:
        from .racks import rack_spaces

        x, y = half(entry, made=True)
        left, right, low, high = at[0] - x, at[0] + x, at[1] - y, at[1] + y
        start, end = {
            "bottom": ((left, low), (right, low)),
            "right": ((right, low), (right, high)),
            "top": ((right, high), (left, high)),
            "left": ((left, high), (left, low)),
        }[one.found.where]
        # Places are counted from the left or bottom end; top and left sides are walked towards it.
        gaps = (
            tuple(-gap for gap in reversed(one.row.gaps))
            if one.found.where in ("top", "left")
            else one.row.gaps
        )
        label = self.marks.of(entry.name, f"rack {one.found.where}")
        return rack_spaces(start, end, one.found.rack, gaps, self.chord, label)

    def strip(self, entry: Entry, page: str) -> Region:
        """The outline of a strip bent along its path."""
        path, thick = entry.one("path"), entry.one("thick")
        lies, bends = entry.one("on path"), entry.one("turns inside")
        assert path is not None and thick is not None
        stops = [self.corner(one.thing, one.how == "inside", page) for one in path.passes("stops")]
        # A strip begins and ends at a place: of a round or hole that is its centre.
        for end in (0, -1):
            stop = stops[end]
            if isinstance(stop, RoundStop):
                stops[end] = PointStop(stop.centre, stop.label, stop.name)
        faces = tuple(self.marks.of(entry.name, one) for one in ("left side", "right side", "start", "end"))
        side = self._strip_side(lies.word_of("side") if lies is not None else "middle", stops)
        outline = strip(
            stops,
            thick.number("size"),
            side,
            bends.number("size") if bends else 0.0,
            (faces[0], faces[1], faces[2], faces[3]),
        )
        return canonical([facet(outline, self.chord)])

    @staticmethod
    def _strip_side(lies: str, stops: Sequence[PointStop | RoundStop]) -> Side:
        """Left or right of the path, from `outside` or `inside` of its bends: the way the path turns in
        all.
        """
        if lies == "middle":
            return "middle"
        places = [one.at if isinstance(one, PointStop) else one.centre for one in stops]
        turning = sum(
            (b[0] - a[0]) * (c[1] - b[1]) - (b[1] - a[1]) * (c[0] - b[0])
            for a, b, c in zip(places, places[1:], places[2:], strict=False)
        )
        if abs(turning) < STRAIGHT:
            raise Trouble(
                "straight-path",
                f"`{lies} on path` says nothing of a path that turns to neither side: it has no {lies}",
                advice=("middle on path, with its places read to the middle of its thickness",),
            )
        inside: Side = "left" if turning > 0 else "right"
        outside: Side = "right" if turning > 0 else "left"
        return inside if lies == "inside" else outside

    def hole(self, entry: Entry, at: XY, turn: float, closed: Sequence[XY] | None = None) -> Path:
        """The outline of a hole, anticlockwise, as it is meant to be made; of a notch only the corners at the
        places `closed` are rounded (None: all).
        """
        label = self.marks.of(entry.name)
        if entry.kind == "notch":
            return self._notch(entry, at, turn, closed)
        if entry.kind == "slot":
            return self._slot(entry, at, turn)
        size = across(entry)
        assert size is not None
        wide = size.made.value
        if entry.has("turned"):
            claim = entry.one("turned")
            assert claim is not None
            turn += math.radians(claim.number("angle"))
        teeth = entry.one("serrated", "splines")
        if teeth is not None:
            return toothed(
                teeth.word, at, 0.5 * wide, teeth.number("depth"), int(teeth.number("count")), turn, label
            )
        for word, sides in (("hex", 6), ("square", 4)):
            if entry.has(word):
                return polygon(at, wide, sides, turn, label)
        flat = entry.one("flat", "flats")
        if flat is not None:
            return self._flatted(flat, at, wide, turn, entry)
        return circle(at, 0.5 * wide, label)

    def mouth(self, entry: Entry, claim: Claim, at: XY, turn: float) -> Path:
        """The outline of a hole's mouth at its flat: a round, or the hexagon that a nut is let into, turned
        as its hole is.
        """
        label = self.marks.of(entry.name, claim.word)
        if claim.word_of("which") != "nut":
            return circle(at, 0.5 * claim.number("number"), label)
        turned = entry.one("turned") if entry.kind == "bore" else None
        return polygon(
            at,
            claim.number("number"),
            6,
            turn + math.radians(turned.number("angle") if turned else 0.0),
            label,
        )

    def _flatted(self, flat: Claim, at: XY, wide: float, turn: float, entry: Entry) -> Path:
        towards = FACING.get(flat.word_of("word"), 0.5 * math.pi if not flat.get("word") else None)
        if towards is None:
            raise Trouble(
                "no-such-side",
                f"the flat of `{entry.name}` can face left, right, top or bottom",
                (entry.name,),
            )
        # A flat is read across, from the flat to the far side of the round; two over both.
        from ..facts.made_sizes import made_flat

        plain, size = flat.number("size"), made_flat(entry, flat).value
        both = flat.word == "flats"
        distance = 0.5 * size if both else size - 0.5 * wide
        if distance >= 0.5 * wide:
            raise Trouble(
                "flat-misses",
                f"the flat of `{entry.name}` ({plain:g} across) does not cut its round ({wide:g})",
                (entry.name,),
                advice=(SMALLER_FLAT,),
            )
        labels = (self.marks.of(entry.name), self.marks.of(entry.name, "flat"))
        return (two_flatted if both else flatted)(at, 0.5 * wide, distance, towards + turn, *labels)

    def _slot(self, entry: Entry, at: XY, turn: float) -> Path:
        size, ends, label = across(entry), entry.one("ends"), self.marks.of(entry.name)
        assert size is not None
        round_end = 0.5 * size.made.value
        if ends is not None:
            page = self.layout.spots[entry.name].page
            first, second = (self.spot(ends.ref(key), page) for key in ("first", "second"))
        else:
            long = half(entry, made=True)[0]
            if not entry.has("square ends") and long < round_end - 1e-9:
                raise Trouble(
                    "slot-too-short",
                    f"slot `{entry.name}` is {2 * long:g} long over its ends but {2 * round_end:g} wide",
                    (entry.name,),
                )
            reach = long - round_end
            step = (math.cos(turn) * reach, math.sin(turn) * reach)
            first, second = (at[0] - step[0], at[1] - step[1]), (at[0] + step[0], at[1] + step[1])
        if entry.has("square ends"):
            way = math.atan2(second[1] - first[1], second[0] - first[0]) if first != second else turn
            out = (math.cos(way) * round_end, math.sin(way) * round_end)
            return web(
                (first[0] - out[0], first[1] - out[1]),
                (second[0] + out[0], second[1] + out[1]),
                2 * round_end,
                label,
            )
        return slot_path(first, second, round_end, label)

    def notch_corners(self, entry: Entry, at: XY, turn: float) -> list[XY]:
        """The four corners of a notch before any is rounded."""
        return [edge.start for edge in self._sharp_notch(entry, at, turn)]

    def _notch(self, entry: Entry, at: XY, turn: float, closed: Sequence[XY] | None) -> Path:
        path = self._sharp_notch(entry, at, turn)
        if closed is not None and not closed:
            return path
        for claim in entry.all("round inside"):
            label = self.marks.of(entry.name, claim.word)
            path = round_corners(path, claim.number("number"), "outside", closed, label)
        return path

    def _sharp_notch(self, entry: Entry, at: XY, turn: float) -> Path:
        x, y = half(entry, made=True)
        label = self.marks.of(entry.name)
        if turn == 0.0:
            return rectangle((at[0] - x, at[1] - y), (at[0] + x, at[1] + y), (label,) * 4)
        c, s = math.cos(turn), math.sin(turn)
        return web((at[0] - c * x, at[1] - s * x), (at[0] + c * x, at[1] + s * x), 2 * y, label)


def _eased(path: Path, chord: float) -> Ring:
    """The polygon of an outline that is to be bevelled, without the stub beside each end of an arc.

    Facets stand on a fixed grid, so the first one of an arc may be as short as you like; drawn in by the
    bevel it would turn round, though the arc itself is far from being eaten up.  Facets a third finer make up
    for the longer ones."""
    ring = facet(path, 0.7 * chord)
    points, labels = ring.points, ring.labels
    step = np.roll(points, -1, axis=0) - points
    after = np.hypot(step[:, 0], step[:, 1])
    before = np.roll(after, 1)
    whole = points - np.roll(points, 1, axis=0) + step
    off = np.abs(step[:, 0] * whole[:, 1] - step[:, 1] * whole[:, 0]) / np.maximum(
        np.hypot(whole[:, 0], whole[:, 1]), 1e-300
    )
    uneven = np.minimum(before, after) < 0.2 * np.maximum(before, after)
    stub = uneven & (labels == np.roll(labels, 1)) & (off < 0.3 * chord)
    stub &= ~np.roll(stub, 1)
    return Ring(points[~stub], labels[~stub]) if len(points) - int(stub.sum()) > 2 else ring


def _in_one_piece(region: Region, entry: Entry) -> None:
    from .measure import ring_area

    if sum(1 for ring in region.rings if ring_area(ring) > 0) > 1:
        raise Trouble(
            "falls-apart",
            f"the shapes merged in `{entry.name}` do not all touch",
            (entry.name,),
            advice=("join them with a web, or move them together",),
        )


__all__ = ["Outliner", "common", "cut"]
