"""Which lines of the table `grammar/recipe.shapes` a recipe uses: its shapes, their choices, their parts that
may be left out.

A shape of a group (`place`, `edges`, ...) is one line of the table, whichever kind uses it."""

from __future__ import annotations

from functools import cache

from makegood.language.items import Name, Phrase, Reading, SizeValue, Waypoint
from makegood.language.matching import CONDITIONS, Mismatch, match
from makegood.language.shapes import (
    Element,
    Optional,
    Shape,
    Slot,
    Small,
    group,
    kinds,
    read_shape,
    table_text,
)
from makegood.tree.parsing import Written


@cache
def homes() -> dict[tuple[str, str], str]:
    """(kind, text of a shape) -> the paragraph of the table where its line stands: a kind, or a group that
    kinds share.
    """
    found: dict[tuple[str, str], str] = {}
    groups: dict[str, list[str]] = {}
    here = ""
    for line in table_text().split("\n"):
        words = line.split("#")[0].split()
        if not words:
            continue
        if not line[0].isspace():
            here = words[1] if words[0] == "kind" else f"{words[0]} {words[1]}"
            groups.setdefault(here, [])
        elif words[0] in ("is", "needs", "one", "not"):
            continue
        elif words[0] == "use":
            found.update({(here, text): f"group {words[1]}" for text in groups[f"group {words[1]}"]})
        else:
            text = read_shape(line.split("#")[0].strip()).text
            groups[here].append(text)
            found[here, text] = here
    return found


def used_by(written: tuple[Written, ...]) -> set[tuple[str, str]]:
    """(paragraph, text of the shape) of every line of a recipe, and the choices, optional parts and numbers
    used in it.
    """
    found: set[tuple[str, str]] = set()
    kind = None
    for row in written:
        if row.fact is None:
            continue
        if not row.row.indented:
            kind = kinds()[row.fact.word]
            found.add(("head", kind.head.text))
            continue
        assert kind is not None
        first = row.fact.items[0]
        assert isinstance(first, Name)
        for shape in kind.by_first.get(first.text, ()):
            values = match(shape, row.fact.items)
            if not isinstance(values, Mismatch):
                found.update(_used(kind.word, shape, values, row.fact.items))
                break
    return found


def _used(
    kind: str, shape: Shape, values: tuple[tuple[str, object], ...], items: tuple[object, ...]
) -> set[tuple[str, str]]:
    found = {(homes()[kind, shape.text], shape.text)}
    words = [item.text for item in items if isinstance(item, Name)]
    for element, optional in _pieces(shape.elements, False):
        if isinstance(element, Small) and len(element.words) > 1:
            found.update(("choice", f"{shape.text}: {word}") for word in element.words if word in words)
        if optional and isinstance(element, Slot) and element.key in dict(values):
            found.add(("optional", f"{shape.text}: {element.key}"))
    for _, value in values:
        found.update(_said(value))
    return found


def _pieces(elements: tuple[Element, ...], optional: bool) -> list[tuple[Element, bool]]:
    found: list[tuple[Element, bool]] = []
    for element in elements:
        found += _pieces(element.elements, True) if isinstance(element, Optional) else [(element, optional)]
    return found


def _said(value: object) -> set[tuple[str, str]]:
    """How numbers and stops are said: `made`, `wanted`, several readings, give-or-take, conditions, `inside`,
    `into`.
    """
    found: set[tuple[str, str]] = set()
    readings: tuple[object, ...] = ()
    if isinstance(value, SizeValue):
        found |= {("number", "made")} if value.made is not None else set()
        found |= {("number", "wanted")} if value.wanted else set()
        readings = value.readings
    elif isinstance(value, Reading):
        readings = (value,)
    elif isinstance(value, tuple):
        readings = tuple(one for one in value if isinstance(one, Reading))
        found |= {("stop", one.how) for one in value if isinstance(one, Waypoint) and one.how}
        found |= {("phrase", one.shape) for one in value if isinstance(one, Phrase)}
    found |= {("number", "several")} if len(readings) > 1 else set()
    for one in readings:
        assert isinstance(one, Reading)
        found |= {("number", condition) for condition in one.conditions}
        found |= {("number", "about")} if one.about else set()
        found |= {("number", "give")} if one.give is not None else set()
    return found


def table() -> list[tuple[str, str]]:
    wanted: set[tuple[str, str]] = set()
    for kind in kinds().values():
        wanted.add(("head", kind.head.text))
        for shape in kind.facts:
            wanted.add((homes()[kind.word, shape.text], shape.text))
            for element, optional in _pieces(shape.elements, False):
                if isinstance(element, Small) and len(element.words) > 1:
                    wanted.update(("choice", f"{shape.text}: {word}") for word in element.words)
                if optional and isinstance(element, Slot):
                    wanted.add(("optional", f"{shape.text}: {element.key}"))
    wanted |= {("number", one) for one in (*CONDITIONS, "made", "wanted", "several", "about", "give")}
    wanted |= {("stop", one) for one in ("inside", "into")}
    wanted |= {("phrase", " ".join(shape.text.split()[1:])) for shape in group("laid")}
    return sorted(wanted)
