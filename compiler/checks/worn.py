"""Is a worn size copied as it is?  A worn hole is too large and a worn peg too small: the spare would be born
worn.
"""

from __future__ import annotations

from ..diagnostics.types import Diagnostic, Severity
from ..model import Model, Thing
from ..model.types import Number


def copied_wear(model: Model) -> list[Diagnostic]:
    """A warning for each size of the part that was read at a worn place and is made as it was read."""
    return [
        _copied(thing, number)
        for thing in model.things.values()
        if thing.makes
        for number in thing.numbers
        if any("worn" in reading.conditions for reading in number.taken) and _as_read(number)
    ]


def _as_read(number: Number) -> bool:
    """True where the size is made as it was read: no `made` or `wanted`, and no fit word that settles it."""
    return number.is_size and number.size.read == number.size.made and not number.fitted


def _copied(thing: Thing, number: Number) -> Diagnostic:
    said = number.size.said
    advice = []
    if number.ends_line:
        advice.append(f"say what it should be: {said.text} made ...")
    elif number.may_be_made:
        advice.append("say behind the reading what it should be: made ...")
    if thing.must_fit:
        advice.append("or say what it is for: turns on 6.0, slides on 6.0, clears M4")
    return Diagnostic(
        "worn-copied",
        Severity.WARNING,
        f"the worn size of `{thing.name}` is copied: {said.text}",
        said.span,
        advice=tuple(advice),
    )
