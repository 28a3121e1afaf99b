"""Is there a name that nothing speaks of and that makes no material?  Mostly a word left over, or one
mistyped elsewhere.
"""

from __future__ import annotations

from ..diagnostics.types import Diagnostic, Severity
from ..facts import Claims, Entry

_MAKE_NOTHING = ("arc", "line", "neighbour", "plane", "point", "rectangle", "round", "web")


def unused_names(claims: Claims) -> list[Diagnostic]:
    """A warning for each name of a shape, place or number that no other line uses; a note for a neighbour.

    A neighbour was measured, and its readings are worth keeping for the next who mends the thing.
    """
    idle = (*claims.lets, *claims.of_kind(*_MAKE_NOTHING))
    return [_unused(entry) for entry in idle if entry.name not in claims.spoken_of]


def _unused(entry: Entry) -> Diagnostic:
    use = {
        "let": "write its name where the number belongs, or take the line out",
        "web": "put it into a body: merge ..., " + entry.name,
        "rectangle": "put it into a body: merge ..., " + entry.name,
        "neighbour": "say what goes on or in it, such as: turns on " + entry.name,
        "plane": f"put something on it: on {entry.name}   or take it out",
    }.get(entry.kind, f"use it in an outline or a place: from {entry.name} ...   or take it out")
    said = f"nothing uses {entry.kind} `{entry.name}`, so it changes nothing in the part"
    severity = Severity.NOTE if entry.kind == "neighbour" else Severity.WARNING
    return Diagnostic("unused-name", severity, said, entry.span, advice=(use,))
