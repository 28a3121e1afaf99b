"""Every slot of the table in a line of a recipe that compiles, and that recipe with something else there."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from makegood.diagnostics.types import Diagnostic, Span
from makegood.facts import Claim, state_tree
from makegood.facts.claims_builder import entries_of
from makegood.facts.readings import size_of
from makegood.language.items import Name, Phrase, Waypoint
from makegood.language.shapes import kinds
from makegood.language.slots import SlotType
from makegood.source import read_text
from makegood.tree import parse_rows

ROOT = Path(__file__).resolve().parents[2]
FILES = sorted([*(ROOT / "tests" / "parts" / "recipes").glob("*.mend"), *(ROOT / "examples").glob("*.mend")])


@dataclass(frozen=True)
class Filled:
    """A slot in a line of a recipe: of which kind and fact, its key and type, where it stands."""

    folder: Path
    recipe: str
    kind: str
    name: str
    word: str
    key: str
    slot: SlotType
    span: Span

    def with_(self, text: str, more: str = "") -> str:
        """The recipe with something else in the slot, and more statements behind."""
        lines = self.recipe.split("\n")
        line = lines[self.span.line - 1]
        lines[self.span.line - 1] = line[: self.span.start - 1] + text + line[self.span.end - 1 :]
        return "\n".join(lines) + more

    @property
    def has_a_give(self) -> bool:
        """True where the line says a give-or-take already."""
        return "+-" in self.recipe.split("\n")[self.span.line - 1]

    def __str__(self) -> str:
        return f"{self.kind} {self.word} {self.key}"


def claimed(text: str) -> tuple[dict[str, list[Claim]], tuple[Diagnostic, ...]]:
    """The claims of a recipe by the name of their statement ('': the recipe itself), and what is told."""
    source, unread = read_text(text, "part.mend")
    tree, _, unparsed = parse_rows(source)
    claims, unclear = state_tree(tree)
    entries = entries_of(tree, frozenset(kinds()), {})  # files that it brings in are not looked for here
    found = {entry.name: list(entry.claims) for entry in entries}
    found[""] = list(claims.recipe.claims) if claims.recipe else []
    return found, (*unread, *unparsed, *unclear)


@cache
def filled() -> tuple[Filled, ...]:
    """The first line of every recipe that fills a slot, for each slot of each kind's facts."""
    found: dict[tuple[str, str, str, str], Filled] = {}
    for path in FILES:
        text = path.read_text(encoding="utf-8")
        tree, _, _ = parse_rows(read_text(text, path.name)[0])
        for statement in tree.statements:
            for fact in statement.facts:
                for key, value in fact.values:
                    span = next(_spans(value), None) if key in fact.slots else None
                    if span is not None:
                        slot = fact.slots[key]
                        one = Filled(
                            path.parent, text, statement.kind, statement.name, fact.word, key, slot, span
                        )
                        found.setdefault((one.kind, one.word, key, slot.name), one)
    return tuple(found.values())


def _spans(value: object) -> Iterator[Span]:
    """Where the numbers and names of a value stand."""
    if (size := size_of(value)) is not None:
        yield from (reading.value.span for reading in size.readings)
    elif isinstance(value, Name):
        yield value.span
    elif isinstance(value, tuple):
        for one in value:
            if isinstance(one, Phrase):
                yield from (span for _, filler in one.values for span in _spans(filler))
            else:
                yield (one.thing if isinstance(one, Waypoint) else one).span


def numbers(*units: object, rule: str = "unit") -> list[Filled]:
    """The slots that hold a number of one of these units (or signs, with `rule="sign"`)."""
    return [
        one
        for one in filled()
        if one.slot.fill == "number" and one.slot.rule is not None and getattr(one.slot.rule, rule) in units
    ]


def things() -> list[Filled]:
    """The slots that speak of a thing."""
    return [one for one in filled() if one.slot.fill in ("thing", "things", "stops", "phrases")]


__all__ = ["Filled", "claimed", "filled", "numbers", "things"]
