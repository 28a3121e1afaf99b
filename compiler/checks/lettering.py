"""Is a letter's thinnest stroke too thin to print, or does a mark run out over the edge of its flat?"""

from __future__ import annotations

import math

from ..diagnostics.types import Diagnostic, Severity
from ..facts import Claims
from ..facts.mark_sizes import said

RAISED, SUNK = 0.4, 0.5
"""The least stroke (mm) that a nozzle of 0.4 lays, and the least gap it leaves open (common practice, no
source).
"""


def thin_strokes(claims: Claims) -> list[Diagnostic]:
    """A warning for each mark whose letters have strokes thinner than prints."""
    found = []
    for entry in claims.of_kind("mark"):
        claim, text = entry.one("high"), said(entry)
        if claim is None or not text:
            continue
        from ..outlines.letters import thinnest

        share, least = thinnest(text), SUNK if entry.has("sunk") else RAISED
        stroke = share * claim.number("size")
        if stroke < least - 1e-9:
            told = (
                f"the thinnest stroke of mark `{entry.name}` is "
                f"{stroke:.2f}, and {'sunk' if least == SUNK else 'raised'} "
            )
            told += f"letters need {least:g} to print"
            high = math.ceil(10.0 * least / share) / 10.0
            advice = (f"high {high:g}   or more", "capitals and figures have the thickest strokes")
            found.append(Diagnostic("thin-stroke", Severity.WARNING, told, claim.span, advice=advice))
    return found
