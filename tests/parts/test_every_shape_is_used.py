"""Every line of the table `grammar/recipe.shapes` is matched by a line of some recipe here or in `examples/` that compiles.

A shape of a group (`place`, `edges`, ...) is one line of the table, whichever kind uses it.  Beside the shapes, each of
their choices (`near|far|...`), each part that may be left out, and each way of saying a number is asked for.
"""

from __future__ import annotations

from functools import cache

import makegood
import pytest
from makegood.result import Result
from makegood.tree.matching import CONDITIONS, Mismatch, match
from makegood.tree.shapes import Element, Optional, Shape, Slot, Small, group, kinds, read_shape, table_text
from makegood.tree.types import Name, Phrase, Reading, SizeValue, Stop

from .making import EXAMPLES, RECIPES, said

FILES = sorted([*RECIPES.glob("*.mend"), *EXAMPLES.glob("*.mend")])


@cache
def compiled(name: str) -> Result:
    path = next(file for file in FILES if file.name == name)
    return makegood.compile_file(path, chord=0.05)


@pytest.mark.parametrize("name", [file.name for file in FILES])
def test_recipe_compiles_in_one_piece(name: str) -> None:
    result = compiled(name)
    assert result.ok, said(result)
    assert result.figures.watertight
    assert result.figures.pieces == 1


@cache
def homes() -> dict[tuple[str, str], str]:
    """(kind, text of a shape) -> the paragraph of the table where its line stands: a kind, or a group that kinds share."""
    found: dict[tuple[str, str], str] = {}
    groups: dict[str, list[str]] = {}
    here = ""
    for line in table_text().split("\n"):
        words = line.split("#")[0].split()
        if not words:
            continue
        if words[0] in ("kind", "group") and not line[0].isspace():
            here = words[1] if words[0] == "kind" else f"group {words[1]}"
            groups.setdefault(here, [])
        elif words[0] == "use":
            found.update({(here, text): f"group {words[1]}" for text in groups[f"group {words[1]}"]})
        else:
            text = read_shape(line.split("#")[0].strip()).text
            groups[here].append(text)
            found[here, text] = here
    return found


@cache
def lines() -> tuple[tuple[str, str], ...]:
    """(kind, text of the shape) of every line that compiles, and the choices, optional parts and numbers used in it."""
    found: set[tuple[str, str]] = set()
    for file in FILES:
        result = compiled(file.name)
        if not result.ok:
            continue
        kind = None
        for row in result.written:
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
    return tuple(sorted(found))


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
    """How numbers and stops are said: `made`, `wanted`, several readings, give-or-take, conditions, `inside`, `into`."""
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
        found |= {("stop", one.how) for one in value if isinstance(one, Stop) and one.how}
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


def test_the_table_is_as_long_as_it_was_when_this_was_written() -> None:
    """So that an empty table can't pass."""
    shapes = [one for one in table() if one[0] not in ("head", "choice", "optional", "number", "stop", "phrase")]
    assert len(shapes) > 160
    assert len(table()) > 250


@pytest.mark.parametrize(("what", "text"), table())
def test_is_used_by_a_recipe_that_compiles(what: str, text: str) -> None:
    assert (what, text) in lines()


@pytest.mark.parametrize("name", [file.name for file in FILES])
def test_statements_and_facts_in_reverse_order_give_the_same_mesh(name: str) -> None:
    """Order between lines means nothing: not to the part, not to a byte of its mesh."""
    text = next(file for file in FILES if file.name == name).read_text(encoding="utf-8")
    bare = [line.split("#")[0].rstrip() for line in text.split("\n")]
    statements: list[list[str]] = []
    for line in filter(None, bare):
        if line[0].isspace():
            statements[-1].append(line)
        else:
            statements.append([line])
    turned = "\n".join("\n".join([head, *reversed(facts)]) for head, *facts in reversed(statements)) + "\n"
    one, two = compiled(name), makegood.compile_text(turned, chord=0.05, folder=RECIPES)
    assert two.ok, said(two)
    assert one.mesh.points.tobytes() == two.mesh.points.tobytes()
    assert one.mesh.triangles.tobytes() == two.mesh.triangles.tobytes()
