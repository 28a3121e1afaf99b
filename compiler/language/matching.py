"""Matches the items of a line against a shape of the table, without ever going back.

A small word that may stand where the line has it is taken as that small word; so a match is found in one
pass, and when there is none, the furthest place reached and what could have stood there make the message."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence

from msgspec import Struct

from .items import (
    Binary,
    Bracket,
    Expression,
    Item,
    Name,
    Negative,
    Numeral,
    Phrase,
    Punctuation,
    Quoted,
    Reading,
    SizeValue,
    Value,
    Waypoint,
    Word,
)
from .shapes import Element, Optional, Shape, Sign, Slot, Small, group

CONDITIONS = ("rough", "worn", "doubtful")
_SCREW = re.compile(r"[Mm]\d.*")
_THING = "the name of a thing"


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
            value, at = _slot(element, items, at)
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
        return isinstance(item, Punctuation) and item.text == element.mark
    return True


def _slot(slot: Slot, items: Sequence[Item], at: int) -> tuple[Value, int]:
    fill = slot.type.fill
    if fill == "number":
        return _number(slot, items, at)
    if fill in _FILL:
        return _FILL[fill](items, at, slot.type.says)
    item = items[at] if at < len(items) else None
    if fill == "mate" and not isinstance(item, Name):
        return _reading(items, at, slot.type.says)
    if fill == "text":
        if isinstance(item, Quoted):
            return item, at + 1
    elif isinstance(item, Name) and (fill != "screw" or _SCREW.fullmatch(item.text)):
        return (Word(item.text, item.span) if fill in ("word", "screw") else item), at + 1
    raise _Stuck(at, slot.type.says)


def _number(slot: Slot, items: Sequence[Item], at: int) -> tuple[Value, int]:
    """What fills a slot that holds a number: one reading, some, or a size with what it is to be made."""
    rule, says = slot.type.rule, slot.type.says
    assert rule is not None
    if not rule.several:
        return _reading(items, at, says)
    if not rule.made:
        return _readings(items, at, says, (*CONDITIONS, "wanted"), slot.single)
    readings, at = _readings(items, at, says, CONDITIONS, slot.single)
    made: Reading | None = None
    wanted = False
    if at < len(items) and isinstance(item := items[at], Name):
        if item.text == "made":
            made, at = _reading(items, at + 1, "the size it is to be made")
        elif item.text == "wanted":
            wanted, at = True, at + 1
    return SizeValue(readings, made, wanted), at


def _mark(items: Sequence[Item], at: int, mark: str) -> bool:
    return at < len(items) and isinstance(item := items[at], Punctuation) and item.text == mark


def _readings(
    items: Sequence[Item], at: int, says: str, conditions: tuple[str, ...], single: bool
) -> tuple[tuple[Reading, ...], int]:
    found: list[Reading] = []
    while True:
        reading, at = _reading(items, at, says, conditions)
        found.append(reading)
        if not single and _mark(items, at, ","):
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
        and not isinstance(items[at + 1], Punctuation | Quoted)
    )
    at += about
    value, at = _expression(items, at, said)
    meant, at = _meant(items, at)
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
    return Reading(value, give, about, tuple(conditions), tool, meant), at


def _meant(items: Sequence[Item], at: int) -> tuple[Expression | None, int]:
    """`meant 12.0` behind a reading that was written down wrong."""
    if at + 1 < len(items) and isinstance(item := items[at], Name) and item.text == "meant":
        number = items[at + 1]
        if isinstance(number, Numeral | Negative | Bracket | Binary):
            return number, at + 2
    return None, at


def _expression(items: Sequence[Item], at: int, said: str) -> tuple[Expression, int]:
    if at < len(items):
        item = items[at]
        if isinstance(item, Numeral | Name | Negative | Bracket | Binary):
            return item, at + 1
    raise _Stuck(at, said)


def _give(items: Sequence[Item], at: int, says: str) -> tuple[Reading, int]:
    if _mark(items, at, "+-"):
        value, at = _expression(items, at + 1, "the give-or-take in mm")
        return Reading(value), at
    raise _Stuck(at, says)


def _names(items: Sequence[Item], at: int, says: str) -> tuple[tuple[Name, ...], int]:
    stops, at = _stops(items, at, ())
    return tuple(stop.thing for stop in stops), at


def _walk(items: Sequence[Item], at: int, says: str) -> tuple[tuple[Waypoint, ...], int]:
    return _stops(items, at, ("inside", "into"))


def _stops(items: Sequence[Item], at: int, words: tuple[str, ...]) -> tuple[tuple[Waypoint, ...], int]:
    found: list[Waypoint] = []
    while True:
        how = ""
        item = items[at] if at < len(items) else None
        following = items[at + 1] if at + 1 < len(items) else None
        if isinstance(item, Name) and item.text in words and isinstance(following, Name):
            how, item, at = item.text, following, at + 1
        if not isinstance(item, Name):
            raise _Stuck(at, _THING)
        found.append(Waypoint(how, item))
        at += 1
        if _mark(items, at, ","):
            at += 1
            continue
        return tuple(found), at


def _phrases(items: Sequence[Item], at: int, says: str) -> tuple[tuple[Phrase, ...], int]:
    found: list[Phrase] = []
    while at < len(items):
        stop = at
        while stop < len(items) and not _mark(items, stop, ","):
            stop += 1
        found.append(_phrase(items[at:stop], at))
        at = stop + 1
    if not found:
        raise _Stuck(at, says)
    return tuple(found), len(items)


def _phrase(items: Sequence[Item], offset: int) -> Phrase:
    furthest = Mismatch(0, _THING)
    for shape in group("laid"):
        values = match(shape, items)
        if isinstance(values, Mismatch):
            furthest = max(furthest, values, key=lambda one: one.at)
        else:
            return Phrase(" ".join(shape.text.split()[1:]), values, items[0].span, shape.slots)
    raise _Stuck(offset + furthest.at, furthest.expected)


_FILL: dict[str, Callable[[Sequence[Item], int, str], tuple[Value, int]]] = {
    "give": _give,
    "things": _names,
    "stops": _walk,
    "phrases": _phrases,
}
