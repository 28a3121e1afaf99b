"""Sizes of a gear as it is made, where they were read over its teeth."""

from __future__ import annotations

from ...diagnostics.types import Trouble
from ...facts import Claim, Claims, Entry, Measure
from ...facts.gears import gear_of
from ...quantities import Quantity


def made(entry: Entry, claim: Claim, value: Measure, claims: Claims) -> Quantity:
    """What was read over tips or over teeth, of the gear that the readings came to, its backlash taken
    off.
    """
    try:
        gear = gear_of(entry, claims).gear
    except Trouble:  # a wrong recipe: there is no gear, and its own message says why
        return value.made
    if claim.word == "span":
        size = value.made.value if gear.inside else gear.span(int(claim.number("over")))
    else:
        size = gear.over_tips
    return Quantity(size, 0.0, value.made.standing, value.made.unit)
