"""What all patterns have: the things they copy, and how many there are then."""

from __future__ import annotations

from typing import Any

from .builder import Builder, rest_of
from .card import mention
from .taking import Facts


def pattern_fields(builder: Builder, facts: Facts, total: int) -> dict[str, Any]:
    """The fields of a `Pattern`."""
    of = facts.need("of")
    return {
        **builder.thing(facts),
        "of": tuple(mention(ref) for ref in of.refs("things")),
        "total": total,
        "steps": tuple(rest_of(claim) for claim in facts.entry.all("angle", "over", "pitch")),
    }
