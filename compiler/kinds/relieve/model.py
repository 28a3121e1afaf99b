"""A zone that takes material off its body."""

from __future__ import annotations

from ...model.builder import Builder
from ...model.taking import Facts
from ...model.zones import Zone, zone_fields


class Relieve(Zone, frozen=True, kw_only=True):
    """A relieved zone."""


def make(builder: Builder, facts: Facts) -> Relieve:
    """The zone.  Raises Trouble as `zone_fields` does."""
    return Relieve(**zone_fields(builder, facts))
