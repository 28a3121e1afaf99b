"""The table of line shapes read into elements that a line can be matched against.

The table is `grammar/recipe.shapes` and the `lines.shapes` of each kind in `kinds`.  It is the language: the
reference, the messages ("`deep` takes ...") and the matcher all come from it, so they can't disagree.  What a
kind needs and which of its facts exclude one another stand beside its lines."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from functools import cache

from msgspec import Struct, field

from ..kinds import shape_texts
from .grammar_files import grammar_text
from .slots import DECLARES, PLAIN_SLOTS, SlotType, read_slot


class Small(Struct, frozen=True):
    """One of some small words that stand as they are; with a key, which of them it was is kept."""

    words: tuple[str, ...]
    key: str | None = None


class Sign(Struct, frozen=True):
    """A comma or an equals sign."""

    mark: str


class Slot(Struct, frozen=True):
    """A place for the writer to fill: what may stand there, and the key the compiler knows it by.

    `single`: a comma follows in the line, so no list of readings may stand here."""

    type: SlotType
    key: str
    single: bool = False


class Optional(Struct, frozen=True):
    """Elements that may be left out together."""

    elements: tuple[Element, ...]


Element = Small | Sign | Slot | Optional


class Shape(Struct, frozen=True):
    """One shape: its leading small words, its elements, whether it may be said more than once, how it is
    printed, and the types of its slots by their keys.

    `lead` counts the items of the first column in the tidy layout."""

    word: str
    elements: tuple[Element, ...]
    many: bool
    lead: int
    text: str
    slots: dict[str, SlotType]


class Need(Struct, frozen=True):
    """Facts of which a statement must have one, and what to write where it has none."""

    words: tuple[str, ...]
    example: str


class Kind(Struct, frozen=True):
    """A kind of statement: the shape of its head, its facts by their possible first words, what it needs, and
    groups of facts of which it may have one."""

    word: str
    head: Shape
    facts: tuple[Shape, ...]
    by_first: dict[str, tuple[Shape, ...]]
    needs: tuple[Need, ...]
    excludes: tuple[tuple[str, ...], ...]


class _Lines(Struct):
    """A kind or group as it is written: its lines in their order, and the classes it belongs to."""

    facts: list[str] = field(default_factory=list)
    rules: list[str] = field(default_factory=list)
    classes: list[str] = field(default_factory=list)


_PIECE = re.compile(r"\[|\]|~|,|=|[^\s\[\],=~]+")
_RULES = ("needs", "one", "not")  # first words of lines that are no shapes


class Kinds(Mapping[str, Kind]):
    """Every kind of statement by its word, in the order of the table; each is read when it is first asked
    for.
    """

    def __init__(self, heads: dict[str, str], lines: dict[str, _Lines]) -> None:
        self._heads, self._lines = heads, lines
        self._read: dict[str, Kind] = {}

    def __getitem__(self, word: str) -> Kind:
        if word not in self._read:
            written = self._lines[word]
            facts = tuple(map(read_shape, written.facts))
            needs, excludes = _rules(written.rules)
            head = read_shape(self._heads[word])
            self._read[word] = Kind(word, head, facts, _by_first(facts), needs, excludes)
        return self._read[word]

    def __contains__(self, word: object) -> bool:
        return word in self._heads

    def __iter__(self) -> Iterator[str]:
        return iter(self._heads)

    def __len__(self) -> int:
        return len(self._heads)


class _Table(Struct):
    """The table as it is written: kinds, groups and declarations of slots by name."""

    heads: dict[str, str] = field(default_factory=dict)
    kinds: dict[str, _Lines] = field(default_factory=dict)
    groups: dict[str, _Lines] = field(default_factory=dict)
    slots: dict[str, str] = field(default_factory=dict)


def kinds() -> Kinds:
    """Every kind of statement by its word, in the order of the table."""
    return _kinds()


@cache
def _kinds() -> Kinds:
    table = _table()
    return Kinds(table.heads, table.kinds)


@cache
def group(name: str) -> tuple[Shape, ...]:
    """The shapes of a group of the table (`laid`: the phrases that say how the part lay)."""
    return tuple(map(read_shape, _table().groups[name].facts))


@cache
def members(name: str) -> frozenset[str]:
    """The kinds of statement that belong to a class (`BODY`); a kind's own word is the class of itself."""
    if not name.isupper():
        return frozenset({name})
    return frozenset(word for word, lines in _table().kinds.items() if name in lines.classes)


def spoken_of(slot: SlotType) -> frozenset[str]:
    """The kinds of statement that may stand in a slot."""
    return _spoken_of(slot.name)


@cache
def _spoken_of(name: str) -> frozenset[str]:
    return frozenset[str]().union(*(members(each) for each in slot_type(name).classes))


@cache
def slot_type(name: str) -> SlotType:
    """The type of a slot by its word in the table.  Raises KeyError for one that is not declared."""
    return PLAIN_SLOTS.get(name) or read_slot(_table().slots[name])


def table_text() -> str:
    """The whole table as it is written: its file, and the lines of the kinds that stand in a folder of their
    own.
    """
    return "\n".join((grammar_text("recipe.shapes"), *shape_texts()))


@cache
def _table() -> _Table:
    table, order = _Table(), list[str]()
    current = _Lines()
    for line in table_text().split("\n"):
        body = line.split("#")[0].strip()
        if not body:
            continue
        what, _, rest = body.partition(" ")
        if not line[0].isspace():
            word, current = rest.split()[0], _Lines()
            if what == "order":
                order += [each.strip() for each in rest.split(",")]
            elif what in DECLARES:
                table.slots[word] = body
            elif what == "kind":
                table.heads[word], table.kinds[word] = rest, current
            else:
                table.groups[word] = current
        elif what == "use":
            shared = table.groups[rest.strip()]
            current.facts.extend(shared.facts)
            current.rules.extend(shared.rules)
        elif what == "is":
            current.classes.extend(rest.replace(",", " ").split())
        elif what in _RULES:
            current.rules.append(body)
        else:
            current.facts.append(body)
    table.heads = {word: table.heads[word] for word in dict.fromkeys((*order, *table.heads))}
    return table


def _rules(lines: Iterable[str]) -> tuple[tuple[Need, ...], tuple[tuple[str, ...], ...]]:
    """What `needs`, `one of` and `not both` lines say: facts that are needed, and groups that exclude one
    another.
    """
    needs: list[Need] = []
    excludes: list[tuple[str, ...]] = []
    for line in lines:
        if line.startswith("needs "):
            words, _, example = line.removeprefix("needs ").partition(" : ")
            needs.append(Need(tuple(words.split(" | ")), example.strip()[1:-1]))
        elif line.startswith("one of "):
            excludes.append(tuple(line.removeprefix("one of ").split(", ")))
        else:
            first, _, second = line.removeprefix("not both ").partition(" and ")
            excludes.extend((b, a) for b in second.split(", ") for a in first.split(", "))
    return tuple(needs), tuple(excludes)


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
    slots = dict(_slots(elements))
    return Shape(" ".join(leading), elements, many, lead or max(1, len(leading)), _shown(pieces), slots)


def _shown(pieces: Iterable[str]) -> str:
    """A shape as messages show it: slots by the name that is shown of them, without keys."""
    shown = ""
    for piece in pieces:
        if piece == "~":
            continue
        word, _, _ = piece.partition(":")
        word = slot_type(word).shown if word.isupper() else word
        glued = piece in ",]" or shown.endswith("[") or not shown
        shown += word if glued else " " + word
    return shown


def _elements(pieces: Iterator[str]) -> tuple[Element, ...]:
    found: list[Element] = []
    for piece in pieces:
        if piece == "]":
            break
        if piece == "[":
            element: Element = Optional(_elements(pieces))
        elif piece in ",=":
            element = Sign(piece)
        else:
            word, _, key = piece.partition(":")
            if word.isupper():
                slot = slot_type(word)
                element = Slot(slot, key or slot.key)
            else:
                element = Small(tuple(word.split("|")), key or (word if "|" in word else None))
        if found and isinstance(before := found[-1], Slot) and _opens_with_comma(element):
            found[-1] = Slot(before.type, before.key, True)
        found.append(element)
    return tuple(found)


def _opens_with_comma(element: Element) -> bool:
    if isinstance(element, Optional):
        return _opens_with_comma(element.elements[0])
    return isinstance(element, Sign) and element.mark == ","


def _slots(elements: Iterable[Element]) -> Iterator[tuple[str, SlotType]]:
    for element in elements:
        if isinstance(element, Slot):
            yield element.key, element.type
        elif isinstance(element, Optional):
            yield from _slots(element.elements)
