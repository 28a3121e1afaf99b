"""Rings placed by what is read of the ring itself; zones, holes and bodies repeated together."""

from __future__ import annotations

import math

import makegood
import numpy as np
import pytest

from .making import made, said, spot

DISC = "turning disc\n    across 70.0 from 0 to 4.0\n\n"
HOLE = "bore hole\n    drill 4.0\n    level with disc\n    right of disc\n\n"


def ring(*facts: str, hole: str = HOLE) -> str:
    return (
        DISC + hole + "ring holes\n    of hole\n    about disc\n" + "".join(f"    {one}\n" for one in facts)
    )


def away(result: makegood.Result, name: str) -> float:
    return float(np.hypot(*(spot(result, name) - spot(result, "disc"))[:2]))


@pytest.mark.parametrize(
    ("facts", "chord", "step"),
    [
        (("count 6", "from next near-near 16.0"), 20.0, 60.0),
        (("count 5", "from next far-far 26.0"), 22.0, 72.0),
        (("count 4", "from next centres 30.0"), 30.0, 90.0),
        (("count 4", "over 120", "from next centres 15.0"), 15.0, 40.0),
        (("count 2", "from next near-near 40.0"), 44.0, 180.0),
    ],
)
def test_a_chord_between_neighbours_places_the_ring(
    facts: tuple[str, ...], chord: float, step: float
) -> None:
    """Radius = chord / (2 sin(step / 2)), and what was read is found again between the copies."""
    result = made(ring(*facts))
    assert said(result) == []
    assert away(result, "hole") == pytest.approx(chord / (2 * math.sin(math.radians(step / 2))), abs=2e-6)
    between = np.linalg.norm(spot(result, "hole") - spot(result, "hole.2"))
    assert between == pytest.approx(chord, abs=4e-6)


def test_the_pitch_circle_places_the_ring() -> None:
    assert away(made(ring("count 7", "pitch circle 41.0")), "hole") == pytest.approx(20.5, abs=1e-6)


def test_chord_circle_and_place_are_reconciled() -> None:
    """Two readings of one radius with the same give-or-take in it: the mean holds; one that is far off is
    told.
    """
    result = made(ring("count 6", "pitch circle 40.0 +-0.2", "from next centres 19.96 +-0.1"))
    assert away(result, "hole") == pytest.approx((20.0 + 19.96) / 2, abs=1e-5)
    wrong = makegood.compile_text(
        'recipe "r"\n' + ring("count 6", "pitch circle 40.0", "from next centres 23.0")
    )
    assert [one.code for one in wrong.diagnostics] == ["readings-disagree"]


def test_a_ring_that_is_not_placed_says_what_would_do() -> None:
    result = makegood.compile_text('recipe "r"\n' + ring("count 6"))
    assert "left-open" in [one.code for one in result.diagnostics]


@pytest.mark.parametrize(
    ("facts", "hole", "code"),
    [
        (("count 1", "from next centres 12.0"), HOLE, "bad-count"),
        (("count 6", "from next far-far 3.0"), HOLE, "bad-size"),
        (("count 6", "from next near-near 3.0"), HOLE.replace("drill 4.0", "clears M4"), "never-read"),
        (("count 6", "from next centres 0"), HOLE, "bad-size"),
        (("count 6", "pitch circle 0"), HOLE, "bad-size"),
    ],
)
def test_a_wrong_ring_is_answered(facts: tuple[str, ...], hole: str, code: str) -> None:
    result = makegood.compile_text('recipe "r"\n' + ring(*facts, hole=hole))
    assert code in [one.code for one in result.diagnostics]
    assert result.part is None


def test_a_chord_is_read_between_copies_of_one_thing() -> None:
    two = "bore other\n    drill 2.0\n    at 10, 0 from disc\n\n"
    text = (
        DISC
        + HOLE
        + two
        + "ring holes\n    of hole, other\n    about disc\n    count 6\n    from next centres 20.0\n"
    )
    assert "which-body" in [one.code for one in makegood.compile_text('recipe "r"\n' + text).diagnostics]


BOARD = "block board\n    long 80\n    wide 40\n    thick 4\n\n"
CORNER = (
    "bore screw\n    across 4.0\n    from board.left centre 8\n    from board.bottom centre 8\n\n"
    "thicken pad\n    on board.front\n    collar screw to 10.0 overall\n    by 2.0\n\n"
    "relieve dip\n    on board.back\n    collar screw to 7.0 overall\n    by 1.0\n\n"
    "block stud\n    on board.front\n    long 2\n    wide 2\n    thick 5\n    at 7.0, 0 from screw\n\n"
)
LINES = "line up\n    midway board.left, board.right\n\nline across\n    midway board.bottom, board.top\n\n"


def corner_volume() -> tuple[float, float]:
    """What one corner adds (mm3), and its curved surface: pad ring and stud on the front, dip and hole in the
    board.
    """
    hole, pad, dip = math.pi * 4.0, math.pi * 25.0, math.pi * 12.25
    return 2.0 * (pad - hole) + 20.0 - 4.0 * hole - 1.0 * (dip - hole), math.pi * (10 * 2 + 7 * 1 + 4 * 6)


@pytest.mark.parametrize(
    ("pattern", "count"),
    [
        ("row r\n    of {}\n    count 3\n    pitch 25\n", 3),
        ("grid g\n    of {}\n    count 3, 2\n    pitch 25, 24\n", 6),
        ("mirror m\n    of {}\n    about up\n", 2),
        ("point middle\n    at 0, 0 from board\n\nring r\n    of {}\n    count 2\n    about middle\n", 2),
    ],
)
def test_bodies_holes_and_zones_are_repeated_together(pattern: str, count: int) -> None:
    lines = LINES.split("\n\nline across")[0] + "\n\n" if "about up" in pattern else ""
    result = made(BOARD + CORNER + lines + pattern.format("screw, pad, dip, stud"))
    assert said(result) == []
    one, curved = corner_volume()
    assert result.figures.volume == pytest.approx(80 * 40 * 4 + count * one, abs=0.01 * count * curved)
    assert result.figures.genus == count


def test_zones_that_are_repeated_end_at_the_outline() -> None:
    """A band of 10 across the left edge is half outside; its copy at the right edge is clipped there too."""
    ends = "".join(
        f"point {name}\n    flush with board.left\n    flush with board.{side}\n\n"
        for name, side in (("a", "bottom"), ("b", "top"))
    )
    zone = "thicken band\n    on board.front\n    along a, b wide 10.0\n    by 1.0\n\n"
    result = made(BOARD + ends + zone + "row bands\n    of band\n    count 2\n    pitch 80\n")
    assert result.figures.volume == pytest.approx(80 * 40 * 4 + 2 * 5.0 * 40 * 1.0, rel=1e-9)
    assert result.figures.box == (80.0, 40.0, 5.0)


def test_a_body_that_is_repeated_takes_its_zones_along() -> None:
    """Zone and body in one pattern, or the body alone: the same part."""
    tab = "block tab\n    on board.front\n    long 10\n    wide 10\n    thick 3\n"
    tab += "    from board.left near 2\n    from board.bottom near 2\n\n"
    spot_ = "point eye\n    at 0, 0 from tab\n    on tab.front\n\n"
    zone = "thicken pad\n    on tab.front\n    collar eye to 6.0 overall\n    by 1.0\n\n"
    some = [
        made(BOARD + tab + spot_ + zone + f"row r\n    of {names}\n    count 3\n    pitch 20\n").figures
        for names in ("tab", "tab, pad")
    ]
    assert some[0] == some[1]
    assert some[0].volume == pytest.approx(80 * 40 * 4 + 3 * (300 + 9 * math.pi), abs=0.01 * 3 * 6 * math.pi)


def test_a_corner_between_flats_of_no_body_is_asked_about() -> None:
    for second in ("back", "b.front"):
        text = (
            'recipe "r"\nblock b\n    long 9\n    wide 9\n    thick 5\n'
            f"fillet f\n    radius 2\n    between back, {second}\n"
        )
        assert [one.code for one in makegood.compile_text(text).diagnostics] == ["which-body"]
