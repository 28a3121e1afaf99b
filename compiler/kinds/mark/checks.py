"""Is a letter's thinnest stroke too thin to print?"""

from __future__ import annotations

import math
from collections.abc import Iterator

from ...checks.openings import Survey
from ...diagnostics.types import Diagnostic, Severity
from ...outlines.letters import thinnest
from .model import Mark

RAISED, SUNK = 0.4, 0.5
"""The least stroke (mm) that a nozzle of 0.4 lays, and the least gap it leaves open (common practice, no
source).
"""


def ask(scene: Survey, mark: Mark) -> Iterator[Diagnostic]:
    """A warning for a mark whose letters have strokes thinner than prints."""
    if not mark.text:
        return
    share, least = thinnest(mark.text), RAISED if mark.sunk is None else SUNK
    stroke = share * mark.tall.value
    if stroke < least - 1e-9:
        how = "raised" if mark.sunk is None else "sunk"
        said = (
            f"the thinnest stroke of mark `{mark.name}` is {stroke:.2f}, and {how} letters need {least:g} to "
            "print"
        )
        high = math.ceil(10.0 * least / share) / 10.0
        advice = (f"high {high:g}   or more", "capitals and figures have the thickest strokes")
        yield Diagnostic("thin-stroke", Severity.WARNING, said, mark.tall.said.span, advice=advice)
