"""A rim as it will be made: a wall that follows the outline of a plate, block or strip."""

from __future__ import annotations

from typing import ClassVar

from ...model.builder import Builder, optional_size, size_of
from ...model.taking import Facts
from ...model.types import Body, Size


class Rim(Body, frozen=True, kw_only=True):
    """A rim: the body whose outline it follows, how thick its wall is, how tall, how far (mm) inside the
    outline.
    """

    follows: str
    thick: Size
    tall: Size
    inset: Size | None

    makes: ClassVar[bool] = True

    @property
    def stood_on(self) -> bool:
        """A rim has no flat to stand on."""
        return False


def make(builder: Builder, facts: Facts) -> Rim:
    """The rim.  Raises Trouble('not-placed')."""
    on = facts.need("on")
    return Rim(
        **builder.body(facts),
        follows=on.ref("thing").name,
        thick=size_of(facts.need("thick")),
        tall=size_of(facts.need("high")),
        inset=optional_size(facts.one("inset"), "number"),
    )
