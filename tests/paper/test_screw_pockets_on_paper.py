"""Pockets named for a screw on the drawing and the inspection sheet: their name, and their sizes from the
tables.
"""

from __future__ import annotations

import makegood
import pytest
from makegood.outputs.paper import checks
from makegood.outputs.paper.drawing import drawing_sheet
from makegood.outputs.paper.marks import Text

from .reading import words

PART = """recipe "clamp"

block clamp
    long 80.0
    wide 30.0
    thick 14.0

bore bolt
    clears M4
    counterbore M4 at front
    at -25, 0 from clamp

bore tie
    clears M4
    counterbore M4 nut at back
    at -5, 0 from clamp

bore stop
    hex M3 nut
    deep 2.4 from front
    at 10, 0 from clamp

bore post
    clears M3
    countersink M3 at front
    at 25, 0 from clamp

slot plain
    wide 3.0
    long 8.0
    counterbore 6 deep 2 at front
    at 10, 10 from clamp
"""


def test_the_drawing_names_each_pocket_and_its_sizes() -> None:
    marks = drawing_sheet(makegood.compile_text(PART)._scene()).marks
    said = " ".join(one.text for one in marks if isinstance(one, Text))
    assert "counterbore M4 Ø8, 4.5 deep" in said
    assert "counterbore M4 nut hex 7.2," in said
    assert "stop M3 nut, hex 5.7" in said
    assert "countersink M3 Ø6.72 × 90°" in said
    assert "counterbore Ø6, 2 deep" in said


def test_the_sheet_asks_for_each_pocket() -> None:
    listed = {one.key: one for one in checks(makegood.compile_text(PART)._scene())}
    wanted = {
        "bolt counterbore": 8.0,
        "bolt counterbore deep": 4.5,
        "tie counterbore": 7.2,
        "tie counterbore deep": 3.2,
        "stop across": 5.7,
        "post countersink": 6.72,
        "plain counterbore": 6.0,
        "plain counterbore deep": 2.0,
    }
    assert {key: listed[key].value for key in wanted} == wanted
    assert "post countersink deep" not in listed
    assert listed["bolt counterbore"].how == "counterbore M4: inner jaws, across the mouth"
    assert listed["tie counterbore"].how == "counterbore M4 nut: inner jaws, across the flats"
    # general tolerance of ISO 2768-1, class m: 0.2 between 6 and 30, so the largest M4 nut, 7.0 across flats,
    # still goes in
    assert listed["tie counterbore"].limits.low == pytest.approx(7.0)
    assert "counterbore M4 nut" in " ".join(words(makegood.compile_text(PART).inspection()))


@pytest.mark.parametrize(
    ("found", "word", "part"),
    [
        ("found bolt counterbore 8.1", "pass", ""),
        ("found bolt counterbore 7.4", "rework", "file 0.3 off either side"),
        (
            "found bolt counterbore 8.5",
            "reprint",
            "0.5 too wide: instead of `counterbore M4 at front` give its size, 7.5",
        ),
        ("found bolt counterbore deep 4.0", "rework", "drill 0.5 deeper"),
        (
            "found bolt counterbore deep 5.0",
            "reprint",
            "0.5 too deep: instead of `counterbore M4 at front` give its depth, 4",
        ),
        ("found stop across 6.2", "reprint", "0.5 too wide: instead of `hex M3 nut` give its size, 5.2"),
        (
            "found plain counterbore 6.4",
            "reprint",
            "in `counterbore 6 deep 2 at front`, write the size 0.4 smaller",
        ),
    ],
)
def test_what_a_found_pocket_means(found: str, word: str, part: str) -> None:
    (said,) = makegood.compile_text(PART).verdicts(found)
    assert said.outcome.value == word
    assert part in said.advice


def test_tidy_keeps_the_words_of_a_pocket() -> None:
    text = 'recipe "a"\nbore b\n  counterbore   M4  nut deep 3  at  front\n  hex M4   nut\n  countersink m4\n'
    tidy = makegood.tidy_text(text)[0]
    assert tidy.split("\n")[-4:-1] == [
        "    counterbore M4 nut deep 3 at front",
        "    hex        M4 nut",
        "    countersink m4",
    ]
    assert makegood.tidy_text(tidy)[0] == tidy
