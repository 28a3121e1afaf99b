"""Is the pocket of a screw named for another screw than its hole?"""

from __future__ import annotations

import re

from ..diagnostics.types import Diagnostic, Label, Severity
from ..model import Model
from ..model.holes import Hole

_NAMED = re.compile(r"[Mm]([0-9.]+)")


def other_screws(model: Model) -> list[Diagnostic]:
    """A warning for each counterbore or countersink that is for another screw than its hole lets through or
    takes.
    """
    return [told for hole in model.of(Hole) for told in _mouth(hole)]


def _mouth(hole: Hole) -> list[Diagnostic]:
    mouth, own = hole.mouth, hole.named_for
    if mouth is None or own is None:
        return []
    here, there = _screw(mouth.screw), _screw(own.screw)
    if not here or not there or here == there:
        return []
    said = (
        f"{hole.noun} `{hole.name}` is for M{there} (`{own.said.text}`), "
        f"its {mouth.said.word} for M{here} (`{mouth.called}`)"
    )
    text = mouth.said.text
    advice = f"name the same screw in both lines: {text.replace(text.split()[1], f'M{there}', 1)}"
    return [
        Diagnostic(
            "other-screw",
            Severity.WARNING,
            said,
            mouth.said.span,
            others=(Label(own.said.span, "the hole"),),
            advice=(advice,),
        )
    ]


def _screw(named: str) -> str:
    """The size of a screw without its M; '' for what is none."""
    seen = _NAMED.match(named)
    return f"{float(seen[1]):g}" if seen else ""
