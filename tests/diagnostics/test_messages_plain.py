"""Messages for programs, and their order."""

from __future__ import annotations

import json
from itertools import permutations

from makegood.diagnostics import Diagnostic, Label, Severity, Span, in_order, to_json

FROM = Label(Span(1, 1, 2), "from")
OPEN = Diagnostic("open", Severity.ERROR, "body is open", Span(3, 5, 9), "here", (FROM,), ("a",))


def test_json_holds_everything():
    assert json.loads(json.dumps(to_json(OPEN, "lid.mend"))) == {
        "code": "open",
        "severity": "error",
        "headline": "body is open",
        "file": "lid.mend",
        "line": 3,
        "column": 5,
        "end_column": 9,
        "label": "here",
        "others": [{"line": 1, "column": 1, "end_column": 2, "label": "from"}],
        "advice": ["a"],
    }


def test_json_without_a_place():
    told = to_json(Diagnostic("x", Severity.NOTE, "y"), "lid.mend")
    assert (told["line"], told["column"], told["end_column"]) == (None, None, None)


def test_order_is_the_files_whatever_order_they_came_in():
    whole = Diagnostic("z", Severity.NOTE, "about the file")
    early = Diagnostic("z", Severity.WARNING, "early", Span(1, 1, 2))
    worse = Diagnostic("z", Severity.ERROR, "worse", Span(3, 5, 9))
    twice = Diagnostic("z", Severity.ERROR, "worse", Span(3, 5, 9), advice=("b",))
    wanted = (whole, early, OPEN, worse, twice)
    for order in permutations((OPEN, worse, whole, twice, early)):
        assert in_order((*order, *order)) == wanted
