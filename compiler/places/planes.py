"""Which page each thing lies on, how high it stands there, and the frames of pages that stand on sides and
lines.
"""

from __future__ import annotations

import math

from ..diagnostics.types import Trouble
from ..facts import BODIES, Claim, Claims, Entry, Ref
from ..facts.extents import half, radius, tapered, thickness
from ..facts.types import FLATS, SIDES
from ..quantities.vectors import XY, Vector, along, clean, cross, dot
from .layout import Flat, Frame, Layout, Spot
from .leaning import leaning

SHEET = "sheet"
MOST_STORIES = 100
OUTWARD = {"right": 0.0, "top": 0.5 * math.pi, "left": math.pi, "bottom": 1.5 * math.pi}


class Pages:
    """Answers for one recipe: page, base and heights of every thing, from its claims and what is placed so
    far.
    """

    def __init__(self, claims: Claims, layout: Layout) -> None:
        self.claims = claims
        self.layout = layout
        self._stands: dict[str, tuple[str, float, int]] = {}
        self._busy: list[str] = []
        self._measuring: list[str] = []

    def is_flat(self, ref: Ref) -> bool:
        """True where a mention speaks of a plane face: a flat or side of a body, or a plane."""
        if ref.part in FLATS:
            return True
        entry = self.claims.entries.get(ref.name)
        if entry is None:
            return False
        return entry.kind == "plane" or (ref.part in SIDES and entry.kind in BODIES)

    def stand(self, name: str) -> tuple[str, float, int]:
        """Page of a thing, the height it stands at over it, and which way it points.  Raises Trouble on a
        circle.
        """
        if name in self._stands:
            return self._stands[name]
        if name in self._busy:
            loop = [*self._busy[self._busy.index(name) :], name]
            raise Trouble(
                "circle-of-planes",
                "bodies that stand on one another in a circle: " + " -> ".join(loop),
                tuple(loop),
                advice=("one of them must stand on the sheet: leave its `on` line out",),
            )
        if len(self._busy) >= MOST_STORIES:
            raise Trouble(
                "circle-of-planes", f"more than {MOST_STORIES} things stand on one another", (name,)
            )
        entry = self.claims.entries.get(name)
        if entry is None:  # a number of the recipe's own, or what could not be read
            raise Trouble("wrong-kind", f"`{name}` is no thing that lies somewhere", (name,))
        self._busy.append(name)
        try:
            found = self._plane(entry) if entry.kind == "plane" else self._on(entry)
        finally:
            self._busy.pop()
        self._stands[name] = found
        return found

    def _on(self, entry: Entry) -> tuple[str, float, int]:
        flats = [claim for claim in entry.all("on") if self.is_flat(claim.ref("thing"))]
        if len(flats) > 1:
            raise Trouble("said-twice", f"`{entry.name}` is on two flats", (entry.name,))
        if flats:
            page, base, out = self.flat_page(flats[0].ref("thing"))
        elif entry.kind in ("rib", "rim", "fillet") and (claim := entry.one("between")) is not None:
            page, base, out = self.stand(_body(claim.ref("first")))[0], 0.0, 1
        elif entry.kind == "turning" and (claim := entry.one("lies along")) is not None:
            page, base, out = self.stand(_body(claim.ref("line")))
        else:
            page, base, out = SHEET, 0.0, 1
        raised = entry.one("raised")
        if raised is not None and entry.kind not in ("plane", "mark"):
            base += out * raised.number("number")
        return page, base, out

    def _plane(self, entry: Entry) -> tuple[str, float, int]:
        claim = entry.one("raised", "dropped")
        if claim is None:
            lean = entry.one("leans")
            return entry.name, 0.0, self._lean(lean)[2] if lean is not None else 1
        page, base, out = self.flat_page(claim.ref("thing"))
        step = claim.number("number") * (1 if claim.word == "raised" else -1)
        return page, base + out * step, out

    def flat_page(self, ref: Ref) -> tuple[str, float, int]:
        """The page that a flat, side or plane lies on, its height over it, and the way it faces."""
        if ref.part == self.tapered_flat(_body(ref)):
            return str(ref), 0.0, self.stand(ref.name)[2]
        if ref.part in FLATS:
            low, high = self.heights(ref.name)
            return (
                self.stand(ref.name)[0],
                (high if ref.part == "front" else low),
                (1 if ref.part == "front" else -1),
            )
        if ref.part in SIDES:
            return str(ref), 0.0, 1
        return self.stand(ref.name)

    def heights(self, name: str) -> tuple[float, float]:
        """Lowest and highest height of a body over its own page, in mm."""
        if name not in self.layout.heights:
            if name in self._measuring or len(self._measuring) >= MOST_STORIES:
                raise Trouble(
                    "circle-of-planes",
                    f"the height of `{name}` leans on bodies that lean on `{name}`",
                    (name,),
                )
            self._measuring.append(name)
            try:
                _, base, out = self.stand(name)
                self.layout.heights[name] = self._heights(self.claims.entries[name], base, out)
            finally:
                self._measuring.pop()
        return self.layout.heights[name]

    def _heights(self, entry: Entry, base: float, out: int) -> tuple[float, float]:
        if entry.kind == "turning":
            return self._turned_heights(entry, base, out)
        thick = thickness(entry)
        page = self.stand(entry.name)[0]
        reaches = entry.one("reaches")
        if thick is None and reaches is not None:
            there = self.height_of(reaches.ref("thing"), page)
            away = 1 if there <= base + 1e-9 or out < 0 else -1
            thick = abs(there + (out if out else away) * reaches.number("size") - base)
        if thick is None:
            return base, base
        for claim in entry.all("flush with"):
            ref = claim.ref("thing")
            height = self._parallel_height(ref, page)
            if height is not None:
                return (height - thick, height) if self._faces_out(ref, page) else (height, height + thick)
        for claim in entry.all("against"):
            height = self._parallel_height(claim.ref("thing"), page)
            if height is not None:
                faces = self._faces_out(claim.ref("thing"), page)
                return (height, height + thick) if faces else (height - thick, height)
        return min(base, base + out * thick), max(base, base + out * thick)

    def _turned_heights(self, entry: Entry, base: float, out: int) -> tuple[float, float]:
        stations = [claim.number(key) for claim in entry.all("across", "taper") for key in ("start", "stop")]
        ends = [base + out * one for one in stations] or [base]
        return min(ends), max(ends)

    def height_of(self, ref: Ref, page: str) -> float:
        """Height over a page of a flat that lies parallel to it; raises Trouble where it does not."""
        height = self._parallel_height(ref, page)
        if height is None:
            raise Trouble(
                "not-parallel",
                f"`{ref}` does not lie along this plane, so no height can be read from it",
                (str(ref),),
            )
        return height

    def _parallel_height(self, ref: Ref, page: str) -> float | None:
        if not self.is_flat(ref) or not ref.name:
            return None
        there, base, _ = self.flat_page(ref)
        if there == page:
            return base
        flat = self.flat(ref)
        frame = self.layout.frames.get(page)
        if flat is None or frame is None or abs(abs(dot(flat.normal, frame.out)) - 1.0) > 1e-9:
            return None
        return frame.onto(flat.point)[1]

    def _faces_out(self, ref: Ref, page: str) -> bool:
        there, _, out = self.flat_page(ref)
        if there == page:
            return out > 0
        flat, frame = self.flat(ref), self.layout.frames.get(page)
        return flat is None or frame is None or dot(flat.normal, frame.out) > 0

    def flat(self, ref: Ref) -> Flat | None:
        """A flat in space, None as long as the page it belongs to is not placed."""
        page, base, out = self.flat_page(ref)
        frame = self.frame(page) if ref.part == self.tapered_flat(ref.name) else self.layout.frames.get(page)
        if ref.part in SIDES:
            return self._side(ref)
        if frame is None:
            return None
        return Flat(frame.point((0.0, 0.0), base), clean(along((0.0, 0.0, 0.0), (frame.out, float(out)))))

    def _side(self, ref: Ref) -> Flat | None:
        spot = self.layout.spots.get(ref.name)
        frame = self.layout.frames.get(spot.page) if spot is not None else None
        if spot is None or frame is None:
            return None
        angle = OUTWARD[ref.part]
        reach = spot.half[0] if ref.part in ("left", "right") else spot.half[1]
        at = (spot.at[0] + reach * round(math.cos(angle)), spot.at[1] + reach * round(math.sin(angle)))
        return Flat(frame.point(at), frame.direction(angle))

    def frame(self, page: str) -> Frame | None:
        """The frame of a page: the sheet, a side of a body, or a plane; None while what it stands on is not
        placed.
        """
        if page == SHEET:
            return Frame()
        if page in self.claims.entries:
            return self._plane_frame(self.claims.entries[page])
        name, _, side = page.rpartition(".")
        return self._taper_frame(name) if side in FLATS else self._side_frame(name, side)

    def tapered_flat(self, name: str) -> str | None:
        """The flat of a body that slopes because it tapers: the one away from what it stands on."""
        entry = self.claims.entries.get(name)
        if entry is None or tapered(entry) is None:
            return None
        return "front" if self.stand(name)[2] > 0 else "back"

    def _taper_frame(self, name: str) -> Frame | None:
        entry, (page, _, out) = self.claims.entries[name], self.stand(name)
        claim, frame = tapered(entry), self.layout.frames.get(page)
        if claim is None or frame is None:
            return None
        low, high = self.heights(name)
        foot = low if out > 0 else high
        heights = (foot + out * claim.number("first"), foot + out * claim.number("second"))
        return self._between(claim, name, frame, heights)

    def _lean(self, claim: Claim) -> tuple[str, float, int]:
        """The page that a plane leans over, the height its two readings start from, and the way they run:
        into the body of a flat or side (as every reading from one does), away from a plane."""
        ref = claim.ref("thing")
        page, base, out = self.flat_page(ref)
        return page, base, -out if ref.part else out

    def _leaning_frame(self, claim: Claim) -> Frame | None:
        page, base, out = self._lean(claim)
        frame = self.layout.frames.get(page)
        if frame is None:
            return None
        return self._between(
            claim, "", frame, (base + out * claim.number("first"), base + out * claim.number("second"))
        )

    def _between(self, claim: Claim, own: str, frame: Frame, heights: tuple[float, float]) -> Frame | None:
        """The plane through two heights over a page, each read at a thing or at a side (`own`: of this
        body).
        """
        places: list[XY] = []
        ways: list[XY] = []
        for key in ("here", "there"):
            value = claim.get(key)
            ref = value if isinstance(value, Ref) else Ref(own, str(value), claim.span)
            spot = self.layout.spots.get(ref.name)
            side = self._side(ref) if ref.part in SIDES else None
            if spot is None or (ref.part in SIDES and side is None) or spot.page not in self.layout.frames:
                return None
            point = side.point if side is not None else self.layout.frames[spot.page].point(spot.at)
            places.append(frame.onto(point)[0])
            if side is not None:
                ways.append((dot(side.normal, frame.right), dot(side.normal, frame.up)))
        (ax, ay), (bx, by) = places
        if ways and math.hypot(*ways[0]) > 1e-6:  # a side is level along itself: the slope runs square to it
            x, y = ways[0]
            share = ((bx - ax) * x + (by - ay) * y) / (x * x + y * y)
            bx, by = ax + share * x, ay + share * y
        return leaning(frame, (ax, ay), (bx, by), heights)

    def _side_frame(self, name: str, side: str) -> Frame | None:
        spot = self.layout.spots.get(name)
        if spot is None or spot.page not in self.layout.frames:
            return None
        frame = self.layout.frames[spot.page]
        low, high = self.heights(name)
        x, y = spot.at
        w, h = spot.half
        back = clean(along((0.0, 0.0, 0.0), (frame.out, -1.0)))
        left = clean(along((0.0, 0.0, 0.0), (frame.right, -1.0)))
        down = clean(along((0.0, 0.0, 0.0), (frame.up, -1.0)))
        # Seen as in third-angle projection (ISO 128): the side is turned towards the reader, up or right
        # stays.
        if side == "right":
            return Frame(frame.point((x + w, y - h), high), back, frame.up, frame.right)
        if side == "left":
            return Frame(frame.point((x - w, y - h), low), frame.out, frame.up, left)
        if side == "top":
            return Frame(frame.point((x - w, y + h), high), frame.right, back, frame.up)
        return Frame(frame.point((x - w, y - h), low), frame.right, frame.out, down)

    def _plane_frame(self, entry: Entry) -> Frame | None:
        claim = entry.one("stands on", "square to", "leans")
        assert claim is not None
        if claim.word == "leans":
            return self._leaning_frame(claim)
        ref = claim.ref("line" if claim.word == "square to" else "thing")
        edge = self.edge_line(ref)
        if edge is None:
            return None
        point, direction, out = edge
        if claim.word == "square to":
            spot = self.layout.spots.get(claim.ref("point").name)
            if spot is None:
                return None
            origin = self.layout.frames[spot.page].point(spot.at)
            return Frame(origin, clean(cross(out, direction)), out, direction)
        angle = math.radians(claim.number("angle")) if claim.get("angle") is not None else 0.5 * math.pi
        flat_up = clean(cross(out, direction))
        up = clean(along((0.0, 0.0, 0.0), (flat_up, math.cos(angle)), (out, math.sin(angle))))
        frame = Frame(point, direction, up, clean(cross(direction, up)))
        return self._facing(entry, frame)

    def _facing(self, entry: Entry, frame: Frame) -> Frame:
        """The plane turned about its upright, so that it `faces` the way it says, as seen on the sheet."""
        claim = entry.one("faces")
        if claim is None:
            return frame
        ways: dict[str, Vector] = {
            "left": (-1.0, 0.0, 0.0),
            "right": (1.0, 0.0, 0.0),
            "above": (0.0, 1.0, 0.0),
            "below": (0.0, -1.0, 0.0),
        }
        share = dot(frame.out, ways[claim.word_of("where")])
        if abs(share) < 1e-6:
            raise Trouble(
                "not-square",
                f"plane `{entry.name}` can't face {claim.word_of('where')}: it lies along that way",
                (entry.name,),
            )
        if share > 0:
            return frame
        back, left = ((-x + 0.0, -y + 0.0, -z + 0.0) for x, y, z in (frame.out, frame.right))
        return Frame(frame.origin, left, frame.up, back)

    def edge_line(self, ref: Ref) -> tuple[Vector, Vector, Vector] | None:
        """A line (or the edge of a side) in space: a point of it, its direction, and the way out of its
        page.
        """
        if ref.name in self.layout.lines and not ref.part:
            page, line = self.layout.lines[ref.name]
            frame = self.layout.frames[page]
            at = (line.offset * math.cos(line.angle), line.offset * math.sin(line.angle))
            return frame.point(at), frame.direction(line.angle - 0.5 * math.pi), frame.out
        side = self._side(ref) if ref.part in SIDES else None
        spot = self.layout.spots.get(ref.name)
        if side is None or spot is None:
            return None
        frame = self.layout.frames[spot.page]
        return side.point, clean(cross(frame.out, side.normal)), frame.out

    def ahead(self, ref: Ref, frame: Frame) -> tuple[Vector, Vector, Vector] | None:
        """`edge_line`, run along the way the page of `frame` does: to the right, or up where the line stands
        upright.
        """
        edge = self.edge_line(ref)
        if edge is None:
            return None
        point, way, out = edge
        right, up = dot(way, frame.right), dot(way, frame.up)
        if right > 1e-9 or (right >= -1e-9 and up > 0.0):
            return edge
        return point, clean(along((0.0, 0.0, 0.0), (way, -1.0))), out


def _body(ref: Ref) -> str:
    """The body whose flat or side is spoken of.  Raises Trouble('which-body') where it is not named."""
    if not ref.name:
        raise Trouble("which-body", f"`{ref}` of which body?", advice=(f"name it: body.{ref}",))
    return ref.name


def spot_half(entry: Entry) -> tuple[float, float]:
    """Half-sizes of a spot on its page, as made."""
    return half(entry, made=True)


def dependencies(claims: Claims, pages: Pages, page: str) -> set[str]:
    """Other pages that must be placed before this one."""
    found: set[str] = set()
    if page in claims.entries:
        for claim in claims.entries[page].claims:
            for key in ("thing", "line", "point", "here", "there"):
                ref = claim.get(key)
                if isinstance(ref, Ref) and ref.name in claims.entries:
                    found.add(pages.stand(ref.name)[0])
    elif page != SHEET:
        found.add(pages.stand(page.rpartition(".")[0])[0])
    return found - {page}


__all__ = ["OUTWARD", "SHEET", "Claim", "Pages", "Spot", "dependencies", "radius", "spot_half"]
