"""Which of its two answers is an angle between two lines taken for?"""

from __future__ import annotations

from ..diagnostics.types import Diagnostic, Severity
from ..model import Model
from ..model.things import DatumLine

SQUARE = 90.0


def angle_senses(model: Model) -> list[Diagnostic]:
    """A note for each line told by its angle to another one: a protractor tells not which way it was turned.
    None for a right angle, nor where the angle has its sign.
    """
    found = []
    for line in model.of(DatumLine):
        for turned in line.turned_from:
            if turned.angle <= 0.0 or abs(turned.angle % SQUARE) < 1e-9:
                continue
            said = (
                f"`{turned.said.text}` turns line `{line.name}` anticlockwise from `{turned.other}`, "
                "as the page is seen"
            )
            advice = (f"turned the other way it is:  angle -{turned.angle:g} to {turned.other}",)
            found.append(Diagnostic("angle-sense", Severity.NOTE, said, turned.said.span, advice=advice))
    return found
