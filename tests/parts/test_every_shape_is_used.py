"""Every line of the table `grammar/recipe.shapes` is matched by a line of some recipe here or in `examples/`
that compiles.

A shape of a group (`place`, `edges`, ...) is one line of the table, whichever kind uses it.  Beside the
shapes, each of their choices (`near|far|...`), each part that may be left out, and each way of saying a
number is asked for."""

from __future__ import annotations

from functools import cache

import makegood
import pytest
from makegood.result import Result

from .making import EXAMPLES, RECIPES, said
from .shape_lines import table, used_by

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
def lines() -> tuple[tuple[str, str], ...]:
    """(paragraph, text of the shape) of every line that compiles, and the choices, optional parts and numbers
    used in it.
    """
    results = [compiled(file.name) for file in FILES]
    return tuple(sorted(set[tuple[str, str]]().union(*(used_by(one.written) for one in results if one.ok))))


def test_the_table_is_not_empty() -> None:
    """So that an empty table can't pass."""
    assert table()


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
