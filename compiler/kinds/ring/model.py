"""A ring: copies at even angles round a middle."""

from __future__ import annotations

from ...facts.placing import RingReading
from ...model.builder import Builder, optional_size
from ...model.card import mention
from ...model.patterns import pattern_fields
from ...model.taking import Facts
from ...model.types import Mention, Pattern, Size
from ...places.ring_rows import behind
from ...quantities import Quantity


class RingPattern(Pattern, frozen=True, kw_only=True):
    """A ring: the thing in its middle, the angle it goes over in degrees (None: all round), and between which
    edges of neighbours it was read ('' where it was not).

    `circle`: the diameter of the pitch circle as its reading tells it; None where nothing was read of it."""

    about: Mention
    over: Size | None
    edges: str
    circle: Quantity | None


def make(builder: Builder, facts: Facts) -> RingPattern:
    """The ring."""
    neighbours = facts.one("from next")
    facts.all("pitch circle")  # it placed the first copy
    return RingPattern(
        **pattern_fields(builder, facts, int(facts.need("count").number("count"))),
        about=mention(facts.need("about").ref("thing")),
        over=optional_size(facts.one("over"), "angle"),
        edges=neighbours.word_of("edges") if neighbours is not None else "",
        circle=_circle(builder, facts),
    )


def _circle(builder: Builder, facts: Facts) -> Quantity | None:
    placing = builder.layout.facts.of[facts.name]
    fact = placing.one(RingReading)
    if fact is None:
        return None
    thing = builder.entry(facts.need("of").refs("things")[0].name)
    read, (share, plus, u) = fact.reading, behind(placing, fact, thing)
    return Quantity(2.0 * share * (read.value + plus), 2.0 * share * u, read.standing, read.unit)
