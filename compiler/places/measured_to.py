"""What the claims of one page are measured to: things, sides seen edge-on, lines, and what other pages have
placed.
"""

from __future__ import annotations

import math

from msgspec.structs import replace

from ..diagnostics.types import Diagnostic, Label, Severity
from ..facts import BODIES, Claim, Claims, Entry, Ref
from ..facts.extents import half, is_box, radius, size_claim
from ..facts.types import SIDES
from ..network.types import (
    Coordinate,
    Edge,
    FixedLine,
    FixedThing,
    LineThing,
    Midway,
    Roughly,
    Row,
    Side,
    SizeReading,
    Thing,
)
from ..quantities import Quantity
from ..quantities.tables.instruments import INSTRUMENTS
from ..quantities.vectors import XY, Vector, dot
from .layout import Layout
from .planes import OUTWARD, Pages

EXACT = 1e-5
RIGHT_ANGLE = 0.5 * math.pi


def on_side(entry: Entry) -> tuple[str, ...]:
    """Advice on a point that is `on` a side of a body, where its edge on this page may be meant."""
    refs = [claim.ref("thing") for claim in entry.all("on")] if entry.kind == "point" else []
    return tuple(
        (
            f"`on {ref}` makes that side the page of `{entry.name}`; "
            f"to lie on its edge as seen here:  from {ref} 0"
        )
        for ref in refs
        if ref.part in SIDES
    )


class Ground:
    """Collects the network of one page; `keys` tells which statement and claim stands behind each row."""

    def __init__(
        self, claims: Claims, pages: Pages, layout: Layout, page: str, turns: dict[str, float]
    ) -> None:
        self.claims, self.pages, self.layout, self.page, self.turns = claims, pages, layout, page, turns
        self.things: dict[str, Thing] = {}
        self.lines: dict[str, LineThing] = {}
        self.fixed: dict[str, FixedThing] = {}
        self.fixed_lines: dict[str, FixedLine] = {}
        self.rows: list[Row] = []
        self.sizes: dict[str, SizeReading] = {}
        self.sides: list[Side] = []
        self.roughly: list[Roughly] = []
        self.keys: dict[int, tuple[Entry, Claim]] = {}
        self.found: list[Diagnostic] = []
        self.datum = ""
        self.entry_at_work: Entry | None = None
        self.claim_at_work: Claim | None = None

    def key(self) -> int:
        """A fresh key for a row of the claim at work."""
        number = len(self.keys) + 1
        assert self.entry_at_work is not None and self.claim_at_work is not None
        self.keys[number] = (self.entry_at_work, self.claim_at_work)
        return number

    def refuse(self, code: str, said: str, *advice: str, others: tuple[Label, ...] = ()) -> None:
        """Keep an error at the claim at work."""
        assert self.claim_at_work is not None
        self.found.append(
            Diagnostic(code, Severity.ERROR, said, self.claim_at_work.span, others=others, advice=advice)
        )

    def declare(self, entry: Entry) -> None:
        """Make room for a thing or line whose place is to be found on this page."""
        if entry.kind == "line":
            if entry.name not in self.fixed_lines:
                self.lines[entry.name] = LineThing(entry.name)
            return
        thing = self.thing(entry)
        alike = entry.one("same as")
        shared = alike.ref("thing").name if alike is not None else entry.name
        read = size_claim(entry)
        if read is not None:
            self.sizes.setdefault(shared, self._size_reading(entry, *read, shared))
        self.things[entry.name] = (
            replace(thing, size=shared) if alike is not None or read is not None else thing
        )

    def _size_reading(self, entry: Entry, claim: Claim, size: Quantity, shared: str) -> SizeReading:
        self.entry_at_work, self.claim_at_work = entry, claim
        goes = min(size.u, INSTRUMENTS["drill"].limit / math.sqrt(3)) if claim.word == "drill" else None
        return SizeReading(self.key(), shared, size.value, max(size.u, EXACT), goes)

    def thing(self, entry: Entry) -> Thing:
        """A thing with its half-sizes as read."""
        if is_box(entry):
            long, wide = half(entry, made=False)
            return Thing(entry.name, 0.0, long, wide, self.turns.get(entry.name, 0.0))
        size = radius(entry, made=False) or radius(entry, made=True) or 0.0
        long = max(0.0, half(entry, made=False)[0] - size) if entry.kind == "slot" else 0.0
        return Thing(entry.name, size, long, 0.0, self.turns.get(entry.name, 0.0))

    def anchor(self, ref: Ref) -> tuple[str, float] | None:
        """A side or flat seen edge-on: a thing in the middle of it and the angle of its outward normal on
        this page.
        """
        name = str(ref)
        if ref.part in SIDES and (ref.name in self.things or ref.name == self.datum):
            return self._own_side(ref, name)
        if not self.pages.is_flat(ref) and ref.part not in SIDES:
            return None
        flat = self.pages.flat(ref) if self.pages.is_flat(ref) else self.pages._side(ref)
        frame = self.layout.frames[self.page]
        if flat is None:
            self.refuse("other-plane", f"`{ref}` is not placed yet when `{self.page}` is worked out")
            return None
        x, y = dot(flat.normal, frame.right), dot(flat.normal, frame.up)
        if math.hypot(x, y) < 0.999999:
            self.refuse(
                "not-square",
                f"`{ref}` is not seen edge-on from this plane, so no distance to it can be read",
                "measure from a flat that stands square to it",
                f"or place it from the middle of the body: at 0, 0 from {ref.name}",
            )
            return None
        at, _ = frame.onto(flat.point)
        return self._fixed_side(name, at, math.atan2(y, x))

    def _fixed_side(self, name: str, at: XY, angle: float) -> tuple[str, float]:
        """A side that lies fast: a point in the middle of it, and the line along it, whose normal points
        outwards.
        """
        middle = f"{name}~"
        self.fixed[middle] = FixedThing(Thing(middle), at)
        offset = at[0] * math.cos(angle) + at[1] * math.sin(angle)
        self.fixed_lines[name] = FixedLine(name, angle, offset, -1)
        return middle, angle

    def _own_side(self, ref: Ref, name: str) -> tuple[str, float]:
        angle = OUTWARD[ref.part]
        if ref.name in self.fixed:
            x, y = self.fixed[ref.name].at
            reach = self.support(self.fixed[ref.name].thing, angle)
            return self._fixed_side(
                name, (x + reach * round(math.cos(angle)), y + reach * round(math.sin(angle))), angle
            )
        if name not in self.things:
            self.things[name] = Thing(name)
            self.rows.append(Coordinate(0, ref.name, name, angle, 0.0, EXACT, Edge.NEAR, -1))
            self.rows.append(Coordinate(0, name, ref.name, angle + RIGHT_ANGLE, 0.0, EXACT))
        return name, angle

    def centre(self, ref: Ref) -> str | None:
        """The name of the thing whose centre a mention speaks of, brought onto this page when it lies on
        another.
        """
        name = str(ref)
        if ref.part == "1":  # a thing is the first of its copies
            return self.centre(Ref(ref.name, "", ref.span))
        if ref.part.isdigit():
            return self._copy(ref, name)
        if ref.part:
            self.refuse(
                "wrong-kind",
                f"`{ref}` is a side, not a thing with a centre",
                f"name the body: {ref.name}   or measure to the side: from {ref} near ...",
            )
            return None
        if ref.name in self.things or ref.name in self.fixed:
            return ref.name
        entry = self.claims.entries.get(ref.name)
        if entry is not None and entry.kind == "line":
            self._no_point(ref)
            return None
        spot = self.layout.spots.get(ref.name)
        if spot is None:
            home = self.pages.stand(ref.name)[0]
            advice = on_side(self.claims.entries[ref.name])
            if not advice and home and home != self.page:
                advice = (f"put it on the plane of `{ref}`: on {home}",)
            self.refuse(
                "other-plane", f"`{ref}` is not placed in a plane that this one can be read from", *advice
            )
            return None
        frame = self.layout.frames[self.page]
        at, _ = frame.onto(self._middle_of(ref.name))
        parallel = abs(dot(frame.out, self.layout.frames[spot.page].out)) > 0.999999
        thing = self.thing(self.claims.entries[ref.name]) if parallel else Thing(ref.name)
        self.fixed[ref.name] = FixedThing(thing, at)
        return ref.name

    def _middle_of(self, name: str) -> Vector:
        """Where a placed thing has its middle in space: of a body that this page sees from aside halfway
        between its front and its back, of anything else on the page it was read on.
        """
        spot, entry = self.layout.spots[name], self.claims.entries[name]
        frame, height = self.layout.frames[spot.page], spot.base
        aside = abs(dot(frame.out, self.layout.frames[self.page].out)) < 1e-6
        if aside and entry.kind in BODIES and not entry.has("lies along"):
            height = 0.5 * sum(self.pages.heights(name))
        return frame.point(spot.at, height)

    def _no_point(self, ref: Ref) -> None:
        """A line was named where a place is asked for."""
        claim = self.claim_at_work
        advice = [f"on the line: on {ref}   or   beside it: from {ref} near ..."]
        if claim is not None and claim.word == "at":
            advice = [
                f"count from a thing, or read it from the line: from {ref} centre ...",
                f"where it lies along {ref} takes a second reading",
            ]
        self.refuse("wrong-kind", f"`{ref}` is a line: it has no one point to count from", *advice)

    def _copy(self, ref: Ref, name: str) -> str | None:
        spot, moves = self.layout.spots.get(ref.name), self.layout.copies.get(ref.name, ())
        number = int(ref.part)
        if spot is None:
            self.refuse(
                "other-plane",
                f"`{ref}` is a copy and its original is not placed yet",
                "read the original first, from things that are no copies",
            )
            return None
        if not 1 <= number <= len(moves) + 1:
            self.refuse("unknown-part", f"there is no `{ref}`: the copies are .1 to .{len(moves) + 1}")
            return None
        point = self._middle_of(ref.name)
        if number > 1:
            point = moves[number - 2].point(point)
        at, _ = self.layout.frames[self.page].onto(point)
        thing = self.thing(self.claims.entries[ref.name])
        self.fixed[name] = FixedThing(
            Thing(name, thing.radius, thing.half_long, thing.half_wide, thing.turn), at
        )
        return name

    def line(self, ref: Ref) -> str | None:
        """The name of the line a mention speaks of on this page; None when it is no line of this page."""
        if ref.part or (entry := self.claims.entries.get(ref.name)) is None or entry.kind != "line":
            return None
        if ref.name in self.lines or ref.name in self.fixed_lines:
            return ref.name
        placed = self.layout.lines.get(ref.name)
        if placed is None or placed[0] != self.page:
            self.refuse("other-plane", f"line `{ref}` lies in another plane")
            return None
        self.fixed_lines[ref.name] = FixedLine(ref.name, placed[1].angle, placed[1].offset)
        return ref.name

    @staticmethod
    def support(thing: Thing, angle: float) -> float:
        """Half-size of a thing in a direction, in mm."""
        c, s = math.cos(angle - thing.turn), math.sin(angle - thing.turn)
        return thing.radius + abs(c) * thing.half_long + abs(s) * thing.half_wide

    def here(self, entry: Entry) -> Thing:
        """The thing at work as the network has it."""
        return self.things[entry.name]

    def found_here(self) -> bool:
        """True where the claim at work has been answered already."""
        return (
            bool(self.found)
            and self.claim_at_work is not None
            and self.found[-1].span == self.claim_at_work.span
        )

    def middle(self, first: str, second: str) -> str:
        """A hidden thing midway between two others."""
        name = f"{first}|{second}"
        if name not in self.things:
            self.things[name] = Thing(name)
            self.rows.append(Midway(0, name, first, second, EXACT))
        return name
