"""Is the card's plastic one that the tables know?  Without it neither the mass nor a word on heat can be
given.
"""

from __future__ import annotations

from ..diagnostics.types import Diagnostic, Severity, Trouble
from ..facts import Claims
from ..quantities.tables import plastic

# What moulded parts are made of and filament hardly is, and what is printed instead (common practice, no
# source).
_GEARS = "printed gears and slides are mostly of nylon instead: write `plastic nylon`"
_INSTEAD = {"pom": _GEARS, "acetal": _GEARS}


def unknown_plastic(claims: Claims) -> list[Diagnostic]:
    """A warning where the card names a plastic that is in no table, with what may be meant."""
    name = dict(claims.card).get("plastic")
    if not name:
        return []
    try:
        plastic(name)
    except Trouble as trouble:
        claim = claims.recipe.one("plastic") if claims.recipe is not None else None
        said = f"{trouble.says}, so the part has no mass and no word on heat"
        advice = trouble.advice
        if len(advice) == 1:  # none is meant by a slip
            near = _INSTEAD.get(name.casefold(), "write the one that is nearest")
            advice += (f"{near}, or leave the line out: the shape stays the same",)
        return [
            Diagnostic(
                "unknown-plastic", Severity.WARNING, said, claim.span if claim else None, advice=advice
            )
        ]
    return []
