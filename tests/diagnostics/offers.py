"""Lines that messages offer, taken out of their advice and typed into the recipe that got it.

A line to type stands behind a colon and two blanks; several ways stand apart by `or` between three blanks,
lines that go together by `and`; `...` is a number to read."""

from __future__ import annotations

import re
from collections.abc import Iterator

import makegood
from makegood.diagnostics.types import Diagnostic

READING = "12.3"
_OFFER = re.compile(r":  (\S.*)$")
_REMARK = re.compile(r"\s{2,}\(.*\)$")

ADDED = frozenset({"left-open", "two-places", "gap-in-turning", "which-side"})
"""Messages whose lines are written below the statement they speak of."""
REPLACED = frozenset({"side-word-wrong", "angle-sense", "which-edge"})
"""Messages whose line takes the place of the one they point at."""
NOT_UNDERSTOOD = frozenset(
    {"misshapen-line", "unknown-fact", "unknown-name", "unknown-part", "unknown-kind", "wrong-kind"}
    | {"not-a-number", "number-expected", "glued-number", "which-edge", "fact-unused"}
)


def offers(found: Diagnostic) -> Iterator[tuple[str, ...]]:
    """Each way out that a message offers, as the lines to type."""
    for advice in found.advice:
        match = _OFFER.search(advice)
        text = match.group(1) if match else advice if found.code == "side-word-wrong" else ""
        if found.code == "side-word-wrong" and "   or   " not in text:
            continue
        for way in re.split(r" {3}or {3}", text) if text else ():
            lines = [_REMARK.sub("", line).strip() for line in re.split(r" {3}and {3}", way)]
            yield tuple(line.replace("...", READING) for line in lines)


def typed(recipe: str, found: Diagnostic, lines: tuple[str, ...]) -> str:
    """The recipe with an offer typed where the message says."""
    assert found.span is not None
    rows = recipe.split("\n")
    at = found.span.line - 1
    if found.code in REPLACED:
        rows[at : at + 1] = [f"    {line}" for line in lines]
    else:
        while at > 0 and rows[at].startswith((" ", "\t")):
            at -= 1
        rows[at + 1 : at + 1] = [f"    {line}" for line in lines]
    return "\n".join(rows)


def unheard(recipe: str, found: Diagnostic, lines: tuple[str, ...]) -> str:
    """What is wrong with an offer once it is typed; '' where it is taken as it was meant."""
    after = makegood.compile_text(typed(recipe, found, lines)).diagnostics
    for one in after:
        if one.code in NOT_UNDERSTOOD and any(line in one.headline for line in lines):
            return f"{one.code}: {one.headline}"
    again = [one.headline for one in after if one.code == found.code]
    return f"said again: {found.headline}" if found.headline in again else ""
