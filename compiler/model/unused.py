"""Facts that nothing took: each is answered with what would make it count."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from ..diagnostics.types import Diagnostic, Severity
from ..facts import Claim
from .holes import Hole
from .taking import Facts
from .types import Body, Pattern, Thing
from .zones import Zone

Advice = tuple[str, ...]
_HEIGHT = ("flush with", "against", "raised")
_SIDES = ("left of", "right of", "above", "below", "beyond", "short of", "same side of", "roughly")


def unused_facts(
    statements: Iterable[tuple[Facts, Thing]], placed: set[tuple[str, str]]
) -> Iterator[Diagnostic]:
    """An error for each fact that neither the model took nor placed anything (`placed`: statement, line)."""
    for facts, thing in statements:
        for claim in facts.left():
            if (facts.name, claim.text) not in placed:
                yield Diagnostic(
                    "fact-unused",
                    Severity.ERROR,
                    f"`{claim.text}` does nothing for {thing.noun} `{thing.name}`",
                    claim.span,
                    advice=_advice(claim, thing),
                )


def _advice(claim: Claim, thing: Thing) -> Advice:
    """What the writer may have meant by it, most likely first."""
    word = claim.word
    if word in _HEIGHT and isinstance(thing, Hole):
        return (
            "a hole starts at the flat it is on: on body.front",
            "or say how deep it goes, and from which flat: deep 4.0 from front",
        )
    if word in _HEIGHT and isinstance(thing, Body):
        return (
            "it settles a height only where the flat lies along the plane that the body stands on",
            "put the body on that flat, or read its place on its own plane: from ...",
        )
    if word in _SIDES:
        return ("a side word picks one of several answers: here the place has only one, or lies elsewhere",)
    if isinstance(thing, Zone):
        return (
            "a zone is told by what it is on, its area and how much: on, along or collar or inside, by or to",
        )
    if isinstance(thing, Pattern):
        return ("a pattern is told by what it copies, how many, and their steps",)
    return ("take the line out, or say what it should change",)
