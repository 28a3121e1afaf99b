"""Does a statement say what its kind needs, and nothing twice?  What it needs, and which facts exclude one
another, stand in the table of line shapes beside its lines."""

from __future__ import annotations

from collections.abc import Iterable

from ..diagnostics.types import Diagnostic, Label, Severity
from ..kinds import traits
from ..language.shapes import kinds
from ..tree.types import Fact, Statement
from ..tree.writing import item_text
from .needs import BOX_WORDS

_TWO = {"flat": ("two flats opposite each other are read over both:  flats 6.5",)}


def typed(fact: Fact) -> str:
    """A line as it was typed, with single blanks."""
    return " ".join(item_text(one) for one in fact.items)


def distinct(statement: Statement, found: list[Diagnostic]) -> list[Fact]:
    """The facts of a statement, an identical line once (with a note), a single-valued one said twice
    answered.
    """
    kept: list[Fact] = []
    seen: dict[str, Fact] = {}
    by_word: dict[str, Fact] = {}
    for fact in statement.facts:
        text = typed(fact)
        if text in seen:
            said = f"`{text}` stands twice; it counts once"
            first = (Label(seen[text].span, "first here"),)
            found.append(Diagnostic("same-line-twice", Severity.NOTE, said, fact.span, others=first))
            continue
        seen[text] = fact
        if not fact.many and fact.word in by_word:
            found.append(_twice(statement, by_word[fact.word], fact))
            continue
        by_word[fact.word] = fact
        kept.append(fact)
    for words in _excludes(statement.kind):
        same = [fact for fact in kept if fact.word in words]
        found.extend(_twice(statement, same[0], fact) for fact in same[1:])
    return kept


def _excludes(kind: str) -> tuple[tuple[str, ...], ...]:
    return kinds()[kind].excludes if kind in kinds() else ()


def _twice(statement: Statement, first: Fact, second: Fact) -> Diagnostic:
    said = f"`{first.word}` of `{statement.name or statement.kind}` is said twice"
    if first.word != second.word:
        said = f"`{second.word}` and `{first.word}` of `{statement.name}` say the same thing in two ways"
    return Diagnostic(
        "said-twice",
        Severity.ERROR,
        said,
        second.span,
        others=(Label(first.span, "and here"),),
        advice=("keep one of the two lines", *_TWO.get(first.word, ())),
    )


def missing(statement: Statement, facts: Iterable[Fact]) -> list[Diagnostic]:
    """An error for each fact that a statement of its kind needs and does not have."""
    words = {fact.word for fact in facts}
    if traits(statement.kind).sizes:
        return _box_sizes(statement, words)
    needs = kinds()[statement.kind].needs if statement.kind in kinds() else ()
    return [
        Diagnostic(
            "fact-missing",
            Severity.ERROR,
            f"{statement.kind} `{statement.name}` does not say " + _either(need.words),
            statement.span,
            advice=(f"add a line such as: {need.example}",),
        )
        for need in needs
        if not words & set(need.words)
    ]


def _box_sizes(statement: Statement, words: set[str]) -> list[Diagnostic]:
    given = sum(word in words for word in (*BOX_WORDS, "reaches", "taper"))
    needed = traits(statement.kind).sizes
    said = "three" if needed == 3 else "two"
    if given == needed:
        return []
    headline = f"{statement.kind} `{statement.name}` needs {said} sizes and has {given}"
    order = "they run across, up and towards you" if needed == 3 else "they run across and up"
    last = " or ".join(f"`{word}`" for word in ("reaches", "taper") if word in words)
    advice = [f"{said} of long, wide, high{', thick' if needed == 3 else ''}: in this order {order}"]
    advice += [f"{last} stands for the last of them"] if last else []
    return [Diagnostic("fact-missing", Severity.ERROR, headline, statement.span, advice=tuple(advice))]


def _either(words: tuple[str, ...]) -> str:
    shown = [f"`{word}`" for word in words[:4]]
    return shown[0] if len(shown) == 1 else ", ".join(shown[:-1]) + " or " + shown[-1]
