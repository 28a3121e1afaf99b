"""Matches the items of a line against a shape of the table, without ever going back.

A small word that may stand where the line has it is taken as that small word; so a match is found in one
pass, and when there is none, the furthest place reached and what could have stood there make the message."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence

from msgspec import Struct

from .shapes import Element, Optional, Shape, Sign, Slot, Small, group
from .types import (
    Binary,
    Bracket,
    Expression,
    Item,
    Mark,
    Name,
    Negative,
    Number,
    Phrase,
    Quoted,
    Reading,
    SizeValue,
    Stop,
    Value,
    Word,
)

CONDITIONS = ("rough", "worn", "doubtful")
_SCREW = re.compile(r"[Mm]\d.*")

SAID = {
    "NAME": "a name of your own",
    "THING": "the name of a thing",
    "THINGS": "names of things, with commas",
    "STOPS": "names of the things walked past, with commas",
    "NUMBER": "a length in mm",
    "ANGLE": "an angle in degrees",
    "COUNT": "a whole number",
    "FORCE": "a force such as 120 N",
    "READING": "a reading in mm",
    "READINGS": "a reading in mm",
    "SIZE": "a size in mm",
    "MATE": "a thing or a size in mm",
    "SCREW": "a screw such as M4",
    "TEXT": 'a text in "quotes"',
    "WORD": "a word",
    "GIVE": "a give-or-take such as +-0.05",
    "PHRASES": "how the part lay, such as: back at the bottom, pivot left of heel",
}


class Mismatch(Struct, frozen=True):
    """How far a shape went along a line: index of the first item that did not fit, and what could have stood
    there.
    """

    at: int
    expected: str


class _Stuck(Exception):
    def __init__(self, at: int, expected: str) -> None:
        self.mismatch = Mismatch(at, expected)


def match(shape: Shape, items: Sequence[Item]) -> tuple[tuple[str, Value], ...] | Mismatch:
    """The values of a shape's slots in a line's items, or where and why the line leaves the shape."""
    try:
        return tuple(_elements(shape.elements, items, 0))
    except _Stuck as stuck:
        return stuck.mismatch


def _elements(elements: Sequence[Element], items: Sequence[Item], at: int) -> list[tuple[str, Value]]:
    """The values of these elements in all items from `at` on."""
    values: list[tuple[str, Value]] = []
    for number, element in enumerate(elements):
        if isinstance(element, Optional):
            rest = elements[number + 1 :]
            if at >= len(items) or not _opens(element.elements[0], items[at]):
                continue
            try:
                return values + _elements((*element.elements, *rest), items, at)
            except _Stuck as stuck:
                # any word may be a name: `thread inside from 1 to 9` speaks of a thing called `inside`
                try:
                    return values + _elements(rest, items, at)
                except _Stuck:
                    raise stuck from None
        elif isinstance(element, Slot):
            value, at = _slot(element.type, items, at)
            values.append((element.key, value))
        else:
            if at >= len(items) or not _opens(element, items[at]):
                said = element.mark if isinstance(element, Sign) else " or ".join(element.words)
                raise _Stuck(at, f"`{said}`")
            item = items[at]
            if isinstance(element, Small) and element.key and isinstance(item, Name):
                values.append((element.key, Word(item.text, item.span)))
            at += 1
    if at < len(items):
        raise _Stuck(at, "nothing more")
    return values


def _opens(element: Element, item: Item) -> bool:
    """True where an element that may be left out begins with this item."""
    if isinstance(element, Small):
        return isinstance(item, Name) and item.text in element.words
    if isinstance(element, Sign):
        return isinstance(item, Mark) and item.text == element.mark
    return True


def _slot(kind: str, items: Sequence[Item], at: int) -> tuple[Value, int]:
    if kind in _FILL:
        return _FILL[kind](items, at)
    item = items[at] if at < len(items) else None
    if kind in ("NUMBER", "ANGLE", "COUNT", "FORCE"):
        return _reading(items, at, SAID[kind])
    if kind == "MATE" and not isinstance(item, Name):
        return _reading(items, at, SAID[kind])
    if kind == "TEXT":
        if isinstance(item, Quoted):
            return item, at + 1
    elif isinstance(item, Name) and (kind != "SCREW" or _SCREW.fullmatch(item.text)):
        return (Word(item.text, item.span) if kind in ("WORD", "SCREW") else item), at + 1
    raise _Stuck(at, SAID[kind])


def _mark(items: Sequence[Item], at: int, mark: str) -> bool:
    return at < len(items) and isinstance(item := items[at], Mark) and item.text == mark


def _place_read(items: Sequence[Item], at: int) -> tuple[Reading, int]:
    return _reading(items, at, SAID["READING"], (*CONDITIONS, "wanted"))


def _places_read(items: Sequence[Item], at: int) -> tuple[tuple[Reading, ...], int]:
    return _readings(items, at, (*CONDITIONS, "wanted"))


def _readings(
    items: Sequence[Item], at: int, conditions: tuple[str, ...] = CONDITIONS
) -> tuple[tuple[Reading, ...], int]:
    found: list[Reading] = []
    while True:
        reading, at = _reading(items, at, SAID["READINGS"], conditions)
        found.append(reading)
        if _mark(items, at, ","):
            at += 1
            continue
        return tuple(found), at


def _reading(
    items: Sequence[Item], at: int, said: str, known: tuple[str, ...] = CONDITIONS
) -> tuple[Reading, int]:
    about = (
        at + 1 < len(items)
        and isinstance(first := items[at], Name)
        and first.text == "about"
        and not isinstance(items[at + 1], Mark | Quoted)
    )
    at += about
    value, at = _expression(items, at, said)
    give: Expression | None = None
    if _mark(items, at, "+-"):
        give, at = _expression(items, at + 1, "the give-or-take in mm")
    conditions: list[str] = []
    while at < len(items) and isinstance(item := items[at], Name) and item.text in known:
        conditions.append(item.text)
        at += 1
    tool: Word | None = None
    if at + 1 < len(items) and isinstance(item := items[at], Name) and item.text == "by":
        if not isinstance(named := items[at + 1], Name):
            raise _Stuck(at + 1, "what it was read by, such as: by rule")
        tool, at = Word(named.text, named.span), at + 2
    return Reading(value, give, about, tuple(conditions), tool), at


def _expression(items: Sequence[Item], at: int, said: str) -> tuple[Expression, int]:
    if at < len(items):
        item = items[at]
        if isinstance(item, Number | Name | Negative | Bracket | Binary):
            return item, at + 1
    raise _Stuck(at, said)


def _size(items: Sequence[Item], at: int) -> tuple[SizeValue, int]:
    readings, at = _readings(items, at)
    made: Reading | None = None
    wanted = False
    if at < len(items) and isinstance(item := items[at], Name):
        if item.text == "made":
            made, at = _reading(items, at + 1, "the size it is to be made")
        elif item.text == "wanted":
            wanted, at = True, at + 1
    return SizeValue(readings, made, wanted), at


def _give(items: Sequence[Item], at: int) -> tuple[Reading, int]:
    if _mark(items, at, "+-"):
        value, at = _expression(items, at + 1, "the give-or-take in mm")
        return Reading(value), at
    raise _Stuck(at, SAID["GIVE"])


def _names(items: Sequence[Item], at: int) -> tuple[tuple[Name, ...], int]:
    stops, at = _stops(items, at, ())
    return tuple(stop.thing for stop in stops), at


def _walk(items: Sequence[Item], at: int) -> tuple[tuple[Stop, ...], int]:
    return _stops(items, at, ("inside", "into"))


def _stops(items: Sequence[Item], at: int, words: tuple[str, ...]) -> tuple[tuple[Stop, ...], int]:
    found: list[Stop] = []
    while True:
        how = ""
        item = items[at] if at < len(items) else None
        following = items[at + 1] if at + 1 < len(items) else None
        if isinstance(item, Name) and item.text in words and isinstance(following, Name):
            how, item, at = item.text, following, at + 1
        if not isinstance(item, Name):
            raise _Stuck(at, "the name of a thing")
        found.append(Stop(how, item))
        at += 1
        if _mark(items, at, ","):
            at += 1
            continue
        return tuple(found), at


def _phrases(items: Sequence[Item], at: int) -> tuple[tuple[Phrase, ...], int]:
    found: list[Phrase] = []
    while at < len(items):
        stop = at
        while stop < len(items) and not (isinstance(mark := items[stop], Mark) and mark.text == ","):
            stop += 1
        found.append(_phrase(items[at:stop], at))
        at = stop + 1
    if not found:
        raise _Stuck(at, SAID["PHRASES"])
    return tuple(found), len(items)


def _phrase(items: Sequence[Item], offset: int) -> Phrase:
    furthest = Mismatch(0, "the name of a thing")
    for shape in group("laid"):
        values = match(shape, items)
        if isinstance(values, Mismatch):
            furthest = max(furthest, values, key=lambda one: one.at)
        else:
            return Phrase(" ".join(shape.text.split()[1:]), values, items[0].span)
    raise _Stuck(offset + furthest.at, furthest.expected)


_FILL: dict[str, Callable[[Sequence[Item], int], tuple[Value, int]]] = {
    "READING": _place_read,
    "READINGS": _places_read,
    "SIZE": _size,
    "GIVE": _give,
    "THINGS": _names,
    "STOPS": _walk,
    "PHRASES": _phrases,
}
