"""A row: copies at even steps along a way."""

from __future__ import annotations

from ...model.builder import Builder, optional_size
from ...model.patterns import pattern_fields
from ...model.taking import Facts
from ...model.types import Pattern, Size


class RowPattern(Pattern, frozen=True, kw_only=True):
    """A row: the step, or what was read over all of it."""

    pitch: Size | None
    over: Size | None


def make(builder: Builder, facts: Facts) -> RowPattern:
    """The row."""
    facts.all("along", "level", "upright", "angle")
    return RowPattern(
        **pattern_fields(builder, facts, int(facts.need("count").number("count"))),
        pitch=optional_size(facts.one("pitch"), "number"),
        over=optional_size(facts.one("over"), "readings"),
    )
