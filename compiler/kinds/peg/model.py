"""A peg as it will be made: a section drawn out of its plane, perhaps threaded."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, ClassVar

from ...diagnostics.types import Span, Trouble
from ...facts.needs import THREAD_WORDS
from ...model.builder import Builder, size_of
from ...model.holes import (
    across_of,
    drilled,
    fit_of,
    flat_sizes,
    round_size,
    section_of,
    thread_line,
    thread_name,
    thread_of,
)
from ...model.sections import PolygonSection, RoundSection, Section
from ...model.taking import Facts
from ...model.types import Body, Centre, Cylinder, Fit, Said, Size
from ...places.layout import Frame
from ...places.planes import OUTWARD

if TYPE_CHECKING:
    from ..thread.form import ThreadForm, ThreadName


class Peg(Body, frozen=True, kw_only=True):
    """A peg: its section on its plane, its sizes, the bevels (mm) at the front and back of it as it
    stands.
    """

    section: Section
    size: Size
    flats: tuple[tuple[str, Size], ...]
    tall: Size
    front_bevel: float
    back_bevel: float
    bevels: tuple[tuple[str, Size], ...]
    fit: Fit | None
    thread: ThreadForm | None
    thread_said: Said | None
    drilled: bool = False
    thread_name: ThreadName | None = None

    makes: ClassVar[bool] = True
    must_fit: ClassVar[bool] = True
    centre: ClassVar[Centre] = Centre.RIM

    @property
    def diameter(self) -> float | None:
        """The size across as made, mm, of a round one."""
        return round_size(self.section, self.size)

    @property
    def handed(self) -> bool:
        """Whether it is threaded."""
        return self.thread is not None

    @property
    def bevel_line(self) -> Span | None:
        """The line to blame for a bevel that does not fit, where there is only one."""
        return self.bevels[0][1].said.span if len(self.bevels) == 1 else None

    @property
    def across_made(self) -> float | None:
        """The size across as made, mm."""
        return self.size.value

    @property
    def round_radius(self) -> float | None:
        """Radius of its round; a hexagon or square has flats at its sides."""
        return None if isinstance(self.section, PolygonSection) else self.placed.half[0]

    @property
    def cylinders(self) -> tuple[Cylinder, ...]:
        """Its side, where that is round."""
        if not isinstance(self.section, RoundSection) or self.thread is not None:
            return ()
        frame = self.frame
        axis = Frame(frame.point(self.placed.at), frame.right, frame.up, frame.out)
        low, high = self.low + self.back_bevel, self.high - self.front_bevel
        return (Cylinder(axis, self.section.radius, low, high, True),)

    @property
    def bevelled(self) -> tuple[tuple[str, Size], ...]:
        """Its bevels, by the flat they are at."""
        tip, foot = ("front", "back") if self.placed.out > 0 else ("back", "front")
        flats = {"tip": tip, "foot": foot, "both": "both"}
        return tuple((flats[where], size) for where, size in self.bevels)

    def is_edge(self, part: str) -> bool:
        """Whether a hexagon or square is so turned that an edge stands at this side."""
        if not isinstance(self.section, PolygonSection) or part not in OUTWARD:
            return False
        step = math.tau / self.section.sides
        off = (OUTWARD[part] - self.section.turn) % step
        return min(off, step - off) >= 1e-6


def make(builder: Builder, facts: Facts) -> Peg:
    """The peg.  Raises Trouble: 'not-placed', 'no-such-side', 'flat-misses', and as `form_of` does."""
    fields = builder.body(facts)
    spot = fields["spot"]
    if spot is None:
        raise Trouble("not-placed", f"`{facts.name}` is not placed", (facts.name,))
    size = across_of(facts)
    assert size is not None
    thread = thread_of(builder, facts, False) if facts.peek(*THREAD_WORDS) else None
    section: Section = RoundSection(0.5 * size.value)
    if thread is None:
        section = section_of(facts, size, spot.turn)
    tip, foot = ("front", "back") if spot.out > 0 else ("back", "front")
    bevels = {tip: 0.0, foot: 0.0}
    told = []
    for claim in facts.all("bevel"):
        where = claim.word_of("where", "tip")
        told.append((where, size_of(claim, "number")))
        for face, said in ((tip, "tip"), (foot, "foot")):
            if where in (said, "both"):
                bevels[face] = max(bevels[face], claim.number("number"))
    return Peg(
        **fields,
        section=section,
        size=size,
        flats=flat_sizes(facts),
        tall=size_of(facts.need("high")),
        front_bevel=bevels["front"],
        back_bevel=bevels["back"],
        bevels=tuple(told),
        fit=fit_of(facts),
        thread=thread,
        thread_said=thread_line(facts),
        drilled=drilled(facts.entry),
        thread_name=thread_name(facts.entry),
    )
