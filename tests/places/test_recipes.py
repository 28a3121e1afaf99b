"""Small recipes whose freedom or whose mirror answers are only apparent; finished sizes worked by hand."""

import math

import makegood
import pytest

BELT = """recipe "buffer"
bore {screw}
    drill      4.0 not 4.1
bore {pin}
    drill      3.0 not 3.1
    from {screw} centres 16.0
round {big}
    around     {screw}
    across     12
round {small}
    around     {pin}
    across     10
plate buffer
    thick      6
    belt       {big}, {small}
"""

SHELL = """recipe "clip on a pipe"
    laid       foot at the bottom
line foot
neighbour {pipe}
    across     22.4
    from foot near 7
round {shell}
    around     {pipe}
    across     27.4
rectangle {base}
    wide       20
    high       9
    midway     {shell}.left, {shell}.right
    from foot near 0
plate body
    thick      10
    merge      {shell}, {base}
notch {gap}
    wide       17
    high       10
    midway     {shell}.left, {shell}.right
    flush with {shell}.top
"""


def turned(names, by):
    """The same names, handed out in another order: construction goes by name where nothing else decides."""
    values = ["ash", "elm", "oak", "yew"]
    return dict(zip(names, values[by:] + values[:by], strict=True))


@pytest.mark.parametrize("by", range(4))
def test_where_a_finished_part_lies_is_nobodys_reading(by):
    # a belt round 12 and 10, 16 apart: 6 + 16 + 5 long
    result = makegood.compile_text(BELT.format(**turned(("screw", "pin", "big", "small"), by)), "buffer.mend")
    assert result.diagnostics == ()
    assert sorted(result.figures.box) == pytest.approx([6.0, 12.0, 27.0], abs=0.02)


def test_a_hand_that_matters_is_asked():
    # a third hole off the line of the other two: two parts, mirror images, that no turning makes alike
    third = (
        "bore lug\n    drill 2.0 not 2.1\n    from screw centres 9.0\n"
        "    from pin centres 12.0\n    through buffer\n"
    )
    names = {"screw": "screw", "pin": "pin", "big": "big", "small": "small"}
    result = makegood.compile_text(BELT.format(**names) + third, "buffer.mend")
    assert [d.code for d in result.diagnostics if d.code in ("two-places", "left-open")] == ["two-places"]


@pytest.mark.parametrize("by", range(4))
def test_a_rectangle_between_the_sides_of_a_round_adds_no_answers(by):
    result = makegood.compile_text(SHELL.format(**turned(("pipe", "shell", "base", "gap"), by)), "clip.mend")
    assert [d.code for d in result.diagnostics if d.severity.name == "ERROR"] == []
    # pipe 22.4 with its near edge 7 above the foot: shell's centre 18.2 up; the gap leaves the round from 8.5
    # outwards
    sizes = (27.4, 18.2 + math.sqrt(13.7**2 - 8.5**2), 10.0)
    assert result.figures.box == pytest.approx(sizes, abs=0.02)


ON_A_POINT = """recipe "link"
point o
    at 0, 0
line a
    level
    on o
line b
    square to a
    from o 44
    right of o
point p
    on a
    on b
round r
    around p
    across 10
round s
    around o
    across 10
plate w
    thick 3
    belt r, s
"""


def test_a_line_on_a_point_passes_there():
    result = makegood.compile_text(ON_A_POINT)
    assert not result.diagnostics
    assert result.figures.box == pytest.approx((54.0, 10.0, 3.0), abs=0.02)


def test_a_line_can_not_be_on_a_line():
    text = ON_A_POINT.replace("    on o", "    on q") + "line q\n    angle 30\n    through o, s\n"
    assert [one.code for one in makegood.compile_text(text).diagnostics] == ["wrong-kind"]
