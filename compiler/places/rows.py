"""The placing facts of one plane turned into rows of a network.

Worked case: `from back near 4.95` of a bore becomes ToLine(pivot, back, NEAR, 4.95); `from wall.top near 5.9`
becomes a coordinate to the middle of that side, a hidden thing named `wall.top`, so that the solver needs no
rectangles.  Edge words are checked here (`edge_rows`), where the writer's words are still known: a word where
none is needed, none where it matters."""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import Any

from ..diagnostics.types import Trouble
from ..facts import Entry
from ..facts.kind_questions import is_body, is_line
from ..facts.naming import parts_of
from ..facts.placing import (
    Against,
    AngleAt,
    AngleFrom,
    Around,
    At,
    Beside,
    BetweenEnds,
    Beyond,
    FlushWith,
    From,
    Further,
    LevelWith,
    LiesAlong,
    MidwayBetween,
    On,
    Over,
    PlacingFact,
    PlumbWith,
    RoughPlace,
    SameSide,
    ShortOf,
    Within,
)
from ..facts.types import FLATS, SIDES
from ..network.types import (
    Coordinate,
    Heading,
    LineAngle,
    LineThing,
    Midway,
    ReadEdge,
    Roughly,
    SideWord,
    Spoken,
    ToLine,
    Way,
)
from ..quantities.vectors import dot
from .anchors import anchor_of
from .edge_rows import EdgeRows
from .line_rows import add_line_fact
from .measured_to import EXACT, RIGHT_ANGLE, AtWork
from .ways import TYPED, WAYS


class Rows(EdgeRows):
    """Collects the network of one plane from placing facts."""

    def add(self, entry: Entry) -> None:
        """Turn every placing fact of a thing or line into rows."""
        for fact in self.pages.facts.of[entry.name].facts:
            self.at_work = AtWork(entry, fact.claim, fact)
            try:
                if is_line(entry):
                    add_line_fact(self, entry, fact)
                elif type(fact) in _THING_FACTS:
                    _THING_FACTS[type(fact)](self, entry, fact)
            except Trouble as trouble:
                self.refuse(trouble.code, trouble.says, *trouble.advice)

    def on(self, entry: Entry, fact: On) -> None:
        """`on LINE`: the centre lies on it.  (On a flat: that is the plane, and was dealt with.)"""
        ref = fact.thing
        if self.pages.is_flat(ref) or not ref.name:
            return
        line = self.line(ref)
        if line is None:
            if not ref.part and not self.found_here():
                other = self.claims.entries[ref.name]
                flats = [f"{ref.name}.{part}" for part in parts_of(other.kind)] if is_body(other) else []
                advice = ("on one of its flats: " + " ".join(flats),) if flats else ()
                self.refuse(
                    "wrong-kind",
                    f"`{ref}` is no line or flat that a thing can be `on`",
                    *advice,
                    f"where their centres are one: around {ref.name}",
                )
            elif ref.part and (anchor := anchor_of(self, ref)):
                self.put(Coordinate(self.key(), entry.name, anchor[0], anchor[1], 0.0, EXACT))
            return
        self.put(ToLine(self.key(), entry.name, line, ReadEdge.CENTRE, 0.0, EXACT))

    def at(self, entry: Entry, fact: At) -> None:
        """`at X, Y [from OTHER]`."""
        other = self.centre(fact.other) if fact.other is not None else None
        if fact.other is not None and other is None:
            return
        for number, angle in ((fact.x, 0.0), (fact.y, RIGHT_ANGLE)):
            self.put(Coordinate(self.key(), entry.name, other, angle, number.value, max(number.u, EXACT)))

    def around(self, entry: Entry, fact: Around) -> None:
        """`around OTHER`: the same centre."""
        other = self.centre(fact.thing)
        if other is not None:
            for angle in (0.0, RIGHT_ANGLE):
                self.put(Coordinate(self.key(), entry.name, other, angle, 0.0, EXACT))

    def level(self, entry: Entry, fact: LevelWith | PlumbWith) -> None:
        """`level with OTHER` (the same height on the plane) and `plumb with OTHER` (one above the other)."""
        other = self.centre(fact.thing)
        if other is not None:
            angle = RIGHT_ANGLE if isinstance(fact, LevelWith) else 0.0
            self.put(Coordinate(self.key(), entry.name, other, angle, 0.0, EXACT))

    def midway(self, entry: Entry, fact: MidwayBetween) -> None:
        """`midway A, B`: between two sides or lines only across them, between two things in both
        directions.
        """
        refs = (fact.first, fact.second)
        anchors = [
            anchor_of(self, ref) if ref.part in SIDES or self.pages.is_flat(ref) else None for ref in refs
        ]
        if anchors[0] and anchors[1]:
            middle = self.middle(anchors[0][0], anchors[1][0])
            self.put(Coordinate(self.key(), entry.name, middle, anchors[0][1], 0.0, EXACT))
            return
        names = [self.line(ref) or (None if self.found_here() else self.centre(ref)) for ref in refs]
        if names[0] and names[1]:
            self.put(Midway(self.key(), entry.name, names[0], names[1], EXACT))

    def flush(self, entry: Entry, fact: FlushWith | Against) -> None:
        """`flush with FLAT`: my side that faces the same way lies in it; `against FLAT`: I touch it from
        outside.
        """
        ref = fact.thing
        if ref.part in FLATS:
            plane, _, _ = self.pages.flat_page(ref)
            if plane == self.plane:
                return
        frame = self.layout.frames[self.plane]
        flat = self.pages.flat(ref) if self.pages.is_flat(ref) and ref.name not in self.net.things else None
        if flat is not None and abs(dot(flat.normal, frame.out)) > 0.999999:
            return
        line = self.line(ref) if not ref.part else None
        if line is not None and isinstance(fact, Against):
            self.put(ToLine(self.key(), entry.name, line, ReadEdge.NEAR, 0.0, EXACT))
            return
        anchor = anchor_of(self, ref) if line is None else None
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
        side = -1 if isinstance(fact, FlushWith) else 1
        self.put(Coordinate(self.key(), entry.name, anchor[0], anchor[1], 0.0, EXACT, ReadEdge.NEAR, side))

    def side(self, entry: Entry, fact: Beside) -> None:
        """`left of`, `right of`, `above`, `below` another thing, a line, or a side or flat seen edge-on."""
        ref = fact.thing
        if self.pages.is_flat(ref) or ref.part in SIDES:
            other = self._side_of(fact)
        else:
            other = self.line(ref) or (None if self.found_here() else self.centre(ref))
        if other is not None:
            self.net.sides.append(SideWord(self.key(), entry.name, WAYS[fact.way], other))

    def _side_of(self, fact: Beside) -> str | None:
        """The side or flat that a side word speaks of, if it runs square to the way of the word."""
        anchor = anchor_of(self, fact.thing)
        if anchor is None:
            return None
        ways = (self.facing(anchor[1]), self.facing(anchor[1] + math.pi))
        if WAYS[fact.way] not in ways:
            words = " or ".join(f"{TYPED[way]} {fact.thing}" for way in sorted(ways, key=TYPED.__getitem__))
            self.refuse(
                "side-word-wrong",
                f"`{fact.claim.text}`: seen here, a thing lies {words}",
                words.replace(" or ", "   or   "),
            )
            return None
        name = str(fact.thing)
        return name if name in self.net.fixed_lines else anchor[0]

    def further(self, entry: Entry, fact: Further) -> None:
        """`beyond B from A`, `short of B from A`, `same side of L as A`."""
        other = self.line(fact.other) or (None if self.found_here() else self.centre(fact.other))
        base = self.centre(fact.base)
        if other is not None and base is not None:
            self.net.sides.append(SideWord(self.key(), entry.name, _FURTHER[type(fact)], other, base))

    def angle(self, entry: Entry, fact: AngleFrom | AngleAt) -> None:
        """`angle 30 from OTHER`: the direction from it to me, anticlockwise from the plane's right; `angle 45
        at VERTEX from OTHER`: the angle at a third thing, anticlockwise from OTHER to me."""
        value, u = math.radians(fact.angle.value), max(math.radians(fact.angle.u), EXACT)
        other = self.centre(fact.other)
        if other is None:
            return
        if isinstance(fact, AngleFrom):
            self.put(Heading(self.key(), other, entry.name, None, value, u))
            return
        corner = self.centre(fact.vertex)
        if corner is None:
            return
        arms = [f"{one}~{corner}" for one in (other, entry.name)]
        for arm, end in zip(arms, (other, entry.name), strict=True):
            if arm not in self.net.lines:
                self.net.lines[arm] = LineThing(arm, Spoken.NEVER)
                self.put(ToLine(0, corner, arm, ReadEdge.CENTRE, 0.0, EXACT))
                self.put(ToLine(0, end, arm, ReadEdge.CENTRE, 0.0, EXACT))
        self.put(LineAngle(self.key(), arms[1], arms[0], value, u))

    def lies(self, entry: Entry, fact: LiesAlong) -> None:
        """`lies along LINE from START`: the foot of its axis is START."""
        other = self.centre(fact.start)
        if other is not None:
            for angle in (0.0, RIGHT_ANGLE):
                self.put(Coordinate(self.key(), entry.name, other, angle, 0.0, EXACT))

    def rough(self, entry: Entry, fact: RoughPlace) -> None:
        """`roughly X, Y`: picks among mirror answers."""
        self.net.roughly.append(Roughly(self.key(), entry.name, (fact.x, fact.y)))

    def ends(self, entry: Entry, fact: BetweenEnds) -> None:
        """`ends A, B` of a slot: it lies between them."""
        first, second = self.centre(fact.first), self.centre(fact.second)
        if first and second:
            self.put(Midway(self.key(), entry.name, first, second, EXACT))

    def within(self, entry: Entry, fact: Within) -> None:
        """A thing of a used part lies fast in it: X, Y from the middle of its box; a part that stands on a
        back is turned over about its upright."""
        if self.centre(fact.part) is None:
            return
        self.layout.use(entry, fact)
        name = fact.part.name
        way = self.pages.stand(name)[2]
        self.put(Coordinate(0, entry.name, name, 0.0, fact.x * way, EXACT))
        self.put(Coordinate(0, entry.name, name, RIGHT_ANGLE, fact.y, EXACT))


_FURTHER: dict[type[Further], Way] = {Beyond: Way.BEYOND, ShortOf: Way.SHORT, SameSide: Way.SAME}
_THING_FACTS: dict[type[PlacingFact], Callable[[Rows, Entry, Any], None]] = {
    On: Rows.on,
    From: Rows.from_,
    Over: Rows.over,
    At: Rows.at,
    Around: Rows.around,
    LevelWith: Rows.level,
    PlumbWith: Rows.level,
    MidwayBetween: Rows.midway,
    FlushWith: Rows.flush,
    Against: Rows.flush,
    Beside: Rows.side,
    Beyond: Rows.further,
    ShortOf: Rows.further,
    SameSide: Rows.further,
    AngleFrom: Rows.angle,
    AngleAt: Rows.angle,
    RoughPlace: Rows.rough,
    BetweenEnds: Rows.ends,
    LiesAlong: Rows.lies,
    Within: Rows.within,
}

__all__ = ["EXACT", "Rows"]
