"""The holes of a part: the cutters of each in each of its bodies, copies too, and whether they meet
anything.
"""

from __future__ import annotations

from ..diagnostics.types import Trouble
from ..model.holes import Hole
from ..model.types import Body, Prism
from ..model.zones import Zone
from ..outlines import Region
from ..places.layout import Move
from .answers import Answers
from .combine import moved, overlap
from .crowds import crowded, too_fine
from .cutters import Cut, hole_tool
from .depth_notes import counted
from .hole_tools import BodyExtent, reach_of
from .holes_in_outline import RoundHole, let_in, round_hole
from .kernel import Solid
from .misses import SLIVER, Misses
from .types import Part
from .workshop import Workshop


class Cutting:
    """Makes the cutters of the holes of one part, and keeps what they cut."""

    def __init__(self, shop: Workshop, answers: Answers) -> None:
        self.shop, self.model, self.answers = shop, shop.model, answers
        self.cuts: list[Cut] = []
        self.let_in: list[tuple[RoundHole, str]] = []
        self.misses = Misses()
        self._untried: list[tuple[Hole, str, Solid, Solid]] = []
        self._of: dict[str, list[Hole]] = {}
        for hole in self.model.of(Hole):
            for owner in hole.owners:
                self._of.setdefault(owner, []).append(hole)
        self._zoned = {zone.body for zone in self.model.of(Zone)}

    def of(self, body: str) -> list[Hole]:
        """The holes of a body, in the order of their names."""
        return self._of.get(body, [])

    def outline(self, body: Body) -> tuple[Region | None, list[Hole]]:
        """The outline of a body without zones, its plain round holes let in; and the holes that are left."""
        holes = self.of(body.name)
        if not isinstance(body, Prism) or body.bevels.said or body.trims or body.name in self._zoned:
            return None, holes
        plain = [one for one in holes if one.straight and one.plane == body.plane]
        if body.copies:
            plain = [one for one in plain if not one.copies]
        rounds = [one for one in (round_hole(hole, self.model) for hole in plain) if one is not None]
        if sum(len(one.centres) for one in rounds) < 2:
            return None, holes
        region, used = let_in(self.shop.region(body.name), rounds, self.shop.marks, self.shop.chord)
        self.let_in += [(one, body.name) for one in rounds if one.hole.name in used]
        return region, [one for one in holes if one.name not in used]

    def tools(self, hole: Hole, body: str, solid: Solid) -> list[Solid]:
        """The cutters of a hole and of its copies in one body; one that meets nothing is answered."""
        reach = reach_of(body, solid, self.model.frame(hole))
        try:
            first = hole_tool(self.shop, hole, reach)
        except Trouble as trouble:
            self.answers.say(trouble, hole)
            return []
        own, further = self._copies_in(hole, body)
        who = (hole.name, hole.span, first)
        if self.answers.add(crowded(*who, hole.copies) or too_fine(*who, len(own) + len(further))):
            return []
        if body in self._zoned:
            self.answers.add(*counted(self.shop, hole, body, first, solid))
        every = self._each(hole, first, reach, (*own, *further))
        tools = every[: len(own) + 1]
        if len(tools) == 1 and len(hole.owners) == 1:
            self._untried.append((hole, body, first, solid))
        else:
            self._try(hole, body, tools, solid)
        self.cuts.append(Cut(hole, every))
        return every

    def shared(self, hole: Hole, body: Body) -> bool:
        """Whether a hole stays where it is when a body is copied: it goes `through all` of several bodies, so
        it belongs to none.  One that is copied together with the body goes along with it."""
        return self._of_all(hole) and bool(body.copies) and body.copies != hole.copies

    @staticmethod
    def _of_all(hole: Hole) -> bool:
        return hole.everywhere and len(hole.owners) > 1

    def without_shared(self, body: Body) -> bool:
        """Whether the copies of a body are made without some of its holes."""
        return any(self.shared(hole, body) for hole in self.of(body.name))

    def through_copy(self, body: Body, solid: Solid) -> list[Solid]:
        """The cutters, at their own places, of the holes through all that meet a copy of a body."""
        found = []
        for hole in self.of(body.name):
            if self.shared(hole, body):
                reach = reach_of(body.name, solid, self.model.frame(hole))
                found += self._each(hole, hole_tool(self.shop, hole, reach), reach, hole.copies)
        return [tool for tool in found if overlap(tool, solid) > SLIVER]

    def _each(self, hole: Hole, first: Solid, reach: BodyExtent, moves: tuple[Move, ...]) -> list[Solid]:
        """The cutter of a hole and its copies; a thread keeps its hand in those that are mirrored."""
        twin = first
        if hole.thread is not None and any(move.mirrors for move in moves):
            with self.shop.other_hand():
                twin = hole_tool(self.shop, hole, reach)
        return [first, *(moved(twin if move.mirrors else first, move) for move in moves)]

    def _copies_in(self, hole: Hole, body: str) -> tuple[tuple[Move, ...], tuple[Move, ...]]:
        """Moves of a hole's copies in a body, and of those that come with the copies of other bodies it goes
        through.

        A body that is copied takes its holes along; so a hole that is copied together with it is cut in it
        once, and what else the hole goes through is cut at each of the copies.  A hole through all stays
        where it is."""
        own = self.model.things[body].copies
        if hole.copies and own == hole.copies:
            return (), ()
        if hole.copies or own or self._of_all(hole):
            return hole.copies, ()
        others = [self.model.things[name].copies for name in hole.owners if name in self.model.things]
        return (), tuple(move for some in others for move in some)

    def _try(self, hole: Hole, body: str, tools: list[Solid], solid: Solid) -> None:
        """Answer a hole of which a copy cuts nothing of a body."""
        self.answers.add(*self.misses.ask(hole, body, tools, solid))

    def try_the_rest(self, part: Part | None) -> None:
        """Single holes that left no face on the part: cutting each with its body takes longer than looking
        for its label.
        """
        if not self._untried:
            return
        labels = () if part is None else sorted(set(part.mesh.labels.tolist()))
        marked = {self.shop.marks.faces[label][0] for label in labels if label >= 0}
        for hole, body, tool, solid in self._untried:
            if hole.name not in marked:
                self._try(hole, body, [tool], solid)
