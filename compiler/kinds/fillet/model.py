"""A fillet as it will be made: a hollow in the corner of two flats."""

from __future__ import annotations

from ...model.builder import Builder, size_of
from ...model.corners import CornerFill, corner_of
from ...model.taking import Facts
from ...model.types import Size


class Fillet(CornerFill, frozen=True, kw_only=True):
    """A fillet: its corner, its radius."""

    radius: Size


def make(builder: Builder, facts: Facts) -> Fillet:
    """The fillet.  Raises Trouble: 'not-placed', 'flat-corner', 'wrong-kind'."""
    corner, _ = corner_of(builder, facts)
    return Fillet(**builder.body(facts), corner=corner, radius=size_of(facts.need("radius")))
