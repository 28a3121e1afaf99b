"""A notch as it will be made."""

from __future__ import annotations

from typing import ClassVar

from ...facts.extents import box_claims, half
from ...model.builder import Builder, size_of
from ...model.holes import Hole, hole_fields
from ...model.sections import BoxSection
from ...model.taking import Facts
from ...model.types import Centre


class Notch(Hole, frozen=True, kw_only=True):
    """A notch."""

    section: BoxSection

    centre: ClassVar[Centre] = Centre.CROSS
    straight_sided: ClassVar[bool] = True


def make(builder: Builder, facts: Facts) -> Notch:
    """The notch.  Raises Trouble as `hole_fields` does."""
    fields = hole_fields(builder, facts)
    facts.all("long", "wide", "high", "turned")
    rounds = tuple(size_of(claim, "number") for claim in facts.all("round inside"))
    return Notch(
        **fields,
        section=BoxSection(half(facts.entry, made=True), fields["spot"].turn, rounds),
        size=None,
        sizes=tuple((claim.word, size_of(claim)) for claim in box_claims(facts.entry)[:2]),
        mouth=None,
    )
