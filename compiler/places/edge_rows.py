"""Readings between edges turned into rows: which edge of which of the two things a number was read to.

A word where none is needed and none where it matters are answered here, with what each word would mean."""

from __future__ import annotations

from ..facts import Entry, Ref
from ..facts.extents import is_round, radius
from ..facts.placing import Beside, From, Over
from ..network.types import Centred, Coordinate, Distance, ReadEdge, ToLine, Way
from .anchors import anchor_of
from .measured_to import EXACT, RIGHT_ANGLE, NetworkBuilder
from .ways import TYPED, WAYS

# which wall of mine is near, and which far, where I lie so of another thing; and how something beside a wall
# lies
_WALLS = {
    Way.RIGHT: ("left", "right"),
    Way.LEFT: ("right", "left"),
    Way.ABOVE: ("bottom", "top"),
    Way.BELOW: ("top", "bottom"),
}
_BESIDE = {"bottom": Way.BELOW, "top": Way.ABOVE, "left": Way.LEFT, "right": Way.RIGHT}
EDGES = {"near": ReadEdge.NEAR, "far": ReadEdge.FAR, "centre": ReadEdge.CENTRE, "centres": ReadEdge.CENTRE}


class EdgeRows(NetworkBuilder):
    """Rows of `from` and `over`."""

    def from_(self, entry: Entry, fact: From) -> None:
        """`from OTHER [edges] READING`, to a line, a side or a thing."""
        ref = fact.thing
        value, u = fact.reading.value, max(fact.reading.u, EXACT)
        line = self.line(ref)
        if line is not None:
            edge = self._edge(entry, fact, value)
            if edge is not None:
                self.put(ToLine(self.key(), entry.name, line, edge, value, u))
            return
        if self.found_here():
            return
        anchor = anchor_of(self, ref)
        if anchor is not None:
            edge = self._edge(entry, fact, value)
            outside = self.stands_outside(entry, ref, anchor[1])
            if edge is not None and str(ref) in self.net.fixed_lines:
                self.put(ToLine(self.key(), entry.name, str(ref), edge, value, u, 1 if outside else -1))
            elif edge is not None:
                side = 1 if outside else -1
                self.put(Coordinate(self.key(), entry.name, anchor[0], anchor[1], value, u, edge, side))
            return
        if not self.found_here():
            self._between(entry, fact, fact.edges)

    def stands_outside(self, entry: Entry, ref: Ref, outwards: float) -> bool:
        """`from head.bottom near 2.5` with `below head` (or `below head.bottom`): the reading runs away from
        the body, not into it.

        `outwards`: which way (radians) the side or flat faces on this plane, where it may face another way
        than its name says."""
        beside = _BESIDE.get(ref.part)
        if beside is None or self.pages.stand(ref.name)[0] != self.plane:
            beside = self.facing(outwards)
        said = [str(fact.thing) for fact in self._said_beside(entry, beside)]
        return ref.name in said or str(ref) in said

    @staticmethod
    def facing(outwards: float) -> Way:
        """The way of what lies before a side or flat that faces so (radians) on this plane."""
        return (Way.RIGHT, Way.ABOVE, Way.LEFT, Way.BELOW)[round(outwards / RIGHT_ANGLE) % 4]

    def _said_beside(self, entry: Entry, way: Way) -> list[Beside]:
        return [fact for fact in self.pages.facts.of[entry.name].all(Beside) if WAYS[fact.way] is way]

    def _edge(self, entry: Entry, fact: From, value: float) -> ReadEdge | None:
        """Which of my edges a reading to something straight was taken to."""
        words = fact.edges
        if "-" in words:
            self.refuse(
                "which-edge",
                f"`{words}` speaks of two edges, but `{fact.thing}` is straight",
                "near, far or centre: the edge of " + entry.name,
            )
            return None
        thing = self.here(entry)
        size = thing.radius + thing.half_long + thing.half_wide
        if size == 0.0 or words in ("centre", "centres"):
            return ReadEdge.CENTRE
        if not words:
            reach = thing.radius if thing.radius else max(thing.half_long, thing.half_wide)
            self.refuse(
                "which-edge",
                f"`{fact.claim.text}`: to which edge of {entry.name}?",
                f"near {value:g}: the centre is {value + reach:.4g} away",
                f"far {value:g}: the centre is {value - reach:.4g} away",
                f"centre {value:g}: the centre is {value:g} away",
            )
            return None
        return EDGES[words] if self._was_read(entry) else None

    def _was_read(self, entry: Entry) -> bool:
        if is_round(entry) and radius(entry, made=False) is None:
            self.refuse(
                "never-read",
                f"the size of {entry.name} was never read, so it has no edge to measure to",
                "give its size as read (drill, across), or measure to its centre",
            )
            return False
        return True

    def _between(self, entry: Entry, fact: From | Over, words: str) -> None:
        value, u = fact.reading.value, max(fact.reading.u, EXACT)
        other = self.centre(fact.thing)
        if other is None:
            return
        theirs = self.net.thing(other)
        mine = self.here(entry)
        if mine.half_wide > 0 and theirs.half_wide == 0:
            self._own_wall(entry, fact, words, value, u)
            return
        if max(mine.half_wide, theirs.half_wide) > 0:
            box = entry.name if mine.half_wide > 0 else other
            self.refuse(
                "which-edge",
                f"`{box}` has four sides; a distance must say which",
                f"measure to one of them: {box}.left, {box}.right, {box}.top, {box}.bottom",
            )
            return
        edges = self._two_edges(entry, fact, words, mine, theirs)
        if edges is not None:
            self.put(Distance(self.key(), entry.name, other, edges[0], edges[1], value, u))

    def _own_wall(self, entry: Entry, fact: From | Over, words: str, value: float, u: float) -> None:
        """`from pin near-near 26.5` of a notch, block or mark: to its near or far wall, square to the way a
        side word says it lies; a point has no edges of its own, so one word will do."""
        ref, name = fact.thing, str(fact.thing)
        other = self.net.thing(name)
        said = [way for way in _WALLS if any(str(one.thing) == name for one in self._said_beside(entry, way))]
        first, _, second = words.partition("-")
        if len(said) != 1 or first not in ("near", "far") or (not second and other.radius > 0):
            self._ask_wall(entry, fact, said, other)
            return
        if second and not self._was_read(self.claims.entries[ref.name]):
            return
        wall = Ref(entry.name, _WALLS[said[0]][first == "far"], ref.span)
        anchor = anchor_of(self, wall)
        if anchor is not None:
            side = 1 if first == "near" else -1
            edge = EDGES[second] if second and other.radius > 0 else ReadEdge.CENTRE
            self.put(Coordinate(self.key(), name, anchor[0], anchor[1], value, u, edge, side))

    def _ask_wall(self, entry: Entry, fact: From | Over, said: list[Way], other: Centred) -> None:
        name, value = str(fact.thing), fact.reading.value
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
                f"   and   {TYPED[_BESIDE[near]]} {entry.name}"
            )
        self.refuse("which-edge", f"`{fact.claim.text}`: to which wall of {entry.name}?", *advice)

    def _two_edges(
        self, entry: Entry, fact: From | Over, words: str, mine: Centred, theirs: Centred
    ) -> tuple[ReadEdge, ReadEdge] | None:
        """Edges of mine and theirs that a reading was taken between, by which of the two is round."""
        other, value = self.claims.entries[fact.thing.name], fact.reading.value
        if words in ("centre", "centres") or (mine.radius == 0 and theirs.radius == 0 and not words):
            return ReadEdge.CENTRE, ReadEdge.CENTRE
        if mine.radius > 0 and theirs.radius > 0:
            if "-" in words:
                first, second = words.split("-")
                good = self._was_read(entry) and self._was_read(other)
                return (EDGES[first], EDGES[second]) if good else None
            both = mine.radius + theirs.radius
            self.refuse(
                "which-edge",
                f"`{fact.claim.text}`: both are round, so two edges must be named, mine first",
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
                f"`{fact.claim.text}`: to which edge of {who}?"
                if size
                else f"`{fact.claim.text}`: neither of the two is round"
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
        return (EDGES[words], ReadEdge.CENTRE) if mine.radius > 0 else (ReadEdge.CENTRE, EDGES[words])

    def over(self, entry: Entry, fact: Over) -> None:
        """`over OTHER READING`: the outside size over the two, from far edge to far edge."""
        self._between(entry, fact, "far-far")
