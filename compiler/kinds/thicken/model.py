"""A zone that thickens its body."""

from __future__ import annotations

from ...model.builder import Builder
from ...model.taking import Facts
from ...model.zones import Zone, zone_fields


class Thicken(Zone, frozen=True, kw_only=True):
    """A thickened zone."""

    @property
    def adds(self) -> bool:
        """It adds material."""
        return True


def make(builder: Builder, facts: Facts) -> Thicken:
    """The zone.  Raises Trouble as `zone_fields` does."""
    return Thicken(**zone_fields(builder, facts))
