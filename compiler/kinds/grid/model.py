"""A grid: copies at even steps across and up."""

from __future__ import annotations

from ...model.builder import Builder, size_of
from ...model.patterns import pattern_fields
from ...model.taking import Facts
from ...model.types import Pattern, Size


class GridPattern(Pattern, frozen=True, kw_only=True):
    """A grid: how many across and up, and the steps."""

    across: int
    up: int
    step_across: Size
    step_up: Size


def make(builder: Builder, facts: Facts) -> GridPattern:
    """The grid."""
    count, pitch = facts.need("count"), facts.need("pitch")
    across, up = int(count.number("across")), int(count.number("up"))
    return GridPattern(
        **pattern_fields(builder, facts, across * up),
        across=across,
        up=up,
        step_across=size_of(pitch, "x"),
        step_up=size_of(pitch, "y"),
    )
