"""Which of its two answers is an angle between two lines taken for?"""

from __future__ import annotations

from ..diagnostics.types import Diagnostic, Severity
from ..facts import Claims, Ref
from ..facts.types import SIDES

SQUARE = 90.0


def angle_senses(claims: Claims) -> list[Diagnostic]:
    """A note for each line `angle X to OTHER`: a protractor tells not which way it was turned.  None for a
    right angle, nor where the angle has its sign.
    """
    found = []
    for entry in claims.of_kind("line"):
        for claim in entry.all("angle"):
            other = claim.get("other")
            if not isinstance(other, Ref) or other.part in SIDES:
                continue
            angle = claim.number("angle")
            if angle <= 0.0 or abs(angle % SQUARE) < 1e-9:
                continue
            said = (
                f"`{claim.text}` turns line `{entry.name}` anticlockwise from `{other}`, as the page is seen"
            )
            advice = (f"turned the other way it is:  angle -{angle:g} to {other}",)
            found.append(Diagnostic("angle-sense", Severity.NOTE, said, claim.span, advice=advice))
    return found
