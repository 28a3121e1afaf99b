"""Is the pocket of a screw named for another screw than its hole?"""

from __future__ import annotations

import re

from ..diagnostics.types import Diagnostic, Label, Severity
from ..facts import Claim, Claims, Entry
from ..facts.needs import FIT_WORDS
from ..facts.pockets import MOUTHS, pocket_name

_NAMED = re.compile(r"[Mm]([0-9.]+)")


def other_screws(claims: Claims) -> list[Diagnostic]:
    """A warning for each counterbore or countersink that is for another screw than its hole lets through or
    takes.
    """
    return [told for entry in claims.of_kind("bore", "slot") for told in _mouth(entry)]


def _mouth(entry: Entry) -> list[Diagnostic]:
    mouth, hole = entry.one(*MOUTHS), entry.one(*FIT_WORDS) or entry.one("hex")
    if mouth is None or hole is None:
        return []
    here, there = _screw(mouth), _screw(hole)
    if not here or not there or here == there:
        return []
    said = (
        f"{entry.kind} `{entry.name}` is for M{there} (`{hole.text}`), "
        f"its {mouth.word} for M{here} (`{pocket_name(mouth)}`)"
    )
    advice = f"name the same screw in both lines: {mouth.text.replace(mouth.text.split()[1], f'M{there}', 1)}"
    return [
        Diagnostic(
            "other-screw",
            Severity.WARNING,
            said,
            mouth.span,
            others=(Label(hole.span, "the hole"),),
            advice=(advice,),
        )
    ]


def _screw(claim: Claim) -> str:
    """The size of the screw that a line names, without its M; '' where it names none."""
    named = claim.get("screw") or claim.get("mate")
    seen = _NAMED.match(named) if isinstance(named, str) else None
    return f"{float(seen[1]):g}" if seen else ""
