"""What gears and racks have in common to be told: a module in no series, a pair that mesh badly."""

from __future__ import annotations

import math

from ..diagnostics.types import Diagnostic, Severity, Span

LEAST_CONTACT = 1.2
"""Common practice, no source: below 1 a tooth lets go before the next one holds."""
MORE_TEETH = "more teeth on the wheel, where there is room for them"


def module_as_read(says: str, nearest: float, what: str, span: Span) -> Diagnostic:
    """The note on a module that is in no series; `nearest`: that of ISO 54, `what`: gear or rack."""
    over = f" (pitch {10.0 * math.pi * nearest:.2f} over 10)" if what == "rack" else ""
    near = f"{nearest:g} of ISO 54{over} is the nearest: check the reading if the {what} is a bought one"
    return Diagnostic("module-as-read", Severity.NOTE, says, span, advice=(near,))


def poor_contact(
    pair: str, ratio: float, span: Span, closer: str = "centres closer together, or more teeth"
) -> list[Diagnostic]:
    """The warning on a pair of which too few teeth hold each other at a time; `ratio`: how many do."""
    if ratio >= LEAST_CONTACT:
        return []
    says = f"{pair} hold each other by {ratio:.2f} teeth on the average: they will run rough or skip"
    advice = (f"{closer}; that leaning teeth help is not counted",)
    return [Diagnostic("mesh-poor", Severity.WARNING, says, span, advice=advice)]
