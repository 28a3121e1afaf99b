"""What all patterns have: the things they copy, and how many there are then."""

from __future__ import annotations

from typing import Any

from .builder import Builder
from .taking import Facts


def pattern_fields(builder: Builder, facts: Facts, total: int) -> dict[str, Any]:
    """The fields of a `Pattern`."""
    of = facts.need("of")
    return {**builder.thing(facts), "of": tuple(str(ref) for ref in of.refs("things")), "total": total}
