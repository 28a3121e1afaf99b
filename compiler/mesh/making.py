"""Each body as it comes out of the workshop: its material, thickened, relieved, trimmed, marked, and bored.

The order of work is fixed, so the order of writing can't reach the mesh."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, cast

from ..diagnostics.types import Diagnostic, Trouble
from ..kinds import needed_file
from ..model.brought import Brought
from ..model.types import Body
from ..model.zones import Zone
from .answers import Answers
from .combine import join, moved, remove
from .cutting import Cutting
from .flush import pushed_through
from .kernel import Solid
from .trims import trimmed
from .workshop import Workshop

if TYPE_CHECKING:
    from ..kinds.mark.solid import Lettering


class Making:
    """Makes the bodies of one part, and keeps what was cut and what stood in the way."""

    def __init__(self, shop: Workshop, answers: Answers) -> None:
        self.shop, self.model, self.answers = shop, shop.model, answers
        self.lettering = _lettering(shop)
        self.cutting = Cutting(shop, answers)
        self.built: dict[str, Solid] = {}
        self.copied: dict[str, Solid] = {}

    def body(self, body: Body) -> Solid | None:
        """A body with all that is worked into it; None, with the reason kept, where it can't be made."""
        name = body.name
        try:
            region, holes = self.cutting.outline(body)
            solid = self.shop.solid(name, region)
        except Trouble as trouble:
            self.answers.say(trouble, body)
            return None
        zones = [zone for zone in self.model.of(Zone) if zone.body == name]
        pads = [pad for zone in zones if zone.adds for pad in self._zone(zone)]
        solid = join([solid, *pads]) if pads else solid
        reliefs = [tool for zone in zones if not zone.adds for tool in self._zone(zone)]
        solid = remove(solid, pushed_through(solid, reliefs)) if reliefs else solid
        solid = trimmed(self.shop, body, solid, self.answers)
        shared = [hole for hole in holes if self.cutting.shared(hole, body)]
        tools = [
            tool for hole in holes if hole not in shared for tool in self.cutting.tools(hole, name, solid)
        ]
        tools = pushed_through(solid, tools)
        letters = self.lettering
        made = remove(solid, tools) if letters is None else letters.body(name, solid, tools)
        if shared:
            self.copied[name] = made
            tools = [tool for hole in shared for tool in self.cutting.tools(hole, name, solid)]
            made = remove(made, pushed_through(made, tools))
        self.built[name] = made
        return made

    def _zone(self, zone: Zone) -> list[Solid]:
        """The pads or cutters of a zone; none where it was answered."""
        own = needed_file(zone.noun, "solid")
        try:
            return cast("list[Solid]", own.build(self.shop, zone))
        except Trouble as trouble:
            self.answers.say(trouble, zone)
            return []

    def finish(self) -> None:
        """What is known once all bodies were made: marks, and holes through all that meet nothing."""
        if self.lettering is not None:
            for trouble, mark in self.lettering.answered():
                self.answers.say(trouble, mark)
            self.answers.add(*self.lettering.found)
        self.answers.add(*self.cutting.misses.answered())

    def buried(self, parts: Sequence[tuple[str, Solid]]) -> list[Diagnostic]:
        """A warning for each mark that another body or copy lies on.  `parts`: each with its material."""
        return [] if self.lettering is None else list(self.lettering.buried(parts))

    def copies(self, body: Body) -> list[Solid]:
        """The copies of a body in their places.  They take its own holes along; holes through all of several
        bodies are cut in each at their own places."""
        solid = self.copied.get(body.name, self.built[body.name])
        twin = self._twin(body) if any(move.mirrors for move in body.copies) else solid
        found = [moved(twin if move.mirrors else solid, move) for move in body.copies]
        if not self.cutting.without_shared(body):
            return found
        return [remove(one, pushed_through(one, self.cutting.through_copy(body, one))) for one in found]

    def _twin(self, body: Body) -> Solid:
        """A body as its mirrored copies need it: threads, also of its holes, wound the other way, marks
        turned over.
        """
        turns_over = (self.lettering is not None and bool(self.lettering.of(body.name))) or (
            isinstance(body, Brought) and self.shop.meshes[body.name].twin is not None
        )
        plain = self.copied.get(body.name, self.built[body.name])
        if not (turns_over or body.handed or any(one.handed for one in self.cutting.of(body.name))):
            return plain
        with self.shop.other_hand():
            making = Making(self.shop, Answers(self.model))
            twin = making.body(body)
        return plain if twin is None else making.copied.get(body.name, twin)


def _lettering(shop: Workshop) -> Lettering | None:
    """What writes the marks of a part; None where it has none."""
    marks = [thing for thing in shop.model.things.values() if thing.lettered]
    if not marks:
        return None
    made: Lettering = needed_file(marks[0].noun, "solid").Lettering(
        shop.model, shop.marks, shop.chord, shop.flip
    )
    return made
