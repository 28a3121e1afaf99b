"""The claims of one page turned into rows of a network.

Worked case: `from back near 4.95` of a bore becomes ToLine(pivot, back, NEAR, 4.95); `from wall.top near 5.9` becomes
a coordinate to the middle of that side, a hidden thing named `wall.top`, so that the solver needs no rectangles.  Edge
words are checked here, where the writer's words are still known: a word where none is needed, none where it matters.
"""

from __future__ import annotations

import math

from ..diagnostics.types import Diagnostic, Label, Severity
from ..facts import Claim, Claims, Entry, Ref
from ..facts.types import SIDES
from .extents import half, is_box, is_round, radius
from .layout import Layout, dot
from .pages import OUTWARD, Pages
from .types import (
    Coordinate,
    Distance,
    Edge,
    FixedLine,
    FixedThing,
    Heading,
    LineAngle,
    LineGap,
    LineThing,
    Midway,
    PlacedLine,
    Roughly,
    Row,
    Side,
    Tangent,
    Thing,
    ToLine,
)

EXACT = 1e-5
_EDGES = {"near": Edge.NEAR, "far": Edge.FAR, "centre": Edge.CENTRE, "centres": Edge.CENTRE}
_RIGHT_ANGLE = 0.5 * math.pi


class Rows:
    """Collects the network of one page; `keys` tells which statement and claim stands behind each row."""

    def __init__(self, claims: Claims, pages: Pages, layout: Layout, page: str, turns: dict[str, float]) -> None:
        self.claims, self.pages, self.layout, self.page, self.turns = claims, pages, layout, page, turns
        self.things: dict[str, Thing] = {}
        self.lines: dict[str, LineThing] = {}
        self.fixed: dict[str, FixedThing] = {}
        self.fixed_lines: dict[str, FixedLine] = {}
        self.rows: list[Row] = []
        self.sides: list[Side] = []
        self.roughly: list[Roughly] = []
        self.keys: dict[int, tuple[Entry, Claim]] = {}
        self.found: list[Diagnostic] = []
        self._entry: Entry | None = None
        self._claim: Claim | None = None

    def key(self) -> int:
        """A fresh key for a row of the claim at work."""
        number = len(self.keys) + 1
        assert self._entry is not None and self._claim is not None
        self.keys[number] = (self._entry, self._claim)
        return number

    def refuse(self, code: str, said: str, *advice: str, others: tuple[Label, ...] = ()) -> None:
        """Keep an error at the claim at work."""
        assert self._claim is not None
        self.found.append(Diagnostic(code, Severity.ERROR, said, self._claim.span, others=others, advice=advice))

    def declare(self, entry: Entry) -> None:
        """Make room for a thing or line whose place is to be found on this page."""
        if entry.kind == "line":
            if entry.name not in self.fixed_lines:
                self.lines[entry.name] = LineThing(entry.name)
            return
        self.things[entry.name] = self.thing(entry)

    def thing(self, entry: Entry) -> Thing:
        """A thing with its half-sizes as read."""
        if is_box(entry):
            long, wide = half(entry, made=False)
            return Thing(entry.name, 0.0, long, wide, self.turns.get(entry.name, 0.0))
        size = radius(entry, made=False) or radius(entry, made=True) or 0.0
        long = max(0.0, half(entry, made=False)[0] - size) if entry.kind == "slot" else 0.0
        return Thing(entry.name, size, long, 0.0, self.turns.get(entry.name, 0.0))

    def add(self, entry: Entry) -> None:
        """Turn every placing claim of a thing or line into rows."""
        self._entry = entry
        for claim in entry.claims:
            self._claim = claim
            if entry.kind == "line":
                self._line_claim(entry, claim)
            elif claim.word in _THING_CLAIMS:
                _THING_CLAIMS[claim.word](self, entry, claim)

    # -- what is measured to ------------------------------------------------------------------------------------

    def anchor(self, ref: Ref) -> tuple[str, float] | None:
        """A side or flat seen edge-on: a thing in the middle of it and the angle of its outward normal on this page."""
        name = str(ref)
        if ref.part in SIDES and ref.name in self.things:
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
            self.refuse("not-square", f"`{ref}` is not seen edge-on from this plane, so no distance to it can be read",
                        "measure from a flat that stands square to it")  # fmt: skip
            return None
        at, _ = frame.onto(flat.point)
        self.fixed[name] = FixedThing(Thing(name), at)
        return name, math.atan2(y, x)

    def _own_side(self, ref: Ref, name: str) -> tuple[str, float]:
        angle = OUTWARD[ref.part]
        if name not in self.things:
            self.things[name] = Thing(name)
            reach = self.support(self.things[ref.name], angle)
            self.rows.append(Coordinate(0, name, ref.name, angle, reach, EXACT))
            self.rows.append(Coordinate(0, name, ref.name, angle + _RIGHT_ANGLE, 0.0, EXACT))
        return name, angle

    def centre(self, ref: Ref) -> str | None:
        """The name of the thing whose centre a mention speaks of, brought onto this page when it lies on another."""
        name = str(ref)
        if ref.part.isdigit():
            return self._copy(ref, name)
        if ref.part:
            self.refuse("wrong-kind", f"`{ref}` is a side, not a thing with a centre")
            return None
        if ref.name in self.things or ref.name in self.fixed:
            return ref.name
        spot = self.layout.spots.get(ref.name)
        if spot is None:
            self.refuse("other-plane", f"`{ref}` is not placed in a plane that this one can be read from")
            return None
        frame = self.layout.frames[self.page]
        at, _ = frame.onto(self.layout.frames[spot.page].point(spot.at))
        parallel = abs(dot(frame.out, self.layout.frames[spot.page].out)) > 0.999999
        thing = self.thing(self.claims.entries[ref.name]) if parallel else Thing(ref.name)
        self.fixed[ref.name] = FixedThing(thing, at)
        return ref.name

    def _copy(self, ref: Ref, name: str) -> str | None:
        spot, moves = self.layout.spots.get(ref.name), self.layout.copies.get(ref.name, ())
        number = int(ref.part)
        if spot is None:
            self.refuse("other-plane", f"`{ref}` is a copy and its original is not placed yet",
                        "read the original first, from things that are no copies")  # fmt: skip
            return None
        if not 1 <= number <= len(moves) + 1:
            self.refuse("unknown-part", f"there is no `{ref}`: the copies are .1 to .{len(moves) + 1}")
            return None
        point = self.layout.frames[spot.page].point(spot.at)
        if number > 1:
            point = moves[number - 2].point(point)
        at, _ = self.layout.frames[self.page].onto(point)
        thing = self.thing(self.claims.entries[ref.name])
        self.fixed[name] = FixedThing(Thing(name, thing.radius, thing.half_long, thing.half_wide, thing.turn), at)
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

    # -- claims of things ---------------------------------------------------------------------------------------

    def on(self, entry: Entry, claim: Claim) -> None:
        """`on LINE`: the centre lies on it.  (On a flat: that is the page, and was dealt with.)"""
        ref = claim.ref("thing")
        if self.pages.is_flat(ref) or not ref.name:
            return
        line = self.line(ref)
        if line is None:
            if not ref.part and not self.found_here():
                self.refuse("wrong-kind", f"`{ref}` is no line or flat that a thing can be `on`", "around " + ref.name)
            elif ref.part and (anchor := self.anchor(ref)):
                self.rows.append(Coordinate(self.key(), entry.name, anchor[0], anchor[1], 0.0, EXACT))
            return
        self.rows.append(ToLine(self.key(), entry.name, line, Edge.CENTRE, 0.0, EXACT))

    def found_here(self) -> bool:
        """True where the claim at work has been answered already."""
        return bool(self.found) and self._claim is not None and self.found[-1].span == self._claim.span

    def from_(self, entry: Entry, claim: Claim) -> None:
        """`from OTHER [edges] READING`, to a line, a side or a thing."""
        ref, words = claim.ref("thing"), claim.word_of("edges")
        reading = claim.quantity("readings")
        value, u = reading.value, max(reading.u, EXACT)
        line = self.line(ref)
        if line is not None:
            edge = self._edge(entry, claim, words, value)
            if edge is not None:
                self.rows.append(ToLine(self.key(), entry.name, line, edge, value, u))
            return
        if self.found_here():
            return
        anchor = self.anchor(ref)
        if anchor is not None:
            edge = self._edge(entry, claim, words, value)
            if edge is not None:
                reach = edge.value * self.support(self.here(entry), anchor[1])
                self.rows.append(Coordinate(self.key(), entry.name, anchor[0], anchor[1], reach - value, u))
            return
        if not self.found_here():
            self._between(entry, claim, words, value, u)

    def _edge(self, entry: Entry, claim: Claim, words: str, value: float) -> Edge | None:
        """Which of my edges a reading to something straight was taken to."""
        if "-" in words:
            self.refuse("which-edge", f"`{words}` speaks of two edges, but `{claim.ref('thing')}` is straight",
                        "near, far or centre: the edge of " + entry.name)  # fmt: skip
            return None
        thing = self.here(entry)
        size = thing.radius + thing.half_long + thing.half_wide
        if size == 0.0 or words in ("centre", "centres"):
            return Edge.CENTRE
        if not words:
            reach = thing.radius if thing.radius else max(thing.half_long, thing.half_wide)
            self.refuse("which-edge", f"`{claim.text}`: to which edge of {entry.name}?",
                        f"near {value:g}: the centre is {value + reach:.4g} away",
                        f"far {value:g}: the centre is {value - reach:.4g} away",
                        f"centre {value:g}: the centre is {value:g} away")  # fmt: skip
            return None
        return _EDGES[words] if self._was_read(entry) else None

    def _was_read(self, entry: Entry) -> bool:
        if is_round(entry) and radius(entry, made=False) is None:
            self.refuse("never-read", f"the size of {entry.name} was never read, so it has no edge to measure to",
                        "give its size as read (drill, across), or measure to its centre")  # fmt: skip
            return False
        return True

    def _between(self, entry: Entry, claim: Claim, words: str, value: float, u: float) -> None:
        ref = claim.ref("thing")
        other = self.centre(ref)
        if other is None:
            return
        theirs = self.things[other] if other in self.things else self.fixed[other].thing
        mine = self.here(entry)
        if max(mine.half_wide, theirs.half_wide) > 0:
            box = entry.name if mine.half_wide > 0 else other
            self.refuse("which-edge", f"`{box}` has four sides; a distance must say which",
                        f"measure to one of them: {box}.left, {box}.right, {box}.top, {box}.bottom")  # fmt: skip
            return
        edges = self._two_edges(entry, claim, words, mine, theirs, value)
        if edges is not None:
            self.rows.append(Distance(self.key(), entry.name, other, edges[0], edges[1], value, u))

    def _two_edges(
        self, entry: Entry, claim: Claim, words: str, mine: Thing, theirs: Thing, value: float
    ) -> tuple[Edge, Edge] | None:
        """Edges of mine and theirs that a reading was taken between, by which of the two is round."""
        other = self.claims.entries[claim.ref("thing").name]
        if words in ("centre", "centres") or (mine.radius == 0 and theirs.radius == 0 and not words):
            return Edge.CENTRE, Edge.CENTRE
        if mine.radius > 0 and theirs.radius > 0:
            if "-" in words:
                first, second = words.split("-")
                good = self._was_read(entry) and self._was_read(other)
                return (_EDGES[first], _EDGES[second]) if good else None
            both = mine.radius + theirs.radius
            self.refuse("which-edge", f"`{claim.text}`: both are round, so two edges must be named, mine first",
                        f"near-near {value:g}: centres {value + both:.4g} apart",
                        f"far-far {value:g}: centres {value - both:.4g} apart",
                        f"centres {value:g}: centres {value:g} apart",
                        f"near-far {value:g}: centres {value + mine.radius - theirs.radius:.4g} apart")  # fmt: skip
            return None
        size = mine.radius + theirs.radius
        if "-" in words or not words or size == 0:
            who = entry.name if mine.radius > 0 else other.name
            said = f"`{claim.text}`: to which edge of {who}?" if size else f"`{claim.text}`: neither of the two is round"
            advice = [f"near {value:g}: the centre is {value + size:.4g} away", f"far {value:g}: the centre is "
                      f"{value - size:.4g} away", f"centre {value:g}"] if size else ["leave the edge word out"]  # fmt: skip
            self.refuse("which-edge", said, *advice)
            return None
        if not self._was_read(entry if mine.radius > 0 else other):
            return None
        return (_EDGES[words], Edge.CENTRE) if mine.radius > 0 else (Edge.CENTRE, _EDGES[words])

    def at(self, entry: Entry, claim: Claim) -> None:
        """`at X, Y [from OTHER]`."""
        ref = claim.get("other")
        other = self.centre(ref) if isinstance(ref, Ref) else None
        if isinstance(ref, Ref) and other is None:
            return
        for key, angle in (("x", 0.0), ("y", _RIGHT_ANGLE)):
            number = claim.quantity(key)
            self.rows.append(Coordinate(self.key(), entry.name, other, angle, number.value, max(number.u, EXACT)))

    def around(self, entry: Entry, claim: Claim) -> None:
        """`around OTHER`: the same centre."""
        other = self.centre(claim.ref("thing"))
        if other is not None:
            for angle in (0.0, _RIGHT_ANGLE):
                self.rows.append(Coordinate(self.key(), entry.name, other, angle, 0.0, EXACT))

    def level(self, entry: Entry, claim: Claim) -> None:
        """`level with OTHER` (the same height on the page) and `plumb with OTHER` (one above the other)."""
        other = self.centre(claim.ref("thing"))
        if other is not None:
            angle = _RIGHT_ANGLE if claim.word == "level with" else 0.0
            self.rows.append(Coordinate(self.key(), entry.name, other, angle, 0.0, EXACT))

    def midway(self, entry: Entry, claim: Claim) -> None:
        """`midway A, B`: between two sides or lines only across them, between two things in both directions."""
        refs = (claim.ref("first"), claim.ref("second"))
        anchors = [self.anchor(ref) if ref.part in SIDES or self.pages.is_flat(ref) else None for ref in refs]
        if anchors[0] and anchors[1]:
            middle = self._middle(anchors[0][0], anchors[1][0])
            self.rows.append(Coordinate(self.key(), entry.name, middle, anchors[0][1], 0.0, EXACT))
            return
        names = [self.line(ref) or (None if self.found_here() else self.centre(ref)) for ref in refs]
        if names[0] and names[1]:
            self.rows.append(Midway(self.key(), entry.name, names[0], names[1], EXACT))

    def _middle(self, first: str, second: str) -> str:
        name = f"{first}|{second}"
        if name not in self.things:
            self.things[name] = Thing(name)
            self.rows.append(Midway(0, name, first, second, EXACT))
        return name

    def flush(self, entry: Entry, claim: Claim) -> None:
        """`flush with FLAT`: my side that faces the same way lies in it; `against FLAT`: I touch it from outside."""
        ref = claim.ref("thing")
        if ref.part in ("front", "back"):
            page, _, _ = self.pages.flat_page(ref)
            if page == self.page:
                return
        frame = self.layout.frames[self.page]
        flat = self.pages.flat(ref) if self.pages.is_flat(ref) and ref.name not in self.things else None
        if flat is not None and abs(dot(flat.normal, frame.out)) > 0.999999:
            return
        anchor = self.anchor(ref)
        if anchor is None:
            if not self.found_here():
                self.refuse("wrong-kind", f"`{ref}` is no flat or side")
            return
        reach = self.support(self.here(entry), anchor[1])
        value = -reach if claim.word == "flush with" else reach
        self.rows.append(Coordinate(self.key(), entry.name, anchor[0], anchor[1], value, EXACT))

    def side(self, entry: Entry, claim: Claim) -> None:
        """`left of`, `right of`, `above`, `below` another thing or line."""
        ref = claim.ref("thing")
        other = self.line(ref) or (None if self.found_here() else self.centre(ref))
        if other is not None:
            self.sides.append(Side(self.key(), entry.name, claim.word.split()[0], other))

    def further(self, entry: Entry, claim: Claim) -> None:
        """`beyond B from A`, `short of B from A`, `same side of L as A`."""
        ref = claim.ref("other")
        other = self.line(ref) or (None if self.found_here() else self.centre(ref))
        base = self.centre(claim.ref("base"))
        if other is not None and base is not None:
            word = {"beyond": "beyond", "short of": "short", "same side of": "same"}[claim.word]
            self.sides.append(Side(self.key(), entry.name, word, other, base))

    def angle(self, entry: Entry, claim: Claim) -> None:
        """`angle 30 from OTHER`: the direction from it to me, anticlockwise from the page's right."""
        ref = claim.get("other")
        if not isinstance(ref, Ref):
            self.refuse("misshapen-line", "an angle needs a thing it is seen from", "angle 30 from pivot")
            return
        other = self.centre(ref)
        if other is not None:
            value = math.radians(claim.number("angle"))
            self.rows.append(Heading(self.key(), other, entry.name, None, value, EXACT))

    def rough(self, entry: Entry, claim: Claim) -> None:
        """`roughly X, Y`: picks among mirror answers."""
        self.roughly.append(Roughly(self.key(), entry.name, (claim.number("x"), claim.number("y"))))

    def ends(self, entry: Entry, claim: Claim) -> None:
        """`ends A, B` of a slot: it lies between them."""
        first, second = self.centre(claim.ref("first")), self.centre(claim.ref("second"))
        if first and second:
            self.rows.append(Midway(self.key(), entry.name, first, second, EXACT))

    # -- claims of lines ----------------------------------------------------------------------------------------

    def _line_claim(self, entry: Entry, claim: Claim) -> None:
        name, word = entry.name, claim.word
        if name in self.fixed_lines:
            return
        if word in ("through", "touches"):
            for key in ("first", "second"):
                other = self.centre(claim.ref(key))
                if other and word == "through":
                    self.rows.append(ToLine(self.key(), other, name, Edge.CENTRE, 0.0, EXACT))
                elif other:
                    self.rows.append(Tangent(self.key(), name, other, EXACT))
        elif word in ("level", "upright"):
            self.rows.append(LineAngle(self.key(), name, None, 0.0 if word == "level" else _RIGHT_ANGLE, EXACT))
        elif word in ("parallel to", "square to", "angle"):
            self._line_angle(name, claim)
        elif word == "from":
            self._line_from(name, claim)
        elif word == "midway":
            self._line_midway(name, claim)
        elif word in ("left of", "right of", "above", "below"):
            self.side(entry, claim)

    def _line_angle(self, name: str, claim: Claim) -> None:
        turn = {"parallel to": 0.0, "square to": _RIGHT_ANGLE}.get(claim.word, 0.0)
        if claim.word == "angle":
            turn = math.radians(claim.number("angle"))
        ref = claim.get("thing") or claim.get("other")
        if not isinstance(ref, Ref):
            self.rows.append(LineAngle(self.key(), name, None, turn, EXACT))
            return
        other = self.line(ref)
        if other is not None:
            self.rows.append(LineAngle(self.key(), name, other, turn, EXACT))
        elif not self.found_here() and (anchor := self.anchor(ref)):
            self.rows.append(LineAngle(self.key(), name, None, anchor[1] - _RIGHT_ANGLE + turn, EXACT))

    def _line_from(self, name: str, claim: Claim) -> None:
        ref, reading = claim.ref("thing"), claim.quantity("readings")
        value, u = reading.value, max(reading.u, EXACT)
        other = self.line(ref)
        if other is not None:
            self.rows.append(LineGap(self.key(), name, other, value, u))
            return
        if self.found_here():
            return
        if ref.part in SIDES or self.pages.is_flat(ref):
            anchor = self.anchor(ref)
            if anchor is not None:
                self._parallel_through(name, anchor, -value, u)
            return
        thing = self.centre(ref)
        if thing is None:
            return
        theirs = self.things[thing] if thing in self.things else self.fixed[thing].thing
        edge = claim.word_of("edges")
        if theirs.radius > 0 and not edge:
            self.refuse("which-edge", f"`{claim.text}`: to which edge of {thing}?", "near, far or centre")
            return
        self.rows.append(ToLine(self.key(), thing, name, _EDGES[edge or "centre"], value, u))

    def _parallel_through(self, name: str, anchor: tuple[str, float], shift: float, u: float) -> None:
        """The line runs along a side, through a point that lies `shift` from its middle along the outward normal."""
        foot = f"{name}~{anchor[0]}"
        self.things[foot] = Thing(foot)
        self.rows.append(Coordinate(self.key(), foot, anchor[0], anchor[1], shift, u))
        self.rows.append(Coordinate(0, foot, anchor[0], anchor[1] + _RIGHT_ANGLE, 0.0, EXACT))
        self.rows.append(ToLine(0, foot, name, Edge.CENTRE, 0.0, EXACT))
        self.rows.append(LineAngle(0, name, None, anchor[1] - _RIGHT_ANGLE, EXACT))

    def _line_midway(self, name: str, claim: Claim) -> None:
        refs = (claim.ref("first"), claim.ref("second"))
        anchors = [self.anchor(ref) if ref.part in SIDES or self.pages.is_flat(ref) else None for ref in refs]
        if anchors[0] and anchors[1]:
            middle = self._middle(anchors[0][0], anchors[1][0])
            self._parallel_through(name, (middle, anchors[0][1]), 0.0, EXACT)
            return
        names = [self.line(ref) for ref in refs]
        if names[0] and names[1]:
            self.rows.append(Midway(self.key(), name, names[0], names[1], EXACT))
        elif not self.found_here():
            self.refuse("wrong-kind", "a line lies midway between two lines or two sides", "midway cover.top, cover.bottom")


_THING_CLAIMS = {
    "on": Rows.on, "from": Rows.from_, "at": Rows.at, "around": Rows.around, "level with": Rows.level,
    "plumb with": Rows.level, "midway": Rows.midway, "flush with": Rows.flush, "against": Rows.flush,
    "left of": Rows.side, "right of": Rows.side, "above": Rows.side, "below": Rows.side, "beyond": Rows.further,
    "short of": Rows.further, "same side of": Rows.further, "angle": Rows.angle, "roughly": Rows.rough,
    "ends": Rows.ends,
}  # fmt: skip

PLACING = frozenset(_THING_CLAIMS)
__all__ = ["EXACT", "PLACING", "PlacedLine", "Rows"]
