"""Thickened and relieved zones of a plate, block or strip.

A zone never leaves the outline of its body.  Where thickened zones overlap the greatest thickness holds, not
the sum; where a relieved zone meets a thickened one it cuts both; of two relieved zones the deeper one holds.
"""

from __future__ import annotations

import itertools
import math

from ..diagnostics.types import Trouble
from ..facts import Claims, Entry, Ref
from ..facts.needs import BROUGHT
from ..model import Model
from ..outlines import Region, canonical, circle, facet, merge, web
from ..outlines import common as shared
from ..outlines.marks import Marks
from ..outlines.outlining import Outliner
from ..outlines.types import Ring
from ..places.layout import Layout, Move
from ..places.planes import Pages
from .combine import common, join, mirrored, moved, place, remove
from .kernel import Solid
from .prisms import prism, ramped
from .workshop import Workshop, axes

FAR_OUT = 1e3
LEAST = 1e-3  # mm3


class Zones:
    """Makes the pads that thicken a body and the cutters that relieve it."""

    def __init__(
        self,
        model: Model,
        claims: Claims,
        layout: Layout,
        pages: Pages,
        outliner: Outliner,
        bodies: Workshop,
        marks: Marks,
        chord: float,
    ) -> None:
        self.model, self.claims, self.layout, self.pages = model, claims, layout, pages
        self.outliner, self.bodies, self.marks, self.chord = outliner, bodies, marks, chord

    def of(self, body: str, kind: str) -> list[Entry]:
        """The zones of one kind on a body, in the order of their names."""
        return [entry for entry in self.claims.of_kind(kind) if self._on(entry).name == body]

    @staticmethod
    def _on(entry: Entry) -> Ref:
        claim = entry.one("on")
        assert claim is not None
        return claim.ref("thing")

    def solids(self, entry: Entry) -> list[Solid]:
        """Pads (thicken) or cutters (relieve) of a zone, one for each face it works on."""
        on = self._on(entry)
        body = on.name
        kind = self.claims.entries[body].kind
        stock = kind == "blank"
        if kind not in ("plate", "block", "strip", "blank"):
            advice = (f"join a plate or block to a side of it: on {body}.front",) if kind in BROUGHT else ()
            raise Trouble(
                "wrong-kind",
                f"zone `{entry.name}` works on a plate, block, strip or blank, but `{body}` is a {kind}",
                (entry.name,),
                advice=advice,
            )
        if on.part not in ("", "front", "back"):
            advice = ("grow its outline instead, or make the block larger on that side",)
            if stock:
                advice = (f"lies on {on.part}   lays it on that side: then this is its back",)
            raise Trouble(
                "edge-on",
                f"`{on}` is a side: your {kind} is seen edge-on there",
                (entry.name,),
                advice=advice,
            )
        if self.pages.tapered_flat(body) in ({"front", "back"} if on.part == "" else {on.part}):
            raise Trouble(
                "not-square",
                f"zone `{entry.name}` works on a flat that slopes: `{body}` tapers",
                (entry.name,),
                advice=("work on the other flat, or put a block on the sloping one",),
            )
        page = self.pages.stand(body)[0]
        outline = self.outliner.block(self.claims.entries[body], page) if stock else self.bodies.region(body)
        parts = self.parts(entry, page, outline)
        region = merge(parts) if len(parts) > 1 else canonical(parts)
        try:
            shared(region, outline)
        except Trouble:
            raise Trouble(
                "zone-outside",
                f"zone `{entry.name}` lies wholly outside `{body}`",
                (entry.name,),
                advice=("check where it is: its place is read on the same plane as the body",),
            ) from None
        faces = ("front", "back") if on.part == "" else (on.part,)
        low, high = self.pages.heights(body)
        frame = self.bodies.frame(body)
        found = []
        for face in faces:
            if stock:
                pad = self._layer(entry, body, parts, face, len(faces))
            else:
                pad = self._pad(entry, region, face, low, high, self._step(entry, high - low, len(faces)))
            found.append(place(pad, frame.origin, axes(frame)))
        found += [
            moved(solid, move) for move in self._moves(entry.name, body) for solid in found[: len(faces)]
        ]
        if entry.kind == "thicken" and not stock:
            label = self.marks.of(entry.name, "end")
            walls = place(prism(outline, low - 1e3, high + 1e3, label, label), frame.origin, axes(frame))
            found = [common(solid, walls) for solid in found]
        return found

    def _moves(self, zone: str, body: str) -> tuple[Move, ...]:
        """Where else the zone lies on its body: a body that is copied together with it takes its own zone
        along.
        """
        moves = self.layout.copies.get(zone, ())
        return () if moves and self.layout.copies.get(body) == moves else moves

    def _step(self, entry: Entry, thick: float, faces: int) -> float:
        """How much is added to (or taken off) each face, in mm."""
        by = entry.one("by")
        if by is not None:
            return by.number("number")
        to = entry.one("to")
        assert to is not None
        overall = to.number("number")
        step = (overall - thick if entry.kind == "thicken" else thick - overall) / faces
        if step <= 0:
            word = "thicker" if entry.kind == "thicken" else "thinner"
            raise Trouble(
                "zone-does-nothing",
                f"zone `{entry.name}` asks for {overall:g} overall, but the body is "
                f"{thick:g} thick: nothing becomes {word}",
                (entry.name,),
            )
        return step

    def _pad(self, entry: Entry, region: Region, face: str, low: float, high: float, step: float) -> Solid:
        claim = entry.one("ramp")
        ramp = claim.number("number") if claim is not None else 0.0
        label, thick = self.marks.of(entry.name, face), high - low
        if entry.kind == "relieve":
            self._leaves_some(entry, step, thick)
            start = (high, high - step, high + 1e3) if face == "front" else (low, low + step, low - 1e3)
            return ramped(region, start[0], start[1], ramp, label, start[2])
        middle = 0.5 * (low + high)
        top = (high, high + step) if face == "front" else (low, low - step)
        return ramped(region, top[0], top[1], ramp, label, middle)

    def _layer(self, entry: Entry, body: str, parts: list[Ring], face: str, faces: int) -> Solid:
        """What a zone adds to a mesh that was brought in, or cuts of it, on one of its faces; in the frame of
        its page.

        The surface as seen from that face moves by as much, so the layer has its shape; `to` is a height over
        the box."""
        from .layers import filled, lowered, raised

        ramp_claim, by = entry.one("ramp"), entry.one("by")
        ramp = ramp_claim.number("number") if ramp_claim is not None else 0.0
        low, high = self.pages.heights(body)
        if entry.kind == "relieve" and by is not None:
            self._leaves_some(entry, by.number("number"), high - low)
        solid, label = self.bodies.bare_stock(self.bodies.body(body)), self.marks.of(entry.name, face)
        low, high = (low, high) if face == "front" else (-high, -low)
        solid = solid if face == "front" else mirrored(solid, 2)
        regions = [canonical([part]) for part in parts]
        if by is not None:
            work = raised if entry.kind == "thicken" else lowered
            layers = [work(solid, region, by.number("number"), ramp, label) for region in regions]
        else:
            top = self._top(entry, low, high, faces, ramp)
            layers = [
                filled(solid, region, top, label)
                if entry.kind == "thicken"
                else prism(region, top, high + FAR_OUT, label, label)
                for region in regions
            ]
        layer = join(layers)
        changes = remove(layer, [solid]) if entry.kind == "thicken" else common(layer, solid)
        if changes.volume() <= LEAST:
            raise Trouble(
                "zone-does-nothing",
                f"zone `{entry.name}` changes nothing of `{body}` seen from its {face}",
                (entry.name,),
                advice=("check its place and its size",),
            )
        return layer if face == "front" else mirrored(layer, 2)

    @staticmethod
    def _top(entry: Entry, low: float, high: float, faces: int, ramp: float) -> float:
        """The height of the plane that a zone brings the surface of a mesh to."""
        to = entry.one("to")
        assert to is not None
        if ramp:
            raise Trouble(
                "ramp-too-long",
                f"zone `{entry.name}` brings a mesh to one height, wherever it lies: how far down "
                "its ramp would run is not known",
                (entry.name,),
                advice=("say how much:  by 2.0   or leave the ramp out",),
            )
        overall = to.number("number")
        return low + overall if faces == 1 else 0.5 * (low + high + overall)

    def _leaves_some(self, entry: Entry, step: float, thick: float) -> None:
        if step >= thick - 1e-9:
            raise Trouble(
                "zone-too-deep",
                f"zone `{entry.name}` takes off {step:g} of {thick:g}: nothing would be left",
                (entry.name,),
                advice=("make a hole of it: a notch, a bore or a slot",),
            )

    def parts(self, entry: Entry, page: str, outline: Region) -> list[Ring]:
        """The flat area of a zone in parts without hollows: a band, a collar, or the inside of a shape."""
        label = self.marks.of(entry.name, "side")
        band = entry.one("along")
        if band is not None:
            return self._band(
                [ref for ref in band.refs("things")], band.number("number"), page, outline, label
            )
        collar = entry.one("collar")
        if collar is not None:
            at = self.outliner.spot(collar.ref("thing"), page)
            return [facet(circle(at, 0.5 * collar.number("number"), label), self.chord)]
        inside = entry.one("inside")
        assert inside is not None
        return [facet(self.outliner.shape(inside.ref("thing"), page), self.chord)]

    def _band(self, refs: list[Ref], wide: float, page: str, outline: Region, label: int) -> list[Ring]:
        if len(refs) == 1 and self.claims.entries[refs[0].name].kind == "line":
            there, line = self.layout.lines[refs[0].name]
            if there != page:
                raise Trouble("other-plane", f"line `{refs[0]}` lies on {there}, the zone on {page}")
            from ..outlines import extent

            low, high = extent(outline)
            reach = (
                math.hypot(high[0] - low[0], high[1] - low[1]) + wide + math.hypot(*low) + math.hypot(*high)
            )
            c, s = math.cos(line.angle), math.sin(line.angle)
            foot = (c * line.offset, s * line.offset)
            ends = ((foot[0] - s * reach, foot[1] + c * reach), (foot[0] + s * reach, foot[1] - c * reach))
            return [facet(web(ends[0], ends[1], wide, label), self.chord)]
        spots = [self.outliner.spot(ref, page) for ref in refs]
        if len(spots) < 2:
            raise Trouble(
                "outline-too-short",
                "a band runs along a line, or along two things or more",
                advice=("along a, b wide 6.0",),
            )
        bars = [facet(web(a, b, wide, label), self.chord) for a, b in itertools.pairwise(spots)]
        joints = [facet(circle(spot, 0.5 * wide, label), self.chord) for spot in spots[1:-1]]
        return [*bars, *joints]


__all__ = ["Zones"]
