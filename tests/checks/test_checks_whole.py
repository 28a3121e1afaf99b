"""All questions together: the pages of their codes, the examples, and what they cost."""

from __future__ import annotations

from pathlib import Path

import makegood
import pytest
from makegood.diagnostics import read_page
from makegood.diagnostics.types import Severity

CODES = (
    "about-placed",
    "caution",
    "eaten-edge",
    "hole-runs-out",
    "laid-contradicts",
    "stray-reading",
    "thin-wall",
    "unknown-plastic",
    "unused-name",
    "worn-copied",
)
EXAMPLES = sorted((Path(__file__).resolve().parents[2] / "examples").glob("*.mend"))


@pytest.mark.parametrize("code", CODES)
def test_the_page_of_a_code_gives_exactly_this_code(code: str):
    page = read_page(code)
    assert [one.code for one in makegood.compile_text(page.example).diagnostics] == [code]
    mended = makegood.compile_text(page.mended)
    assert mended.ok
    assert mended.diagnostics == ()


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_the_examples_are_free_of_warnings(path: Path):
    result = makegood.compile_file(path)
    assert result.ok
    assert [one for one in result.diagnostics if one.severity is not Severity.NOTE] == []


def test_there_are_examples():
    assert EXAMPLES
