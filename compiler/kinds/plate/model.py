"""A plate as it will be made: an outline drawn out of its plane by its thickness."""

from __future__ import annotations

from typing import ClassVar

from ...facts import Claim
from ...model.builder import Builder, optional_size, said_of
from ...model.sections import Belted, Chained, Merged, Outline, Walked
from ...model.stops import corners_of, rounds_of, shape_of, stop_of
from ...model.taking import Facts
from ...model.types import Corners, Prism, Said, Size


class Plate(Prism, frozen=True, kw_only=True):
    """A plate: its outline and the line that tells it, how far that is grown (shrunk: < 0) in mm, rounded
    corners, thickness (None: it tapers)."""

    outline: Outline
    outline_said: Said
    grown: float
    corners: tuple[Corners, ...]
    thick: Size | None

    makes: ClassVar[bool] = True


def make(builder: Builder, facts: Facts) -> Plate:
    """The plate.  Raises Trouble: 'not-placed', 'other-plane', 'unknown-part'."""
    fields = builder.prism(facts)
    plane = fields["plane"]
    grown = sum(
        claim.number("number") * (1 if claim.word == "grow" else -1) for claim in facts.all("grow", "shrink")
    )
    outline = facts.need("outline", "belt", "chain", "merge")
    return Plate(
        **fields,
        outline=_outline(builder, outline, plane),
        outline_said=said_of(outline),
        grown=grown,
        corners=corners_of(builder, facts.all("round inside", "round outside"), plane),
        thick=optional_size(facts.one("thick")),
    )


def _outline(builder: Builder, claim: Claim, plane: str) -> Outline:
    if claim.word == "outline":
        return Walked(tuple(stop_of(builder, each.thing, each.how, plane) for each in claim.passes("stops")))
    if claim.word == "merge":
        return Merged(tuple(shape_of(builder, ref, plane) for ref in claim.refs("things")))
    rounds = rounds_of(builder, claim, plane)
    return Belted(rounds) if claim.word == "belt" else Chained(rounds)
