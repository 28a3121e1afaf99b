"""A strip as it will be made: one thickness bent along a path."""

from __future__ import annotations

from typing import ClassVar

from ...model.builder import Builder, optional_size, said_of, size_of
from ...model.sections import PointAt, RoundAt
from ...model.stops import corner_of
from ...model.taking import Facts
from ...model.types import Prism, Said, Size


class Strip(Prism, frozen=True, kw_only=True):
    """A strip: the stops of its path and the line that tells them, which of its faces lies on the path
    (outside, inside, middle), how thick and how wide it is, the radius inside its bends (None: sharp)."""

    stops: tuple[PointAt | RoundAt, ...]
    path_said: Said
    side: str
    side_said: Said | None
    thick: Size
    wide: Size
    turns_inside: Size | None

    makes: ClassVar[bool] = True


def make(builder: Builder, facts: Facts) -> Strip:
    """The strip.  Raises Trouble: 'not-placed', 'other-plane', 'unknown-part'."""
    fields = builder.prism(facts)
    path, lies = facts.need("path"), facts.one("on path")
    stops = tuple(
        corner_of(builder, each.thing, each.how == "inside", fields["plane"]) for each in path.passes("stops")
    )
    return Strip(
        **fields,
        stops=_ended(stops),
        path_said=said_of(path),
        side=lies.word_of("side") if lies is not None else "middle",
        side_said=None if lies is None else said_of(lies),
        thick=size_of(facts.need("thick")),
        wide=size_of(facts.need("wide")),
        turns_inside=optional_size(facts.one("turns inside")),
    )


def _ended(stops: tuple[PointAt | RoundAt, ...]) -> tuple[PointAt | RoundAt, ...]:
    """A strip begins and ends at a place: of a round or hole that is its centre."""
    ends = {0, len(stops) - 1}
    return tuple(
        PointAt(stop.name, stop.owner, stop.at) if k in ends and isinstance(stop, RoundAt) else stop
        for k, stop in enumerate(stops)
    )
