"""The case files: wrong recipes of all sorts are answered as written down there, and never with a
traceback.
"""

from __future__ import annotations

from pathlib import Path

import pytest
from makegood.diagnostics import codes

from .case_files import Case, files, read_cases, said, written

CASES = [
    pytest.param(path, case, id=f"{path.stem}: {case.name}") for path in files() for case in read_cases(path)
]


@pytest.mark.parametrize(("path", "case"), CASES)
def test_a_case_is_answered_as_written_down(path: Path, case: Case):
    assert said(case.recipe) == case.expected, (
        f"{path.name}: write it anew with: python -m tests.diagnostics.case_files"
    )


def test_case_files_are_written_as_they_are_read():
    assert len(CASES) > 30
    for path in files():
        assert written(list(read_cases(path))) == path.read_text(encoding="utf-8")


def test_cases_name_codes_that_have_a_page():
    named = {
        row.split()[1]
        for param in CASES
        for row in param.values[1].expected.split("\n")
        if row and row[0] != " "
    }
    assert len(named) > 20
    assert named <= set(codes())
