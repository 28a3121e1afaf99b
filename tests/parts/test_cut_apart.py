"""A body that is cut apart, or a copy that stands alone, is told of; a taper has its two heights."""

from __future__ import annotations

import makegood
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


# -- the nearest pieces ----------------------------------------------------------------------------


def advice(text):
    (found,) = [one for one in makegood.compile_text('recipe "t"\n' + text).diagnostics if one.is_error]
    assert found.code == "falls-apart"
    return found.advice


BLOCK = "block {}\n    long {}\n    wide 20.0\n    thick 5.0\n"
SIDE_BY_SIDE = (
    BLOCK.format("body", 40.0)
    + BLOCK.format("ear", 10.0)
    + ("    right of body\n    from body.right near 0.4\n    flush with body.top\n")
)
FAR = (
    BLOCK.format("body", 40.0)
    + (BLOCK.format("far", 10.0) + "    at 50, 0 from body\n" + BLOCK.format("other", 10.0))
    + "    at 60.2, 0 from body\n"
)
CORNER_AND_EDGE = (
    "point a\n    at 0, 0\npoint b\n    at 20, 0\npoint c\n    at 0, 20\n"
    "point d\n    at 10.3, 10.3\npoint e\n    at 30, 12\npoint f\n    at 11, 30\n"
    "plate one\n    thick 3.0\n    outline a, b, c\nplate two\n    thick 3.0\n    outline d, e, f\n"
)
CROSSED = (
    "turning one\n    across 8.0 from 0 to 30\n"
    "line ax\n    level\n    from one centre 8.4\n    above one\n"
    "point s\n    on ax\n    left of one\n    from one centre 20.0\n"
    "turning two\n    lies along ax from s\n    across 8.0 from 0 to 30\n"
)
MEETING = BLOCK.format("one", 20.0) + BLOCK.format("two", 20.0) + "    at 20, 20 from one\n"
MOVE = "bodies join where they touch or overlap: move one or make one larger"


@pytest.mark.parametrize(
    ("text", "said"),
    [
        (SIDE_BY_SIDE, "the two nearest pieces, of `body` and of `ear`, are 0.40 mm apart"),
        (FAR, "the two nearest pieces, of `far` and of `other`, are 0.20 mm apart"),
        # a corner at (10.3, 10.3) from the line x + y = 20: 0.6 / sqrt 2
        (CORNER_AND_EDGE, "the two nearest pieces, of `one` and of `two`, are 0.42 mm apart"),
        # two rounds of 8 across whose axes cross square, 8.4 apart: edges of facets, no corners, are nearest
        (CROSSED, "the two nearest pieces, of `one` and of `two`, are 0.40 mm apart"),
        (MEETING, "`one` and `two` touch along an edge or at a point only, and nothing holds them there"),
    ],
)
def test_the_nearest_pair_of_pieces_is_named_with_its_distance(text, said):
    assert advice(text) == (said, MOVE)


def test_a_copy_beyond_the_edge_is_measured_to_the_copy_before_it():
    """Pegs 3 across, 12 apart: 9 between them; the plate ends farther away."""
    text = (
        BLOCK.format("base", 40.0)
        + PEG.replace("\npeg", "peg", 1)
        + "row ps\n    of p\n    count 5\n    pitch 12.0\n"
    )
    assert advice(text) == (
        "the two nearest pieces, of `p.4` and of `p.5`, are 9.00 mm apart",
        "bodies join where they touch or overlap: count fewer copies or bring them closer",
    )


def test_halves_of_one_body_are_measured_and_the_hole_is_to_blame():
    """A bore of 22 across in a bar 20 wide: its chord at the sides is sqrt(22^2 - 20^2) = 9.17."""
    text = BLOCK.format("body", 40.0) + "bore a\n    across 22.0\n    at 0, 0 from body\n    through body\n"
    assert advice(text) == (
        "the two nearest pieces, both of `body`, are 9.17 mm apart",
        "move a hole, or make it smaller",
    )


@pytest.mark.parametrize(
    ("at", "wide", "ways"),
    [
        # a bore 30 across takes all that a cover 10 wide lay on; 15 - 5 * sqrt 2 is left between them
        ("0, 0", 30.0, "move one, make one larger or make a hole smaller"),
        ("26, 0", 6.0, "move one or make one larger"),
    ],
)
def test_a_smaller_hole_is_advised_where_a_hole_parts_two_bodies(at, wide, ways):
    text = "block base\n    long 40.0\n    wide 40.0\n    thick 5.0\n"
    text += f"bore gap\n    across {wide}\n    through base\n    at 0, 0 from base\n"
    text += f"block cover\n    long 10.0\n    wide 10.0\n    thick 9.0\n    at {at} from base\n"
    assert advice(text)[1] == f"bodies join where they touch or overlap: {ways}"


def test_letters_beside_the_plate_are_to_be_moved():
    text = CAP.replace("40.0", "20.0") + mark("raised 0.6").replace("TOP", "05.2019").replace("5.0", "6.0")
    (found,) = [one for one in answered(text) if one.code == "falls-apart"]
    assert found.advice == ("move it, make it less high, or say less",)


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
