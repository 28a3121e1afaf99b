"""Rows of rows, mirrored rows, rings of rows: a pattern takes the copies of another along."""

from __future__ import annotations

import math

import makegood
import pytest

from .making import made, said, spot

PLATE = "block b\n    long 80\n    wide 60\n    thick 3\n"
HOLE = "bore h\n    across 2\n    at {x}, {y} from b\n"
ROW = "row r\n    of h\n    count 3\n    pitch 5\n"


def places(text: str) -> set[tuple[float, float]]:
    features = made(text).report().features
    return {(round(one.x - 40, 4), round(one.y - 30, 4)) for one in features if one.kind == "bore"}


def test_a_row_is_mirrored_with_all_its_holes():
    text = (
        PLATE
        + HOLE.format(x=-30, y=7)
        + ROW
        + "line m\n    midway b.left, b.right\nmirror both\n    of r\n    about m\n"
    )
    assert places(text) == {(sign * x, 7) for sign in (-1, 1) for x in (30, 25, 20)}
    assert made(text).figures.genus == 6


def test_a_row_of_a_row_is_a_grid():
    rows = (
        PLATE + HOLE.format(x=-30, y=-20) + ROW + "row up\n    of r\n    count 4\n    pitch 9\n    upright\n"
    )
    grid = PLATE + HOLE.format(x=-30, y=-20) + "grid g\n    of h\n    count 3, 4\n    pitch 5, 9\n"
    one, other = made(rows), made(grid)
    assert places(rows) == places(grid)
    assert one.figures == other.figures
    assert (one.mesh.points == other.mesh.points).all()


def test_a_ring_of_a_row_turns_it_about_its_middle():
    text = PLATE + HOLE.format(x=8, y=0) + ROW + "ring spokes\n    of r\n    about b\n    count 4\n"
    wanted = {
        (round(x * math.cos(k * math.pi / 2), 4) + 0.0, round(x * math.sin(k * math.pi / 2), 4) + 0.0)
        for k in range(4)
        for x in (8, 13, 18)
    }
    assert places(text) == wanted


def test_three_deep_and_in_any_order_of_writing():
    """2 x 2 x 2 holes; the mirror is written first, its name comes before that of what it copies."""
    text = (
        (
            "mirror a\n    of z\n    about m\nline m\n    midway b.left, b.right\n"
            "row z\n    of r\n    count 2\n    pitch 9\n    upright\n"
        )
        + PLATE
        + HOLE.format(x=-30, y=-20)
        + ROW.replace("count 3", "count 2")
    )
    assert places(text) == {(sign * x, y) for sign in (-1, 1) for x in (30, 25) for y in (-20, -11)}


def test_copies_of_a_pattern_can_be_read_to_and_are_counted_on():
    """The row's own come first (.1 to .3), then their images in the same order."""
    text = (
        PLATE
        + HOLE.format(x=-30, y=7)
        + ROW
        + "line m\n    midway b.left, b.right\nmirror both\n    of r\n    about m\n"
    )
    result = made(text + "bore x\n    across 3\n    plumb with h.6\n    from b.bottom centre 10\n")
    assert tuple(spot(result, "x")[:2]) == pytest.approx((40 + 20, 10))


@pytest.mark.parametrize(
    ("more", "code"),
    [
        ("row s\n    of s\n    count 2\n    pitch 3\n", "leans-on-itself"),
        (
            "row s\n    of t\n    count 2\n    pitch 3\nrow t\n    of s\n    count 2\n    pitch 3\n",
            "leans-on-itself",
        ),
        (ROW + "ring s\n    of r\n    about b\n    count 3\n    from next near-near 2\n", "which-body"),
        (ROW + "row s\n    of r\n    count 3\n    over 40\n", "which-body"),
        (ROW + "row s\n    of h\n    count 3\n    pitch 40\n", "copied-twice"),
        (
            ROW + "row s\n    of r\n    count 2\n    pitch 9\nrow t\n    of r\n    count 2\n    pitch 11\n",
            "copied-twice",
        ),
        (ROW.replace("3", "200") + "row s\n    of r\n    count 200\n    pitch 0.1\n", "bad-count"),
        (ROW + "point p\n    at 0, 0 from r.2\n", None),
    ],
)
def test_what_can_not_be_copied_is_answered(more: str, code: str | None):
    result = makegood.compile_text('recipe "r"\n' + PLATE + HOLE.format(x=-30, y=7) + more)
    assert not result.ok
    if code is not None:
        assert [one.code for one in result.diagnostics if one.is_error] == [code], said(result)
