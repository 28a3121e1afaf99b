"""A mirrored copy about a line or plane."""

from __future__ import annotations

from ...model.builder import Builder
from ...model.patterns import pattern_fields
from ...model.taking import Facts
from ...model.types import Pattern


class MirrorPattern(Pattern, frozen=True, kw_only=True):
    """A mirrored copy: what it is mirrored about."""

    about: str


def make(builder: Builder, facts: Facts) -> MirrorPattern:
    """The mirrored copy."""
    return MirrorPattern(**pattern_fields(builder, facts, 2), about=str(facts.need("about").ref("thing")))
