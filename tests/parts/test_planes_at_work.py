"""Tapers, planes that lean by two readings, holes across an axis, parts read from the side: volumes in closed
form.

A prism cut off by a slope holds its ground area times the height over the ground's centroid (textbook)."""

from __future__ import annotations

import math

import makegood
import numpy as np
import pytest

from .making import RECIPES, corners, faces_of, falls_short, made, normals, said, sound, spot

BLOCK = "block w\n    long 60.0\n    wide 20.0\n"


@pytest.mark.parametrize(
    "line",
    ["2 at left, 14 at right", "14 at right, 2 at left", "3 at top, 13 at bottom", "8 at left, 8 at right"],
)
def test_a_block_that_tapers(line):
    result = made(BLOCK + f"    taper {line}\n")
    assert result.figures.volume == pytest.approx(60 * 20 * 8, rel=1e-6)
    assert result.figures.box == pytest.approx(
        (60.0, 20.0, max(float(line.split()[0]), float(line.split()[3]))), abs=3e-6
    )


def test_what_way_round_a_taper_is_said_makes_no_difference():
    one, two = (
        made(BLOCK + f"    taper {line}\n") for line in ("2 at left, 14 at right", "14 at right, 2 at left")
    )
    assert one.mesh.points.tobytes() == two.mesh.points.tobytes()


def test_a_wedge_to_an_edge():
    assert made(BLOCK + "    taper 0 at left, 12 at right\n").figures.volume == pytest.approx(
        60 * 20 * 6, rel=1e-5
    )


def test_a_taper_on_the_other_flat():
    """A block on the back of a plate tapers away from it."""
    text = "block p\n    long 60.0\n    wide 20.0\n    thick 3.0\n"
    text += BLOCK + "    on p.back\n    around p\n    taper 2 at left, 14 at right\n"
    result = made(text)
    assert result.figures.volume == pytest.approx(60 * 20 * 11, rel=1e-6)
    low = result.mesh.points[result.mesh.points[:, 2] < 1e-6]
    assert low[:, 0].min() == pytest.approx(60.0, abs=1e-5)


def test_a_plate_that_tapers_between_two_rounds():
    """Triangle 0, 0 - 60, 0 - 0, 30, 8 thick at one corner and 2 at the other: area 900 by the height over
    20, 10.
    """
    text = (
        "point a\n    at 0, 0\npoint b\n    at 60, 0\npoint c\n    at 0, 30\n"
        "plate t\n    outline a, b, c\n    taper 8 at a, 2 at b\n"
    )
    assert made(text).figures.volume == pytest.approx(900 * (8 - 6 * 20 / 60), rel=1e-6)
    slanted = text.replace("2 at b", "2 at c")
    assert made(slanted).figures.volume == pytest.approx(900 * (8 - 6 * 10 / 30), rel=1e-6)


@pytest.mark.parametrize(
    "line",
    ["3 at left, 12 at right", "12 at left, 3 at right", "5 at bottom, 9 at top", "9 at bottom, 5 at top"],
)
def test_what_stands_on_a_slope_stands_square_to_it(line):
    result = made(
        BLOCK
        + f"    taper {line}\npeg p\n    on w.front\n    across 6.0\n    high 3.0\n    at 0, 0 from w\n",
        0.002,
    )
    first, second = float(line.split()[0]), float(line.split()[3])
    falls_short(result, 60 * 20 * (first + second) / 2 + math.pi * 9 * 3, 2 * math.pi * 3 * 3, 0.002)
    top = normals(corners(result, faces_of(result, "p", "front")))
    run = 60.0 if "left" in line else 20.0
    assert np.abs(top[:, 2] - run / math.hypot(run, second - first)).max() < 1e-9
    assert result.figures.genus == 0


def test_a_mark_on_a_slope_and_a_hole_through_it():
    text = BLOCK + (
        "    taper 4 at left, 10 at right\nmark m\n    on w.front\n    arrow\n    high 6\n    raised 0.6\n"
        "    at -12, 0 from w\nbore h\n    across 5.0\n    at 15, 0 from w\n"
    )
    exact = 60 * 20 * 7 + 0.6 * 0.89 * 36 - math.pi * 6.25 * 8.5
    assert made(text, 0.002).figures.volume == pytest.approx(exact, rel=2e-4)


def test_a_plane_that_leans_trims():
    """The same as a taper: 2 and 14 read from the back, into the body; and from the front, as far into it."""
    for line in ("2 at w.left, 14 at w.right from w.back", "13 at w.left, 1 at w.right from w.front"):
        result = made(BLOCK + f"    thick 15.0\n    trim p\nplane p\n    leans {line}\n")
        assert result.figures.volume == pytest.approx(60 * 20 * 8, rel=1e-6)


def test_a_plane_that_leans_by_two_things():
    text = (
        "point a\n    at 0, 0\npoint b\n    at 50, 0\npoint c\n    at 50, 20\npoint d\n    at 0, 20\n"
        "plate t\n    outline a, b, c, d\n    thick 12\n    trim p\n"
        "plane p\n    leans 6 at a, 9 at b from t.back\n"
    )
    assert made(text).figures.volume == pytest.approx(50 * 20 * 7.5, rel=1e-6)
    assert made(text.replace("9 at b", "9 at d")).figures.volume == pytest.approx(50 * 20 * 7.5, rel=1e-6)


def test_things_stand_on_a_plane_that_leans():
    """Read from the back it faces the way the heights run: what is on it stands out of the trimmed body."""
    text = BLOCK + "    thick 10.0\n    trim p\nplane p\n    leans 6 at w.left, 9 at w.right from w.back\n"
    text += "peg k\n    on p\n    across 6.0\n    high 5.0\n    raised 0 - 1\n    at 0, 0 from w\n"
    falls_short(made(text, 0.002), 60 * 20 * 7.5 + math.pi * 9 * 4, 2 * math.pi * 3 * 5, 0.002)


def test_a_cross_hole_through_a_hub():
    """Two round bars of radii R > r crossing square: 8 integral of sqrt(R^2 - x^2) sqrt(r^2 - x^2) from 0 to
    r.
    """
    text = (
        "turning hub\n    across 20.0 from 0 to 30.0\nline cut\n    level\n    from hub centre 0\n"
        "plane sight\n    stands on cut\nbore h\n    on sight\n    across 6.0\n    plumb with hub\n"
        "    from hub.back centre 12.0\n    through hub\n"
    )
    x = 3.0 * np.sin((np.arange(20_000) + 0.5) / 20_000 * math.pi / 2)
    both = 8 * float((np.sqrt(100 - x**2) * (9 - x**2)).mean()) * math.pi / 2
    falls_short(made(text, 0.002), math.pi * 100 * 30 - both, 2 * math.pi * 10 * 40, 0.002)


@pytest.mark.parametrize(
    ("text", "code"),
    [
        (BLOCK + "    taper 2 at left, 4 at left\n", "left-open"),
        (BLOCK + "    taper 0 at left, 0 at right\n", "no-thickness"),
        (BLOCK + "    taper 2 at left, 4 at right\n    bevel 0.5 at front\n", "not-square"),
        (
            BLOCK + "    taper 2 at left, 4 at right\nthicken z\n    on w.front\n    inside r\n    by 1\n"
            "round r\n    across 5\n    around w\n",
            "not-square",
        ),
        (BLOCK + "    taper 2 at left, 4 at right\n    thick 3\n", "fact-missing"),
        (
            BLOCK
            + (
                "    taper 2 at left, 4 at right\nbore h\n    across 3\n"
                "    deep 1 from w.front\n    at 0, 0 from w\n"
            ),
            "not-parallel",
        ),
        (
            BLOCK + "    thick 9\n    trim p\nplane p\n    leans 2 at w.left, 4 at w.left from w.back\n",
            "left-open",
        ),
        (
            BLOCK + "    thick 9\n    trim p\nplane p\n    leans 2 at w.left, 4 at p from w.back\n",
            "leans-on-itself",
        ),
        (
            BLOCK + "    thick 9\n    trim p\nplane p\n"
            "    leans 2 at w.left, 4 at q from w.back\n    raised 3 from w.back\n"
            "point q\n    at 9, 9 from w\n",
            "said-twice",
        ),
    ],
)
def test_what_does_not_work_out_is_answered(text, code):
    found = [one.code for one in makegood.compile_text('recipe "w"\n' + text).diagnostics if one.is_error]
    assert code in found


def test_bodies_that_lean_on_each_other_in_a_circle_are_answered():
    text = (
        'recipe "w"\n'
        + BLOCK
        + "    on k\n    thick 9\nplane k\n    leans 2 at w.left, 4 at w.right from w.back\n"
    )
    assert [one.code for one in makegood.compile_text(text).diagnostics if one.is_error] == [
        "circle-of-planes"
    ]


def test_a_bar_along_a_line_on_a_raised_plane_and_a_hole_read_to_it_from_the_side():
    """The plane is 5 over the table and the bar of 8 lies round it, 2 of its half off the plate of 3 under
    it; the hole, on the plate's side and read to the bar's foot, runs along the bar's axis and takes 4 from
    it."""
    text = (
        "block w\n    long 40.0\n    wide 30.0\n    thick 3.0\n"
        "plane p\n    raised 2.0 from w.front\nline l\n    on p\n"
        "    level\n    from w.bottom 15.0\npoint s\n    on p\n    on l\n    flush with w.left\nturning bar\n"
        "    lies along l from s\n    across 8.0 from 0 to 40.0\nbore h\n    on w.left\n    across 4.0\n"
        "    through bar\n    level with s\n    plumb with s\n"
    )
    result = made(text, 0.002)
    sunk = 16 * math.acos(0.5) - 2 * math.sqrt(
        12
    )  # the bar's segment under the plate's front, 2 from its axis
    falls_short(result, 40 * (90 + 16 * math.pi - sunk - 4 * math.pi), 40 * 12 * math.pi, 0.002)
    assert result.figures.box == pytest.approx((40.0, 30.0, 9.0), abs=1e-3)
    hole = corners(result, faces_of(result, "h")).reshape(-1, 3)
    assert np.hypot(hole[:, 1] - 15.0, hole[:, 2] - 5.0) == pytest.approx(np.full(len(hole), 2.0), abs=5e-3)


# Parts that were measured lying on their side or that need a plane of their own: each compiles without a word
# said.
@pytest.mark.parametrize(
    ("name", "box"),
    [
        ("wheel-hub", (40.0, 40.0, 22.0)),
        ("runner-end", (44.0, 26.0, 19.0)),
    ],
)
def test_household_parts(name, box):
    result = makegood.compile_file(RECIPES / f"{name}.mend")
    assert said(result) == []
    sound(result)
    assert result.figures.box == pytest.approx(box, abs=1e-4)


@pytest.mark.parametrize(("words", "height"), [("", 6.0), ("    below w\n", -4.0)])
def test_a_reading_runs_away_from_a_side_seen_from_another_plane_too(words, height):
    """`w` is 20 high; a hole across its hub, 4 from its foot to the hole's centre: into the body, or away
    from it.
    """
    text = (
        f"{BLOCK}    thick 6.0\npeg hub\n    on w.bottom\n"
        "    across 5.0\n    high 12.0\n    midway w.left, w.right\n"
    )
    text += "    midway w.front, w.back\nbore pin\n    on w.right\n    across 2.0\n    plumb with hub\n"
    text += f"    from w.bottom centre {abs(height)}\n{words}    through {'hub' if words else 'w'}\n"
    result = made(text)
    pin, hub = spot(result, "pin"), spot(result, "hub")
    assert pin[1] - hub[1] == pytest.approx(height, abs=2e-6)
