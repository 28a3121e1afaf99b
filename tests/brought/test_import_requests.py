"""What a recipe asks of other files before anything else of it is understood, and what of it reaches the
claims.
"""

from __future__ import annotations

from pathlib import Path

import makegood
import numpy as np
import pytest
from makegood.facts import import_requests
from makegood.imports.types import ImportRequest, MeshRequest, RecipeRequest
from makegood.source import read_text
from makegood.tree import parse_rows


def asked(text: str) -> dict[str, ImportRequest]:
    source, found = read_text('recipe "whole"\n\n' + text, "whole.mend")
    assert not found
    return {one.name: one for one in import_requests(parse_rows(source)[0])}


def test_settings_are_worked_out_from_the_recipes_own_sizes() -> None:
    """3 times a named number of 2.5, and the 12.0 of a block less 0.5."""
    text = "let gap = 2.5\n\nblock low\n    long 12.0\n    wide 8\n    thick 3\n\n"
    text += 'use foot "foot"\n    with high = 3 * gap\n    with across = low.long - 0.5\n    lies on left\n'
    text += "    turned 30\n"
    foot = asked(text)["foot"]
    assert isinstance(foot, RecipeRequest)
    assert {one.name: one.number.value for one in foot.settings} == {"high": 7.5, "across": 11.5}
    assert (foot.file, foot.lies_on, foot.turned) == ("foot", "left", 30.0)
    assert (foot.flipped, foot.mirrored) == (False, False)


def test_a_mesh_is_asked_for_in_its_unit_and_by_its_change() -> None:
    text = 'let fit = 0.2\n\nblank cup "cup.stl"\n    unit in\n    repair\n    shrink fit / 2\n'
    cup = asked(text)["cup"]
    assert isinstance(cup, MeshRequest)
    assert (cup.file, cup.unit, cup.change, cup.by) == ("cup.stl", "in", "shrink", 0.1)
    assert cup.repair is not None
    assert cup.repair.line == 7


@pytest.mark.parametrize(
    ("facts", "mirror"), [("", "of stud"), ("", "of stud.2"), ("    other hand\n", "of other")]
)
def test_what_mirrors_it_is_known_before(facts: str, mirror: str) -> None:
    text = f'recipe "w"\n{facts}\nuse stud "bush"\n\nmirror studs\n    {mirror}\n    about middle\n'
    (stud,) = import_requests(parse_rows(read_text(text, "w")[0])[0])
    assert isinstance(stud, RecipeRequest)
    assert (stud.flipped, stud.mirrored) == (bool(facts), "stud" in mirror)


def test_what_is_not_understood_is_not_asked_for_and_told_once() -> None:
    text = 'use foot "foot"\n    with high = 3 * gop\n\nuse bush "bush"\n'
    assert set(asked(text)) == {"bush"}
    result = makegood.compile_text('recipe "w"\n\n' + text)
    assert [one.code for one in result.diagnostics if one.is_error] == ["unknown-name"]


def test_claims_carry_sizes_and_names_but_no_mesh() -> None:
    result = makegood.compile_text('recipe "w"\n\nuse washer "washer"\n    with across = 20\n')
    assert result.ok
    light = result.claims.imported["washer"]
    assert light.box == pytest.approx(result.figures.box, abs=1e-6)
    fields = [getattr(light, one) for one in light.__struct_fields__]
    assert not any(isinstance(one, np.ndarray) for one in fields)
    assert result.imported["washer"].box == light.box
    assert len(result.imported["washer"].triangles) == len(result.mesh.triangles)


def test_a_used_recipe_is_compiled_once_for_each_set_of_numbers(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    from makegood import pipeline

    compiled: list[str] = []
    state = pipeline.state_tree

    def counted(*given: object) -> object:
        found = state(*given)
        compiled.append(found[0].title)
        return found

    monkeypatch.setattr(pipeline, "state_tree", counted)
    (tmp_path / "plain.mend").write_text(
        'recipe "plain"\n\nlet size = 4\n\nblock all\n    long size\n    wide 4\n    thick 4\n', "utf-8"
    )
    text = 'recipe "w"\n\nuse a "plain.mend"\n\nuse b "plain.mend"\n    against a.right\n    level with a\n'
    text += '\nuse c "plain.mend"\n    with size = 5\n    against a.left\n    level with a\n'
    result = makegood.compile_text(text, folder=tmp_path)
    assert result.ok
    assert result.figures.volume == pytest.approx(2 * 64 + 80, rel=1e-9)
    assert sorted(compiled) == ["plain", "plain", "w"]
