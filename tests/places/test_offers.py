"""Every line that is offered to settle a place is typed into the recipe that got the offer, and understood.

The recipes are the short ones of `open_places.txt`, and every example with one placing line left out."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator
from pathlib import Path

import pytest
from makegood.diagnostics.types import Diagnostic
from makegood.facts import state_tree
from makegood.places import place_all
from makegood.source import read_text
from makegood.tree import parse_rows

ROOT = Path(__file__).parents[2]
CASES = Path(__file__).parent / "open_places.txt"
OFFERED = re.compile(
    r"^(?:a reading that would settle it|say which|or, at its right|in the middle of `[^`]+`): +(.*)$"
)
OR = re.compile(r"   or(?:, so far from there:)? +")
# what a line that was understood may still come to: it contradicts another, or more is open
PLACING = re.compile(r" +(?:from|at|level|plumb|midway|around|right|left|above|below)\b")
FINE = {"readings-disagree", "side-word-wrong", "two-places", "left-open"}
NUMBERS = {"...": "12.3", "X, Y": "3.1, 4.2"}
WHOLE = 120  # examples with a line left out that are tried, spread over all there are

SHORT = dict(re.findall(r"^=== (.*)\n((?:(?!===).*\n)*)", CASES.read_text(encoding="utf-8"), re.MULTILINE))


def answered(text: str) -> tuple[Diagnostic, ...]:
    """What is said of a text up to its places."""
    source, found = read_text(text, "t.mend")
    tree, _, unparsed = parse_rows(source)
    claims, unclear = state_tree(tree)
    return (*found, *unparsed, *unclear, *place_all(claims)[1])


def offers(said: tuple[Diagnostic, ...]) -> Iterator[tuple[int, list[str]]]:
    """Where each offer belongs (line of the statement's head), and its lines."""
    for one in said:
        if one.code in ("left-open", "two-places"):
            at = one.others[0].span if one.others else one.span
            assert at is not None
            for advice in one.advice:
                found = OFFERED.match(advice)
                for offer in OR.split(found[1]) if found else ():
                    yield at.line, re.split(r"   and   ", offer)


def typed(text: str, line: int, lines: list[str]) -> list[Diagnostic]:
    """Errors on the lines of an offer typed below the head of its statement, but for those of the places."""
    for mark, number in NUMBERS.items():
        lines = [one.replace(mark, number) for one in lines]
    rows = text.split("\n")
    made = [*rows[:line], *(f"    {one}" for one in lines), *rows[line:]]
    here = range(line + 1, line + 1 + len(lines))
    return [
        one
        for one in answered("\n".join(made))
        if one.is_error and one.span is not None and one.span.line in here and one.code not in FINE
    ]


def tried(name: str, text: str) -> tuple[int, Counter[str]]:
    """How many messages of a recipe offered something, and the first words of what was offered."""
    words: Counter[str] = Counter()
    for line, lines in offers(answered(text)):
        wrong = typed(text, line, lines)
        assert not wrong, (name, lines, wrong[0].code, wrong[0].headline)
        words.update(one.split()[0] for one in lines)
    return len(words), words


@pytest.mark.parametrize("name", SHORT)
def test_what_is_offered_in_a_short_recipe_can_be_typed(name: str):
    some, _ = tried(name, SHORT[name])
    assert some


def test_the_short_recipes_are_offered_everything_there_is_to_offer():
    first = {
        one.split()[0] for text in SHORT.values() for _, lines in offers(answered(text)) for one in lines
    }
    assert first >= {"from", "at", "upright", "on", "parallel", "square", "level", "right", "above", "below"}


def without_a_line() -> Iterator[tuple[str, str]]:
    """Examples with one indented line left out, and the name of each."""
    files = [
        *sorted((ROOT / "examples").glob("*.mend")),
        *sorted((ROOT / "tests/parts/recipes").glob("*.mend")),
    ]
    for path in files:
        rows = path.read_text(encoding="utf-8").split("\n")
        if any(row.startswith(("use ", "blank ")) for row in rows):
            continue  # other files are brought in before things are placed
        for number, row in enumerate(rows):
            if row.startswith("    ") and re.match(
                r" +(?:from|at|level|plumb|midway|around|right|left|above)\b", row
            ):
                yield f"{path.name}:{number + 1}", "\n".join([*rows[:number], *rows[number + 1 :]])


def test_what_is_offered_in_an_example_with_a_line_left_out_can_be_typed():
    every = list(without_a_line())
    words: Counter[str] = Counter()
    recipes = 0
    for name, text in every[:: max(1, len(every) // WHOLE)]:
        some, found = tried(name, text)
        recipes += bool(some)
        words += found
    assert recipes >= 40
    assert {"from", "right", "left", "level"} <= set(words)
