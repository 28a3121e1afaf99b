"""Is the card's plastic one that the tables know?  Without it neither the mass nor a word on heat can be
given.
"""

from __future__ import annotations

from ..diagnostics.types import Diagnostic, Severity, Trouble
from ..model import Card
from ..quantities.tables import plastic

# What moulded parts are made of and filament hardly is, and what is printed instead (common practice, no
# source).
_GEARS = "printed gears and slides are mostly of nylon instead: write `plastic nylon`"
_INSTEAD = {"pom": _GEARS, "acetal": _GEARS}


def unknown_plastic(card: Card) -> list[Diagnostic]:
    """A warning where the card names a plastic that is in no table, with what may be meant."""
    named = card.plastic
    if named is None:
        return []
    try:
        plastic(named.text)
    except Trouble as trouble:
        said = f"{trouble.says}, so the part has no mass and no word on heat"
        advice = trouble.advice
        if len(advice) == 1:  # none is meant by a slip
            near = _INSTEAD.get(named.text.casefold(), "write the one that is nearest")
            advice += (f"{near}, or leave the line out: the shape stays the same",)
        return [Diagnostic("unknown-plastic", Severity.WARNING, said, named.span, advice=advice)]
    return []
