"""What small words mean, told by where things end up."""

from __future__ import annotations

import math

import makegood
import pytest

from .making import made, spot

HEAD = "block head\n    long 30.0\n    wide 10.0\n    thick 4.0\n"


@pytest.mark.parametrize(
    ("side", "word", "edge", "want"),
    [
        ("bottom", "below", "near", (None, -5.0 - 2.0 - 3.0)),
        ("bottom", "below", "far", (None, -5.0 - 2.0 + 3.0)),
        ("top", "above", "near", (None, 5.0 + 2.0 + 3.0)),
        ("left", "left of", "near", (-15.0 - 2.0 - 4.0, None)),
        ("right", "right of", "centre", (15.0 + 2.0, None)),
        ("bottom", "", "near", (None, -5.0 + 2.0 + 3.0)),
        ("right", "", "near", (15.0 - 2.0 - 4.0, None)),
    ],
)
def test_a_reading_from_a_side_runs_into_the_body_unless_the_thing_stands_beside_it(
    side: str, word: str, edge: str, want: tuple[float | None, float | None]
) -> None:
    across = side in ("bottom", "top")
    text = HEAD + (
        "block tail\n    long 8.0\n    wide 6.0\n    thick 2.0\n"
        f"    {'plumb' if across else 'level'} with head\n"
    )
    text += f"    from head.{side} {edge} 2.0\n" + (f"    {word} head\n" if word else "")
    text += "block tie\n    long 60.0\n    wide 40.0\n    thick 1.0\n    around head\n"
    result = made(text)
    found = spot(result, "tail") - spot(result, "head")
    for axis in (0, 1):
        if want[axis] is not None:
            assert found[axis] == pytest.approx(want[axis], abs=1e-6)


@pytest.mark.parametrize("word", ["inside", "outside"])
def test_rounding_a_merged_outline_without_such_corners_is_answered(word: str) -> None:
    shape = "round r\n    across 30.0\n    at 0, 0\n"
    if word == "inside":
        shape = "rectangle r\n    long 30.0\n    wide 10.0\n    at 0, 0\n"
    text = f'recipe "x"\n\n{shape}plate p\n    thick 2.0\n    merge r\n    round {word} 2.0\n'
    result = makegood.compile_text(text)
    assert [one.code for one in result.diagnostics if one.is_error] == ["no-corner"]


@pytest.mark.parametrize("facts", ["taper 20.0 at 0, 0 at 12.0\n    taper 0 at 12.0, 20.0 at 24.0"])
def test_a_turning_may_end_in_a_point_but_not_hang_on_one(facts: str) -> None:
    result = makegood.compile_text(f'recipe "x"\n\nturning t\n    {facts}\n')
    assert [one.code for one in result.diagnostics if one.is_error] == ["no-wall"]


LUG = """
block base
    long 80.0
    wide 30.0
    thick 3.0
block lug
    on base.front
    long 6.0
    wide 10.0
    high 8.0
    from base.left near 4.0
    from base.bottom near 2.0
bore pin
    on lug.front
    across 3.0
    around lug
    through lug, base
line centre
    midway base.left, base.right
mirror both
    about centre
"""


@pytest.mark.parametrize("of", ["lug", "lug, pin"])
def test_a_hole_through_a_copied_body_and_its_base_goes_through_at_every_copy(of: str) -> None:
    result = made(LUG + f"    of {of}\n", 0.002)
    assert result.figures.genus == 2
    bored = 2 * math.pi * 2.25 * 11.0
    assert result.figures.volume == pytest.approx(7200 + 2 * 480 - bored, abs=2 * math.pi * 3 * 11 * 0.002)


def test_a_pattern_takes_the_copies_of_another_with_their_holes() -> None:
    """Four lugs of 6 x 10 x 8, each with its hole through it and the base below it."""
    result = made(
        LUG + "    of lug\nrow again\n    of both\n    count 2\n    pitch 12.0\n    upright\n", 0.002
    )
    assert result.figures.genus == 4
    bored = 4 * math.pi * 2.25 * 11.0
    assert result.figures.volume == pytest.approx(7200 + 4 * 480 - bored, abs=4 * math.pi * 3 * 11 * 0.002)
