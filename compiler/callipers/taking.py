"""Rows of what was taken of the mesh, made from the numbers and facts of things."""

from __future__ import annotations

import math

from ..model import Thing
from ..model.stated import Number, PlacedBy, Said
from .types import ALLOWED, ALLOWED_ANGLE, Taken


def sized(
    thing: Thing, number: Number, found: float | None, why: str = "", meant: float | None = None
) -> Taken:
    """A number of a thing against what was found (mm); `meant`: what the mesh should have where a fit makes
    it other than the number as made; `why`: what makes it so, or why nothing was found.
    """
    size = number.size
    given = size.made.value if size.read is None else size.read.value
    wanted = size.value if meant is None else meant
    said = size.said
    return Taken(
        thing.name, thing.noun, said.text, said.span, number.key, given, wanted, found, ALLOWED, why=why
    )


def turned(thing: Thing, number: Number, found: float | None, why: str = "", same: float = 360.0) -> Taken:
    """An angle of a thing (degrees) against what was found; `same`: angles that differ by so much are the
    same.
    """
    value, said = number.size.value, number.size.said
    found = _nearest(value, found, same)
    return Taken(
        thing.name,
        thing.noun,
        said.text,
        said.span,
        number.key,
        value,
        value,
        found,
        ALLOWED_ANGLE,
        True,
        why,
    )


Seen = tuple[float | None, str]
"""What was found on the mesh (None: nothing), and why it is other than read or could not be found."""


def placed(thing: Thing, by: PlacedBy, key: str, given: float, seen: Seen, which: int = 0) -> Taken:
    """A reading of a place (mm) against what was found: it should be as all readings fitted together have it;
    `which` of the numbers of its fact it is.
    """
    claim, (found, why) = by.fact.claim, seen
    meant = given + by.residual(which)
    return Taken(thing.name, thing.noun, claim.text, claim.span, key, given, meant, found, ALLOWED, why=why)


def headed(thing: Thing, by: PlacedBy, given: float, seen: Seen, same: float = 360.0) -> Taken:
    """A reading of a direction (degrees) against what was found; `same`: directions that differ by so much
    are the same.
    """
    claim, (found, why) = by.fact.claim, seen
    meant = given + math.degrees(by.residual())
    return Taken(
        thing.name,
        thing.noun,
        claim.text,
        claim.span,
        "angle",
        given,
        meant,
        _nearest(meant, found, same),
        ALLOWED_ANGLE,
        True,
        why,
    )


def _nearest(meant: float, found: float | None, same: float) -> float | None:
    """An angle told so that it lies nearest to what was meant."""
    return None if found is None else meant + (found - meant + 0.5 * same) % same - 0.5 * same


def follows(thing: Thing, said: Said, key: str, meant: float, seen: Seen) -> Taken:
    """What follows from a line without a number of its own there (mm): the pitch of `thread M8`."""
    found, why = seen
    return Taken(thing.name, thing.noun, said.text, said.span, key, meant, meant, found, ALLOWED, why=why)
