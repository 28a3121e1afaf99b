"""Which plane each thing lies on, how high it stands there, and the flats and frames that follow from it."""

from __future__ import annotations

import math

from ..diagnostics.types import Trouble
from ..facts import Claims, Entry, Ref
from ..facts.extents import half, largest_station, tapered
from ..facts.kind_questions import counts_depth_from_foot, is_body, is_hole, is_plane, is_turning
from ..facts.placing import Leans, LiesAlong, Offset, On, Raised, Spans
from ..facts.placing_reader import placing_facts
from ..facts.types import FLATS, SIDES
from ..quantities.vectors import along, clean
from .frames import plane_frame, side_frame, taper_frame
from .heights import body_heights, faces_out, height_of
from .layout import Flat, Frame, Layout
from .lying import along_axis, axis_frame, end_page, lying, outline_of

SHEET = "sheet"
MOST_STORIES = 100
OUTWARD = {"right": 0.0, "top": 0.5 * math.pi, "left": math.pi, "bottom": 1.5 * math.pi}


class Planes:
    """Answers for one recipe: plane, base and heights of every thing, from its placing facts and what is
    placed so far.
    """

    def __init__(self, claims: Claims, layout: Layout) -> None:
        self.claims = claims
        self.layout = layout
        if not layout.facts.of:
            layout.facts = placing_facts(claims)
        self.facts = layout.facts
        self._stands = layout.stands
        self._busy: list[str] = []
        self._measuring: list[str] = []

    def is_flat(self, ref: Ref) -> bool:
        """True where a mention speaks of a plane face: a flat or side of a body, or a plane."""
        if ref.part in FLATS:
            return True
        entry = self.claims.entries.get(ref.name)
        if entry is None:
            return False
        return is_plane(entry) or (ref.part in SIDES and is_body(entry))

    def stand(self, name: str) -> tuple[str, float, int]:
        """Plane of a thing, the height it stands at over it, and which way it points.  Raises Trouble on a
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
            found = self._plane(entry) if is_plane(entry) else self._on(entry)
        finally:
            self._busy.pop()
        self._stands[name] = found
        return found

    def _on(self, entry: Entry) -> tuple[str, float, int]:
        placing = self.facts.of[entry.name]
        flats = [fact for fact in placing.all(On) if self.is_flat(fact.thing)]
        if len(flats) > 1:
            raise Trouble("said-twice", f"`{entry.name}` is on two flats", (entry.name,))
        spans, lies = placing.one(Spans), placing.one(LiesAlong)
        if flats:
            plane, base, out = self.flat_page(flats[0].thing)
            self.layout.use(entry, flats[0])
        elif (axis := along_axis(self, entry)) is not None:
            plane, base, out = axis, 0.0, 1
        elif spans is not None:
            plane, base, out = self.stand(_body(spans.first))[0], 0.0, 1
            self.layout.use(entry, spans)
        elif lies is not None:
            plane, base, out = self.stand(_body(lies.line))
        else:
            plane, base, out = SHEET, 0.0, 1
        raised = placing.one(Raised)
        if raised is not None:
            base += out * raised.height
            if is_hole(entry) and flats and counts_depth_from_foot(entry):
                self.layout.use(entry, raised)
        return plane, base, out

    def height_is_seen(self, name: str) -> None:
        """Note that a thing's height over its plane is read from another plane: what raised it counts."""
        placing = self.facts.of[name]
        self.layout.use(placing.entry, placing.one(Raised))

    def _plane(self, entry: Entry) -> tuple[str, float, int]:
        placing = self.facts.of[entry.name]
        offset, leans = placing.one(Offset), placing.one(Leans)
        if offset is None:
            return entry.name, 0.0, self.lean(leans)[2] if leans is not None else 1
        plane, base, out = self.flat_page(offset.thing)
        self.layout.use(entry, offset)
        return plane, base + out * offset.height, out

    def flat_page(self, ref: Ref) -> tuple[str, float, int]:
        """The plane that a flat, side or plane lies on, its height over it, and the way it faces."""
        end = end_page(self, ref)
        if end is not None:
            return end
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
        """Lowest and highest height of a body over its own plane, in mm."""
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
                self.layout.heights[name] = body_heights(self, self.facts.of[name], base, out)
            finally:
                self._measuring.pop()
        return self.layout.heights[name]

    def height_of(self, ref: Ref, plane: str) -> float:
        """Height over a plane of a flat that lies parallel to it; raises Trouble where it does not."""
        return height_of(self, ref, plane)

    def faces_out(self, ref: Ref, plane: str) -> bool:
        """Whether a flat parallel to a plane faces the way the plane does."""
        return faces_out(self, ref, plane)

    def flat(self, ref: Ref) -> Flat | None:
        """A flat in space, None as long as the plane it belongs to is not placed."""
        page, base, out = self.flat_page(ref)
        if ref.part in SIDES:
            return self.side(ref)
        own = page.rpartition(".")[2] in FLATS
        frame = self.frame(page) if own else self.layout.frames.get(page)
        if frame is None:
            return None
        return Flat(frame.point((0.0, 0.0), base), clean(along((0.0, 0.0, 0.0), (frame.out, float(out)))))

    def side(self, ref: Ref, made: bool = True) -> Flat | None:
        """A side of a body in space, None while the body is not placed; not `made`: where it lay on the part
        that was read.
        """
        outline = outline_of(self, ref.name, made)
        if outline is None:
            return None
        spot, angle = self.layout.spots[ref.name], OUTWARD[ref.part]
        frame, ((at_x, at_y), (x, y)) = self.layout.frames[spot.plane], outline
        reach = x if ref.part in ("left", "right") else y
        at = (at_x + reach * round(math.cos(angle)), at_y + reach * round(math.sin(angle)))
        height = spot.base if lying(self, ref.name) is not None else 0.0
        return Flat(frame.point(at, height), frame.direction(angle))

    def frame(self, plane: str) -> Frame | None:
        """The frame of a plane: the sheet, a side or sloping flat of a body, or a plane statement; None while
        what it stands on is not placed.
        """
        if plane == SHEET:
            return Frame()
        if plane in self.claims.entries:
            return plane_frame(self, self.claims.entries[plane])
        name, _, part = plane.rpartition(".")
        if part in FLATS:
            return axis_frame(self, name) if lying(self, name) is not None else taper_frame(self, name)
        return side_frame(self, name, part)

    def tapered_flat(self, name: str) -> str | None:
        """The flat of a body that slopes because it tapers: the one away from what it stands on."""
        entry = self.claims.entries.get(name)
        if entry is None or tapered(entry) is None:
            return None
        return "front" if self.stand(name)[2] > 0 else "back"

    def lean(self, fact: Leans) -> tuple[str, float, int]:
        """The plane that another one leans over, the height its two readings start from, and the way they
        run: into the body of a flat or side (as every reading from one does), away from a plane."""
        plane, base, out = self.flat_page(fact.thing)
        return plane, base, -out if fact.thing.part else out

    def lean_of(self, name: str) -> tuple[str, float, int] | None:
        """`lean` of a plane by its name, None where it does not lean."""
        fact = self.facts.of[name].one(Leans)
        return None if fact is None else self.lean(fact)


def _body(ref: Ref) -> str:
    """The body whose flat or side is spoken of.  Raises Trouble('which-body') where it is not named."""
    if not ref.name:
        raise Trouble("which-body", f"`{ref}` of which body?", advice=(f"name it: body.{ref}",))
    return ref.name


def spot_half(entry: Entry) -> tuple[float, float]:
    """Half-sizes of a spot on its plane, as made."""
    if is_turning(entry):
        across = largest_station(entry)
        return 0.5 * across, 0.5 * across
    return half(entry, made=True)


def dependencies(pages: Planes, plane: str) -> set[str]:
    """Other planes that must be placed before this one."""
    found: set[str] = set()
    if plane in pages.claims.entries:
        refs = [ref for fact in pages.facts.of[plane].facts for ref in fact.refs]
        found = {pages.stand(ref.name)[0] for ref in refs if ref.name in pages.claims.entries}
    elif plane != SHEET:
        found.add(pages.stand(plane.rpartition(".")[0])[0])
    return found - {plane}


__all__ = ["OUTWARD", "SHEET", "Planes", "dependencies", "spot_half"]
