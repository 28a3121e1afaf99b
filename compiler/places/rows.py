"""The claims of one page turned into rows of a network.

Worked case: `from back near 4.95` of a bore becomes ToLine(pivot, back, NEAR, 4.95); `from wall.top near 5.9`
becomes a coordinate to the middle of that side, a hidden thing named `wall.top`, so that the solver needs no
rectangles.  Edge words are checked here, where the writer's words are still known: a word where none is
needed, none where it matters."""

from __future__ import annotations

import math

from ..diagnostics.types import Trouble
from ..facts import BODIES, Claim, Entry, Ref
from ..facts.extents import is_round, radius
from ..facts.naming import parts_of
from ..facts.types import SIDES
from ..network.types import (
    Coordinate,
    Distance,
    Edge,
    Heading,
    LineAngle,
    LineThing,
    Midway,
    Roughly,
    Side,
    Thing,
    ToLine,
)
from ..quantities.vectors import dot
from .line_rows import add_line_claim
from .measured_to import EXACT, RIGHT_ANGLE, Ground

# which wall of mine is near, and which far, where I lie so of another thing; and how something beside a wall
# lies
_WALLS = {
    "right of": ("left", "right"),
    "left of": ("right", "left"),
    "above": ("bottom", "top"),
    "below": ("top", "bottom"),
}
_BESIDE = {"bottom": "below", "top": "above", "left": "left of", "right": "right of"}
_EDGES = {"near": Edge.NEAR, "far": Edge.FAR, "centre": Edge.CENTRE, "centres": Edge.CENTRE}


class Rows(Ground):
    """Collects the network of one page; `keys` tells which statement and claim stands behind each row."""

    def add(self, entry: Entry) -> None:
        """Turn every placing claim of a thing or line into rows."""
        self.entry_at_work = entry
        for claim in entry.claims:
            self.claim_at_work = claim
            try:
                if entry.kind == "line":
                    add_line_claim(self, entry, claim)
                elif claim.word in _THING_CLAIMS:
                    _THING_CLAIMS[claim.word](self, entry, claim)
            except Trouble as trouble:
                self.refuse(trouble.code, trouble.says, *trouble.advice)

    def on(self, entry: Entry, claim: Claim) -> None:
        """`on LINE`: the centre lies on it.  (On a flat: that is the page, and was dealt with.)"""
        ref = claim.ref("thing")
        if self.pages.is_flat(ref) or not ref.name:
            return
        line = self.line(ref)
        if line is None:
            if not ref.part and not self.found_here():
                kind = self.claims.entries[ref.name].kind
                flats = [f"{ref.name}.{part}" for part in parts_of(kind)] if kind in BODIES else []
                advice = ("on one of its flats: " + " ".join(flats),) if flats else ()
                self.refuse(
                    "wrong-kind",
                    f"`{ref}` is no line or flat that a thing can be `on`",
                    *advice,
                    f"where their centres are one: around {ref.name}",
                )
            elif ref.part and (anchor := self.anchor(ref)):
                self.rows.append(Coordinate(self.key(), entry.name, anchor[0], anchor[1], 0.0, EXACT))
            return
        self.rows.append(ToLine(self.key(), entry.name, line, Edge.CENTRE, 0.0, EXACT))

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
            outside = self._stands_outside(entry, ref, anchor[1])
            if edge is not None and str(ref) in self.fixed_lines:
                self.rows.append(
                    ToLine(self.key(), entry.name, str(ref), edge, value, u, 1 if outside else -1)
                )
            elif edge is not None:
                side = 1 if outside else -1
                self.rows.append(
                    Coordinate(self.key(), entry.name, anchor[0], anchor[1], value, u, edge, side)
                )
            return
        if not self.found_here():
            self._between(entry, claim, words, value, u)

    def _stands_outside(self, entry: Entry, ref: Ref, outwards: float) -> bool:
        """`from head.bottom near 2.5` with `below head`: the reading runs away from the body, not into it.

        `outwards`: which way (radians) the side faces on this page, where it may face another way than its
        name says."""
        beside = _BESIDE.get(ref.part, "")
        if beside and self.pages.stand(ref.name)[0] != self.page:
            beside = ("right of", "above", "left of", "below")[round(outwards / RIGHT_ANGLE) % 4]
        return any(claim.ref("thing") == Ref(ref.name, "", ref.span) for claim in entry.all(beside))

    def _edge(self, entry: Entry, claim: Claim, words: str, value: float) -> Edge | None:
        """Which of my edges a reading to something straight was taken to."""
        if "-" in words:
            self.refuse(
                "which-edge",
                f"`{words}` speaks of two edges, but `{claim.ref('thing')}` is straight",
                "near, far or centre: the edge of " + entry.name,
            )
            return None
        thing = self.here(entry)
        size = thing.radius + thing.half_long + thing.half_wide
        if size == 0.0 or words in ("centre", "centres"):
            return Edge.CENTRE
        if not words:
            reach = thing.radius if thing.radius else max(thing.half_long, thing.half_wide)
            self.refuse(
                "which-edge",
                f"`{claim.text}`: to which edge of {entry.name}?",
                f"near {value:g}: the centre is {value + reach:.4g} away",
                f"far {value:g}: the centre is {value - reach:.4g} away",
                f"centre {value:g}: the centre is {value:g} away",
            )
            return None
        return _EDGES[words] if self._was_read(entry) else None

    def _was_read(self, entry: Entry) -> bool:
        if is_round(entry) and radius(entry, made=False) is None:
            self.refuse(
                "never-read",
                f"the size of {entry.name} was never read, so it has no edge to measure to",
                "give its size as read (drill, across), or measure to its centre",
            )
            return False
        return True

    def _between(self, entry: Entry, claim: Claim, words: str, value: float, u: float) -> None:
        ref = claim.ref("thing")
        other = self.centre(ref)
        if other is None:
            return
        theirs = self.things[other] if other in self.things else self.fixed[other].thing
        mine = self.here(entry)
        if mine.half_wide > 0 and theirs.half_wide == 0:
            self._own_wall(entry, claim, words, value, u)
            return
        if max(mine.half_wide, theirs.half_wide) > 0:
            box = entry.name if mine.half_wide > 0 else other
            self.refuse(
                "which-edge",
                f"`{box}` has four sides; a distance must say which",
                f"measure to one of them: {box}.left, {box}.right, {box}.top, {box}.bottom",
            )
            return
        edges = self._two_edges(entry, claim, words, mine, theirs, value)
        if edges is not None:
            self.rows.append(Distance(self.key(), entry.name, other, edges[0], edges[1], value, u))

    def _own_wall(self, entry: Entry, claim: Claim, words: str, value: float, u: float) -> None:
        """`from pin near-near 26.5` of a notch, block or mark: to its near or far wall, square to the way a
        side word says it lies; a point has no edges of its own, so one word will do."""
        ref, name = claim.ref("thing"), str(claim.ref("thing"))
        other = self.things[name] if name in self.things else self.fixed[name].thing
        said = [word for word in _WALLS if any(str(one.ref("thing")) == name for one in entry.all(word))]
        first, _, second = words.partition("-")
        if len(said) != 1 or first not in ("near", "far") or (not second and other.radius > 0):
            self._ask_wall(entry, claim, said, other, value)
            return
        if second and not self._was_read(self.claims.entries[ref.name]):
            return
        wall = Ref(entry.name, _WALLS[said[0]][first == "far"], ref.span)
        anchor = self.anchor(wall)
        if anchor is not None:
            side = 1 if first == "near" else -1
            edge = _EDGES[second] if second and other.radius > 0 else Edge.CENTRE
            self.rows.append(Coordinate(self.key(), name, anchor[0], anchor[1], value, u, edge, side))

    def _ask_wall(self, entry: Entry, claim: Claim, said: list[str], other: Thing, value: float) -> None:
        name = str(claim.ref("thing"))
        ways = ("near-near", "far-far", "near-far", "far-near") if other.radius > 0 else ("near", "far")
        advice = [
            f"{' or '.join(f'{way} {value:g}' for way in ways[:2])}: its near or its far wall"
            + (f", and the same edge of {name}" if other.radius > 0 else "")
        ]
        if len(said) != 1:
            advice.append(
                f"and, alone, which way it lies: right of {name}, "
                f"left of {name}, above {name} or below {name}"
            )
        if said and other.radius > 0 and "." not in name:
            near = _WALLS[said[0]][0]
            advice.append(
                f"from the centre of {name}, write it at `{name}`:  from {entry.name}.{near} centre {value:g}"
                f"   and   {_BESIDE[near]} {entry.name}"
            )
        self.refuse("which-edge", f"`{claim.text}`: to which wall of {entry.name}?", *advice)

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
            self.refuse(
                "which-edge",
                f"`{claim.text}`: both are round, so two edges must be named, mine first",
                f"near-near {value:g}: centres {value + both:.4g} apart",
                f"far-far {value:g}: centres {value - both:.4g} apart",
                f"centres {value:g}: centres {value:g} apart",
                f"near-far {value:g}: centres {value + mine.radius - theirs.radius:.4g} apart",
            )
            return None
        size = mine.radius + theirs.radius
        if "-" in words or not words or size == 0:
            who = entry.name if mine.radius > 0 else other.name
            said = (
                f"`{claim.text}`: to which edge of {who}?"
                if size
                else f"`{claim.text}`: neither of the two is round"
            )
            advice = (
                [
                    f"near {value:g}: the centre is {value + size:.4g} away",
                    f"far {value:g}: the centre is {value - size:.4g} away",
                    f"centre {value:g}: the centre is {value:g} away",
                ]
                if size
                else ["leave the edge word out"]
            )
            self.refuse("which-edge", said, *advice)
            return None
        if not self._was_read(entry if mine.radius > 0 else other):
            return None
        return (_EDGES[words], Edge.CENTRE) if mine.radius > 0 else (Edge.CENTRE, _EDGES[words])

    def over(self, entry: Entry, claim: Claim) -> None:
        """`over OTHER READING`: the outside size over the two, from far edge to far edge."""
        reading = claim.quantity("readings")
        self._between(entry, claim, "far-far", reading.value, max(reading.u, EXACT))

    def at(self, entry: Entry, claim: Claim) -> None:
        """`at X, Y [from OTHER]`."""
        ref = claim.get("other")
        other = self.centre(ref) if isinstance(ref, Ref) else None
        if isinstance(ref, Ref) and other is None:
            return
        for key, angle in (("x", 0.0), ("y", RIGHT_ANGLE)):
            number = claim.quantity(key)
            self.rows.append(
                Coordinate(self.key(), entry.name, other, angle, number.value, max(number.u, EXACT))
            )

    def around(self, entry: Entry, claim: Claim) -> None:
        """`around OTHER`: the same centre."""
        other = self.centre(claim.ref("thing"))
        if other is not None:
            for angle in (0.0, RIGHT_ANGLE):
                self.rows.append(Coordinate(self.key(), entry.name, other, angle, 0.0, EXACT))

    def level(self, entry: Entry, claim: Claim) -> None:
        """`level with OTHER` (the same height on the page) and `plumb with OTHER` (one above the other)."""
        other = self.centre(claim.ref("thing"))
        if other is not None:
            angle = RIGHT_ANGLE if claim.word == "level with" else 0.0
            self.rows.append(Coordinate(self.key(), entry.name, other, angle, 0.0, EXACT))

    def midway(self, entry: Entry, claim: Claim) -> None:
        """`midway A, B`: between two sides or lines only across them, between two things in both
        directions.
        """
        refs = (claim.ref("first"), claim.ref("second"))
        anchors = [self.anchor(ref) if ref.part in SIDES or self.pages.is_flat(ref) else None for ref in refs]
        if anchors[0] and anchors[1]:
            middle = self.middle(anchors[0][0], anchors[1][0])
            self.rows.append(Coordinate(self.key(), entry.name, middle, anchors[0][1], 0.0, EXACT))
            return
        names = [self.line(ref) or (None if self.found_here() else self.centre(ref)) for ref in refs]
        if names[0] and names[1]:
            self.rows.append(Midway(self.key(), entry.name, names[0], names[1], EXACT))

    def flush(self, entry: Entry, claim: Claim) -> None:
        """`flush with FLAT`: my side that faces the same way lies in it; `against FLAT`: I touch it from
        outside.
        """
        ref = claim.ref("thing")
        if ref.part in ("front", "back"):
            page, _, _ = self.pages.flat_page(ref)
            if page == self.page:
                return
        frame = self.layout.frames[self.page]
        flat = self.pages.flat(ref) if self.pages.is_flat(ref) and ref.name not in self.things else None
        if flat is not None and abs(dot(flat.normal, frame.out)) > 0.999999:
            return
        line = self.line(ref) if not ref.part else None
        if line is not None and claim.word == "against":
            self.rows.append(ToLine(self.key(), entry.name, line, Edge.NEAR, 0.0, EXACT))
            return
        anchor = self.anchor(ref) if line is None else None
        if anchor is None:
            if line is not None:
                self.refuse(
                    "wrong-kind",
                    f"`{ref}` is a line: a line has no inside for `{entry.name}` to lie in",
                    f"against {ref}   and which side of it: below {ref}",
                )
            elif not self.found_here():
                self.refuse("wrong-kind", f"`{ref}` is no flat or side")
            return
        side = -1 if claim.word == "flush with" else 1
        self.rows.append(
            Coordinate(self.key(), entry.name, anchor[0], anchor[1], 0.0, EXACT, Edge.NEAR, side)
        )

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
        """`angle 30 from OTHER`: the direction from it to me, anticlockwise from the page's right; `angle 45
        at VERTEX from OTHER`: the angle at a third thing, anticlockwise from OTHER to me."""
        quantity = claim.quantity("angle")
        value, u = math.radians(quantity.value), max(math.radians(quantity.u), EXACT)
        other = self.centre(claim.ref("other"))
        vertex = claim.get("vertex")
        if other is None:
            return
        if not isinstance(vertex, Ref):
            self.rows.append(Heading(self.key(), other, entry.name, None, value, u))
            return
        corner = self.centre(vertex)
        if corner is None:
            return
        arms = [f"{one}~{corner}" for one in (other, entry.name)]
        for arm, end in zip(arms, (other, entry.name), strict=True):
            if arm not in self.lines:
                self.lines[arm] = LineThing(arm)
                self.rows.append(ToLine(0, corner, arm, Edge.CENTRE, 0.0, EXACT))
                self.rows.append(ToLine(0, end, arm, Edge.CENTRE, 0.0, EXACT))
        self.rows.append(LineAngle(self.key(), arms[1], arms[0], value, u))

    def lies(self, entry: Entry, claim: Claim) -> None:
        """`lies along LINE from START`: the foot of its axis is START."""
        other = self.centre(claim.ref("start"))
        if other is not None:
            for angle in (0.0, RIGHT_ANGLE):
                self.rows.append(Coordinate(self.key(), entry.name, other, angle, 0.0, EXACT))

    def rough(self, entry: Entry, claim: Claim) -> None:
        """`roughly X, Y`: picks among mirror answers."""
        self.roughly.append(Roughly(self.key(), entry.name, (claim.number("x"), claim.number("y"))))

    def ends(self, entry: Entry, claim: Claim) -> None:
        """`ends A, B` of a slot: it lies between them."""
        first, second = self.centre(claim.ref("first")), self.centre(claim.ref("second"))
        if first and second:
            self.rows.append(Midway(self.key(), entry.name, first, second, EXACT))

    def within(self, entry: Entry, claim: Claim) -> None:
        """A thing of a used part lies fast in it: X, Y from the middle of its box; a part that stands on a
        back is turned over about its upright."""
        part = claim.ref("other")
        if self.centre(part) is None:
            return
        way = self.pages.stand(part.name)[2]
        for key, angle in (("x", 0.0), ("y", RIGHT_ANGLE)):
            value = claim.number(key) * (way if key == "x" else 1)
            self.rows.append(Coordinate(0, entry.name, part.name, angle, value, EXACT))


_THING_CLAIMS = {
    "on": Rows.on,
    "from": Rows.from_,
    "over": Rows.over,
    "at": Rows.at,
    "around": Rows.around,
    "level with": Rows.level,
    "plumb with": Rows.level,
    "midway": Rows.midway,
    "flush with": Rows.flush,
    "against": Rows.flush,
    "left of": Rows.side,
    "right of": Rows.side,
    "above": Rows.side,
    "below": Rows.side,
    "beyond": Rows.further,
    "short of": Rows.further,
    "same side of": Rows.further,
    "angle": Rows.angle,
    "roughly": Rows.rough,
    "ends": Rows.ends,
    "lies along": Rows.lies,
    "within": Rows.within,
}

PLACING = frozenset(_THING_CLAIMS)
__all__ = ["EXACT", "PLACING", "Rows"]
