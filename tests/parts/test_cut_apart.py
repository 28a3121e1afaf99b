"""A body that is cut apart, or a copy that stands alone, is told of; a taper has its two heights."""

from __future__ import annotations

import numpy as np
import pytest

from .making import made
from .test_never_silent import BASE, CAP, answered, mark


def pieces(text):
    return [(one.headline, one.span.line) for one in answered(text) if one.code == "falls-apart"]


PEG = (
    "\npeg p\n    on base.front\n    across 3.0\n    high 4\n"
    "    from base.left near 3.0\n    midway base.top, base.bottom\n"
)


def test_a_copy_that_stands_alone_is_named():
    text = BASE + PEG + "\nrow ps\n    of p\n    count 7\n    pitch 12.0\n"
    assert pieces(text) == [("the part falls into 3 pieces: `p.6`, `p.7` are not joined to the rest", 11)]
    assert pieces(BASE + PEG.replace("near 3.0", "near -9.0")) == [
        ("the part falls into 2 pieces: `p` is not joined to the rest", 11)
    ]


def test_letters_that_stand_beside_the_plate_are_named():
    text = CAP.replace("40.0", "20.0") + mark("raised 0.6").replace("TOP", "05.2019").replace("5.0", "6.0")
    assert [one for one, _ in pieces(text)] == [
        "the part falls into 3 pieces: a part of mark `t` stands beside `cap`, with nothing below it"
    ]


def test_a_trim_that_cuts_off_what_held_is_named():
    text = (
        BASE + "\nblock stop\n    on base.front\n    long 15.0\n    wide 10.0\n    thick 9.0\n    trim face\n"
    )
    text += "    flush with base.left\n    flush with base.bottom\n"
    text += "\nplane face\n    leans 9.4 at stop.left, 5.2 at stop.right from base.back\n"
    ((told, line),) = pieces(text)
    assert told == (
        "the part falls into 2 pieces: `stop` is not joined "
        "to the rest: `trim face` keeps the larger part of "
        "`stop`, and what it cuts off held them"
    )
    assert line == 11


@pytest.mark.parametrize(
    ("cut", "told"),
    [
        ("notch gap\n    wide 4.0\n    high 30.0\n    around base\n", "`base` is cut apart by its holes"),
    ],
)
def test_a_body_that_is_cut_apart_says_by_what(cut, told):
    assert [one for one, _ in pieces(BASE + "\n" + cut)] == [f"the part falls into 2 pieces: {told}"]


# -- tapers ----------------------------------------------------------------------------------------


@pytest.mark.parametrize("ends", [(6.4, 2.2), (2.2, 6.4), (5.0, 0.7)])
def test_a_taper_has_its_two_heights_and_no_face_besides(ends):
    """A wedge has 8 corners and 12 triangles, and the volume of its mean height."""
    first, second = ends
    result = made(f"block stop\n    long 15.0\n    wide 10.0\n    taper {first} at left, {second} at right\n")
    points = result.mesh.points
    assert len(points) == 8
    assert len(result.mesh.triangles) == 12
    top = points[points[:, 2] > 0.1]
    assert np.allclose(top[top[:, 0] < 1.0][:, 2], first, rtol=0.0, atol=1e-12)
    assert np.allclose(top[top[:, 0] > 14.0][:, 2], second, rtol=0.0, atol=1e-12)
    assert result.figures.volume == pytest.approx(75.0 * (first + second), abs=1e-9)


def test_what_stands_on_a_taper_is_joined_to_it():
    text = "block stop\n    long 15.0\n    wide 10.0\n    taper 6.4 at left, 2.2 at right\n"
    text += "\npeg p\n    on stop.front\n    across 3.0\n    high 4.0\n    at 0, 0 from stop\n"
    assert made(text).figures.pieces == 1
