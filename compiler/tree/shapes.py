"""The table of fact shapes (`grammar/recipe.shapes`) read into elements that a line can be matched against.

The table is the language: the reference, the messages ("`deep` takes ...") and the matcher all come from it, so they
can't disagree.  A new kind of statement is a new paragraph there.
"""

from __future__ import annotations

import re
from functools import cache
from importlib.resources import files

from msgspec import Struct


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
    """One shape: its leading small words, its elements, whether it may be said more than once, how it is printed.

    `lead` counts the items of the first column in the tidy layout.
    """

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


@cache
def kinds() -> dict[str, Kind]:
    """Every kind of statement by its word, in the order of the table."""
    return _table()[0]


@cache
def group(name: str) -> tuple[Shape, ...]:
    """The shapes of a group of the table (`laid`: the phrases that say how the part lay)."""
    return _table()[1][name]


@cache
def _table() -> tuple[dict[str, Kind], dict[str, tuple[Shape, ...]]]:
    text = files("makegood.grammar").joinpath("recipe.shapes").read_text(encoding="utf-8")
    heads: dict[str, Shape] = {}
    parts: dict[str, list[Shape]] = {}
    current: list[Shape] = []
    for line in text.split("\n"):
        body = line.split("#")[0].rstrip()
        if not body:
            continue
        if not line[0].isspace():
            what, rest = body.split(" ", 1)
            current = []
            if what == "kind":
                head = read_shape(rest)
                heads[head.word] = head
                parts[head.word] = current
            else:
                parts[f"group {rest.strip()}"] = current
        elif body.split()[0] == "use":
            current.extend(parts[f"group {body.split()[1]}"])
        else:
            current.append(read_shape(body.strip()))
    found = {word: Kind(word, head, tuple(parts[word]), _by_first(parts[word])) for word, head in heads.items()}
    return found, {name.removeprefix("group "): tuple(s) for name, s in parts.items() if name.startswith("group ")}


def _by_first(shapes: list[Shape]) -> dict[str, tuple[Shape, ...]]:
    found: dict[str, list[Shape]] = {}
    for shape in shapes:
        first = shape.elements[0]
        for word in first.words if isinstance(first, Small) else ("",):
            found.setdefault(word, []).append(shape)
    return {word: tuple(some) for word, some in found.items()}


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
