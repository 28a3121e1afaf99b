"""Does the card speak of something that calls for a word of caution?

The words of the card are looked up phrase by phrase (`caution_words`), whole words only, so that a gasket is
no gas and breakage no brake.  `no`, `not`, `non` and `without` before a phrase take it back.  One note a
topic.  Nothing is said of strength: the compiler knows none."""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import cache

from ..diagnostics.types import Diagnostic, Severity, Span, Trouble
from ..mesh.types import Part
from ..model import Card
from ..model.card import CardLine
from ..quantities.tables import Plastic, plastic
from .caution_words import GLUES_WITH_FUMES, HARMLESS, SMALL_CHILD, SOLVENT_PLASTICS, TOPICS
from .small_part import fits_small_parts_cylinder

A_PERSON = 500.0
"""A load (N) from which on it may be a person's: about 50 kg (common practice, no source)."""
NEAR = 15.0
"""How near (K) to softening a plastic is called soft (common practice, no source)."""
_WORD = re.compile(r"[^\W_]+(?:'[^\W_]+)?")
_HOT = re.compile(r"(\d{2,3}) ?(?:°|deg(?:rees)?)? ?(?:C|celsius)\b")
_NOT = frozenset({"no", "not", "non", "without"})


def cautions(card: Card, part: Part | None) -> list[Diagnostic]:
    """A note for each topic that the card calls for, in the order of the topics."""
    lines = [CardLine("", card.title, card.span), *card.lines]
    called = _called(lines)
    heaviest = max(card.loads, key=lambda load: load.force, default=None)
    if heaviest is not None and heaviest.force >= A_PERSON:
        called.setdefault("weight", (f"{heaviest.force:.0f} N", heaviest.said.span))
    made_of = _plastic(card)
    if made_of is not None and made_of.name in SOLVENT_PLASTICS:
        _also("fumes", GLUES_WITH_FUMES, lines, called)
    small = _is_small(part, lines, "toy" in called)
    if small:
        _also("toy", SMALL_CHILD, lines, called)
    return [_note(topic, *called[topic], lines, made_of, small) for topic in TOPICS if topic in called]


def _called(lines: list[CardLine]) -> dict[str, tuple[str, Span | None]]:
    """Topic -> the phrase that called for it and where; the first line of the card that does."""
    called: dict[str, tuple[str, Span | None]] = {}
    for line in lines:
        for phrase, topics in phrases_in(line.text):
            for topic in topics:
                called.setdefault(topic, (phrase, line.span))
    return called


@cache
def _phrases() -> dict[tuple[str, ...], tuple[str, ...]]:
    found: dict[tuple[str, ...], tuple[str, ...]] = {tuple(one.split()): () for one in HARMLESS}
    for name, topic in TOPICS.items():
        for phrase in topic.phrases:
            words = tuple(phrase.split())
            found[words] = (*found.get(words, ()), name)
    return found


def phrases_in(text: str) -> Iterator[tuple[str, tuple[str, ...]]]:
    """The phrases of the table that stand in a text, longest first at each place, each with its topics."""
    table = _phrases()
    words = _words(text)
    at = 0
    while at < len(words):
        for size in (4, 3, 2, 1):
            run = tuple(words[at : at + size])
            known = next((one for one in _singulars(run) if len(run) == size and one in table), None)
            if known is not None:
                if not (at and words[at - 1] in _NOT):
                    yield " ".join(run), table[known]
                at += size - 1
                break
        at += 1


def _words(text: str) -> list[str]:
    return [one.removesuffix("'s") for one in _WORD.findall(text.casefold().replace("\u2019", "'"))]


def _singulars(run: tuple[str, ...]) -> Iterator[tuple[str, ...]]:
    yield run
    if run and run[-1].endswith("s"):
        yield (*run[:-1], run[-1][:-1])
        if run[-1].endswith("es"):
            yield (*run[:-1], run[-1][:-2])


def _also(
    topic: str, calls: tuple[str, ...], lines: list[CardLine], called: dict[str, tuple[str, Span | None]]
) -> None:
    """A topic called for by words that call for it only here."""
    for line in lines:
        for word in _words(line.text):
            if word in calls or word.removesuffix("s") in calls:
                called.setdefault(topic, (word, line.span))


def _is_small(part: Part | None, lines: list[CardLine], asked: bool) -> bool:
    """True for a part that can be swallowed; looked at only where the card speaks of toys or small
    children.
    """
    words = {word.removesuffix("s") for line in lines for word in _words(line.text)}
    if part is None or not (asked or words & set(SMALL_CHILD)):
        return False
    return fits_small_parts_cylinder(part.mesh.points)


def _plastic(card: Card) -> Plastic | None:
    try:
        return plastic(card.plastic.text) if card.plastic is not None else None
    except Trouble:
        return None


def _note(
    topic: str, phrase: str, span: Span | None, lines: list[CardLine], made_of: Plastic | None, small: bool
) -> Diagnostic:
    said, advice = TOPICS[topic], [TOPICS[topic].do]
    if topic == "heat" and made_of is not None:
        advice.insert(0, _softens(made_of, lines))
    if topic == "toy" and small:
        advice.insert(
            0,
            "this part fits into the small-parts cylinder (31.7 mm across): nothing for a child under three",
        )
    headline = f"take care, this is about {said.about} (`{phrase}`): {said.why}"
    return Diagnostic("caution", Severity.NOTE, headline, span, advice=tuple(advice))


def _softens(made_of: Plastic, lines: list[CardLine]) -> str:
    low = made_of.softens[0]
    hottest = max((float(hot) for line in lines for hot in _HOT.findall(line.text)), default=None)
    if hottest is None:
        return f"{made_of.name} softens from about {low:.0f} C on"
    if hottest >= low - NEAR:
        return (
            f"{made_of.name} softens from about {low:.0f} C on, "
            f"which is too near to the {hottest:.0f} C of the card"
        )
    return f"{made_of.name} softens from about {low:.0f} C on, the card says {hottest:.0f} C"
