"""Bodies that come from a file: the finished part of another recipe, or a mesh."""

from __future__ import annotations

from typing import ClassVar

from ..diagnostics.types import Trouble
from ..facts.extents import half
from ..imports.types import HeldThing
from ..quantities.vectors import XY, Vector
from .builder import Builder
from .taking import Facts
from .types import Body


class Brought(Body, frozen=True, kw_only=True):
    """A body from a file: half-sizes of its box on its plane; `scanned`: a mesh that was read, not the
    finished part of another recipe; `box`: its size; `held`: what the other recipe names, with its place;
    `wound`: it has threads or marks."""

    half: XY
    scanned: bool
    box: Vector
    held: tuple[tuple[str, HeldThing], ...]
    wound: bool

    @property
    def handed(self) -> bool:
        """Whether threads or marks came with it."""
        return self.wound

    straight_sided: ClassVar[bool] = True


_TOLD = (
    *("file", "with", "datum", "long", "wide", "thick", "unit", "repair", "grow", "shrink"),
    *("lies on", "turned"),
)


def make_brought(builder: Builder, facts: Facts) -> Brought:
    """The body.  Raises Trouble('not-placed')."""
    fields = builder.body(facts)
    if fields["spot"] is None:
        raise Trouble("not-placed", f"`{facts.name}` is not placed", (facts.name,))
    facts.all(*_TOLD)
    scanned = facts.entry.kind == "blank"
    imported = builder.claims.imported[facts.name]
    return Brought(
        **fields,
        half=half(facts.entry, made=True),
        scanned=scanned,
        box=imported.box,
        held=tuple(sorted(imported.held.items())),
        wound=imported.wound,
    )
