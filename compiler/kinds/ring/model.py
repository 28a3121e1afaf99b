"""A ring: copies at even angles round a middle."""

from __future__ import annotations

from ...facts import Claim
from ...facts.placing import RingReading
from ...model.builder import Builder, optional_size, said_of
from ...model.card import mention
from ...model.patterns import pattern_fields
from ...model.taking import Facts
from ...model.types import Mention, Pattern, Said, Size
from ...places.ring_rows import behind
from ...quantities import Quantity


class RingPattern(Pattern, frozen=True, kw_only=True):
    """A ring: the thing in its middle, the angle it goes over in degrees (None: all round), and by which
    reading its first copy was placed (between neighbours, with edges; or the pitch circle).

    `circle`: the diameter of the pitch circle as its reading tells it; None where nothing was read of it."""

    about: Mention
    over: Size | None
    next_to: Size | None
    edges: str
    pitch_circle: Size | None
    placed_by: Said | None
    circle: Quantity | None


def make(builder: Builder, facts: Facts) -> RingPattern:
    """The ring."""
    neighbours, circle = facts.one("from next"), facts.one("pitch circle")
    by: Claim | None = circle if circle is not None else neighbours
    return RingPattern(
        **pattern_fields(builder, facts, int(facts.need("count").number("count"))),
        about=mention(facts.need("about").ref("thing")),
        over=optional_size(facts.one("over"), "angle"),
        next_to=optional_size(neighbours, "readings"),
        edges=neighbours.word_of("edges") if neighbours is not None else "",
        pitch_circle=optional_size(circle, "readings"),
        placed_by=None if by is None else said_of(by),
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
