"""A mark as it will be made: a text or an arrow that stands out of a flat or is sunk into it."""

from __future__ import annotations

from typing import ClassVar

from ...model.builder import Builder, optional_size, size_of
from ...model.taking import Facts
from ...model.types import Size, Thing
from .sizes import said


class Mark(Thing, frozen=True, kw_only=True):
    """A mark: what it says ('' : an arrow), how high its letters are, the flat it is on, how far it is raised
    or sunk.

    `body` is '' where it is on nothing that is a flat or side."""

    text: str
    arrow: bool
    tall: Size
    on: str
    body: str
    part: str
    raised: Size | None
    sunk: Size | None

    straight_sided: ClassVar[bool] = True
    lettered: ClassVar[bool] = True

    @property
    def handed(self) -> bool:
        """Letters and arrows are turned over in a mirror."""
        return True


def make(builder: Builder, facts: Facts) -> Mark:
    """The mark."""
    on = facts.need("on").ref("thing")
    facts.all("turned", "says")
    return Mark(
        **builder.thing(facts),
        text=said(facts.entry),
        arrow=facts.flag("arrow"),
        tall=size_of(facts.need("high")),
        on=str(on),
        body=on.name if on.part else "",
        part=on.part,
        raised=optional_size(facts.one("raised"), "number"),
        sunk=optional_size(facts.one("sunk"), "number"),
    )
