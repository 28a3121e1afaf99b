"""The table of fact shapes read into elements that a line can be matched against.

The table is `grammar/recipe.shapes` and the `lines.shapes` of each kind in `kinds`.  It is the language: the
reference, the messages ("`deep` takes ...") and the matcher all come from it, so they can't disagree."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from functools import cache

from msgspec import Struct

from ..kinds import shape_texts
from .grammar_files import grammar_text


class Small(Struct, frozen=True):
    """One of some small words that stand as they are; with a key, which of them it was is kept."""

    words: tuple[str, ...]
    key: str | None = None


class Sign(Struct, frozen=True):
    """A comma or an equals sign."""

    mark: str


class Slot(Struct, frozen=True):
    """A place for the writer to fill: what may stand there, and the key the compiler knows it by."""

    type: str
    key: str


class Optional(Struct, frozen=True):
    """Elements that may be left out together."""

    elements: tuple[Element, ...]


Element = Small | Sign | Slot | Optional


class Shape(Struct, frozen=True):
    """One shape: its leading small words, its elements, whether it may be said more than once, how it is
    printed.

    `lead` counts the items of the first column in the tidy layout."""

    word: str
    elements: tuple[Element, ...]
    many: bool
    lead: int
    text: str


class Kind(Struct, frozen=True):
    """A kind of statement: the shape of its head, and its facts by their possible first words."""

    word: str
    head: Shape
    facts: tuple[Shape, ...]
    by_first: dict[str, tuple[Shape, ...]]


_PIECE = re.compile(r"\[|\]|~|,|=|[^\s\[\],=~]+")


class Kinds(Mapping[str, Kind]):
    """Every kind of statement by its word, in the order of the table; each is read when it is first asked
    for.
    """

    def __init__(self, heads: dict[str, str], lines: dict[str, list[str]]) -> None:
        self._heads, self._lines = heads, lines
        self._read: dict[str, Kind] = {}

    def __getitem__(self, word: str) -> Kind:
        if word not in self._read:
            facts = tuple(map(read_shape, self._lines[word]))
            self._read[word] = Kind(word, read_shape(self._heads[word]), facts, _by_first(facts))
        return self._read[word]

    def __contains__(self, word: object) -> bool:
        return word in self._heads

    def __iter__(self) -> Iterator[str]:
        return iter(self._heads)

    def __len__(self) -> int:
        return len(self._heads)


def kinds() -> Kinds:
    """Every kind of statement by its word, in the order of the table."""
    return _table()[0]


@cache
def group(name: str) -> tuple[Shape, ...]:
    """The shapes of a group of the table (`laid`: the phrases that say how the part lay)."""
    return tuple(map(read_shape, _table()[1][name]))


def table_text() -> str:
    """The whole table as it is written: its file, and the lines of the kinds that stand in a folder of their
    own.
    """
    return "\n".join((grammar_text("recipe.shapes"), *shape_texts()))


@cache
def _table() -> tuple[Kinds, dict[str, list[str]]]:
    heads: dict[str, str] = {}
    parts: dict[str, list[str]] = {}
    groups: dict[str, list[str]] = {}
    current: list[str] = []
    for line in table_text().split("\n"):
        body = line.split("#")[0].rstrip()
        if not body:
            continue
        what, _, rest = body.strip().partition(" ")
        if not line[0].isspace():
            current = []
            word = rest.split()[0]
            if what == "kind":
                heads[word], parts[word] = rest, current
            else:
                groups[word] = current
        elif what == "use":
            current.extend(groups[rest.strip()])
        else:
            current.append(body.strip())
    return Kinds(heads, parts), groups


def _by_first(shapes: Iterable[Shape]) -> dict[str, tuple[Shape, ...]]:
    found: dict[str, list[Shape]] = {}
    for shape in shapes:
        first = shape.elements[0]
        for word in first.words if isinstance(first, Small) else ("",):
            found.setdefault(word, []).append(shape)
    return {word: tuple(some) for word, some in found.items()}


@cache
def read_shape(text: str) -> Shape:
    """Read one shape of the table, such as `from THING ~ [near|far:edges] READINGS`."""
    many = text.startswith("* ")
    text = text.removeprefix("* ").strip()
    pieces: list[str] = _PIECE.findall(text)
    lead = pieces.index("~") if "~" in pieces else 0
    elements = _elements(iter([piece for piece in pieces if piece != "~"]))
    leading: list[str] = []
    for element in elements:
        if not isinstance(element, Small) or (element.key and leading):
            break
        if element.key is None:
            leading.append(element.words[0])
    word = " ".join(leading)
    shown = re.sub(r":[a-z]+", "", " ".join(text.replace("~", " ").split())).replace(" ,", ",")
    return Shape(word, elements, many, lead or max(1, len(leading)), shown)


def _elements(pieces: object) -> tuple[Element, ...]:
    found: list[Element] = []
    for piece in pieces:  # type: ignore[attr-defined]
        if piece == "]":
            break
        if piece == "[":
            found.append(Optional(_elements(pieces)))
        elif piece in ",=":
            found.append(Sign(piece))
        elif piece.split(":")[0].isupper():
            slot, _, key = piece.partition(":")
            found.append(Slot(slot, key or slot.lower()))
        else:
            words, _, key = piece.partition(":")
            found.append(Small(tuple(words.split("|")), key or (words if "|" in words else None)))
    return tuple(found)
