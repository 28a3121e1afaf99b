"""Every good recipe of ours, measured back: nothing on its mesh is other than it was said."""

from __future__ import annotations

from pathlib import Path

import makegood
import pytest
from makegood.callipers import measure_back

ROOT = Path(__file__).resolve().parents[2]
RECIPES = sorted(
    [*(ROOT / "examples").glob("*.mend"), *(ROOT / "tests" / "parts" / "recipes").glob("*.mend")]
)


@pytest.mark.parametrize("recipe", RECIPES, ids=lambda path: path.stem)
def test_nothing_is_other_than_it_was_said(recipe: Path) -> None:
    result = makegood.compile_file(recipe)
    assert result.part is not None
    rows = measure_back(result.made, result.part)
    wrong = [f"{row.thing}: {row.text} [{row.key}] {row.meant} is {row.found}" for row in rows if row.wrong]
    assert not wrong, "\n".join(wrong)
    assert any(row.found is not None for row in rows)
