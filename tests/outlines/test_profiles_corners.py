"""Rounded corners and bent strips: closed forms, tangency, and what does not fit."""

from __future__ import annotations

import itertools
import math

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from makegood.diagnostics.types import Trouble
from makegood.outlines import Bend, circle, facet, flatted, merge, path_area, rectangle
from makegood.outlines.corners import corners_of, round_corners
from makegood.outlines.stops import LineStop, PointStop, RoundStop
from makegood.outlines.strips import strip
from makegood.outlines.walks import walk
from profile_scenes import PAWL, assert_closed, fine, smooth_joins

ARM = walk(
    [
        PointStop((-20, -3)),
        LineStop((0, -3), (1, 0), True),
        RoundStop((0, 0), 8),
        LineStop((0, 3), (1, 0), True),
        PointStop((-20, 3)),
    ]
)


@pytest.mark.parametrize("radius", [0.5, 2, 5])
def test_rounded_rectangle(radius):
    path = round_corners(rectangle((0, 0), (20, 10)), radius, "outside", None, 9)
    assert_closed(path)
    assert path_area(path) == pytest.approx(200 - (4 - math.pi) * radius**2)
    assert max(map(abs, smooth_joins(path))) < 1e-7


def test_a_corner_of_any_angle_loses_the_textbook_area():
    # Round of radius R in a corner of angle a takes R2 (1 / tan(a/2) - (pi - a) / 2).
    path = walk([PointStop((0, 0)), PointStop((30, 0)), PointStop((9, 12))])
    angle = math.atan2(12, 9)
    rounded = round_corners(path, 2, "outside", [(1, 1)], 9)
    assert path_area(path) - path_area(rounded) == pytest.approx(
        4 * (1 / math.tan(angle / 2) - (math.pi - angle) / 2)
    )


def test_hollow_corner_between_line_and_arc():
    path = round_corners(ARM, 2, "inside", None, 9)
    assert_closed(path)
    rounds = [e for e in path if e.label == 9]
    assert len(rounds) == 2
    for edge in rounds:
        # Outside the hub by R and below the arm's edge by R: centre at (-sqrt((8 + 2)2 - 52), 5) and its
        # mirror.
        assert edge.sweep < 0
        assert (edge.centre[0], abs(edge.centre[1])) == pytest.approx((-math.sqrt(75), 5))
    assert {round(abs(t), 6) for t in smooth_joins(path)} <= {0.0, round(math.pi / 2, 6)}
    # Coarser on purpose: the reference thins out points closer than a hundredth of the buffer before it
    # begins.
    closed = fine(ARM, 500).buffer(2, quad_segs=64).buffer(-2, quad_segs=64)
    assert path_area(path) == pytest.approx(closed.area, abs=0.02)


def test_two_arcs_meeting_in_a_corner():
    path = walk([RoundStop((0, 0), 8), LineStop((0, 3), (1, 0), True)])
    rounded = round_corners(path, 1, "outside", None, 9)
    true = fine(path, 500).buffer(-1, quad_segs=64).buffer(1, quad_segs=64)
    assert path_area(rounded) == pytest.approx(true.area, abs=0.02)
    lens = (
        Bend((-3, 0), 5, (0, -4), (0, 4), 2 * math.atan2(4, 3), 1),
        Bend((3, 0), 5, (0, 4), (0, -4), 2 * math.atan2(4, 3), 2),
    )
    rounded = round_corners(lens, 0.7, "outside", None, 9)
    assert_closed(rounded)
    assert path_area(rounded) == pytest.approx(
        fine(lens, 500).buffer(-0.7, quad_segs=64).buffer(0.7, quad_segs=64).area, abs=0.01
    )


def test_only_the_named_kind_and_place():
    path = walk(PAWL)
    inside = round_corners(path, 0.5, "inside", [(20, 14)], 9)
    assert [e.sweep < 0 for e in inside if e.label == 9] == [True]
    with pytest.raises(Trouble) as caught:
        round_corners(path, 0.5, "inside", [(28, 18)], 9)
    assert caught.value.code == "no-corner"
    with pytest.raises(Trouble):
        round_corners(circle((0, 0), 5), 1, "outside", None, 9)
    assert len(corners_of(path)) == 3


@pytest.mark.parametrize(
    ("path", "which", "largest"),
    [
        (rectangle((0, 0), (20, 10)), "outside", 5.0),
        (flatted((0, 0), 8, 3, 1.0), "outside", None),
        (ARM, "outside", 3.0),
    ],
)
def test_the_largest_round_that_fits_is_true(path, which, largest):
    with pytest.raises(Trouble) as caught:
        round_corners(path, 40, which, None, 9)
    assert caught.value.code == "round-too-large"
    most = float(caught.value.says.split()[-2])
    if largest is not None:
        assert most == pytest.approx(largest, abs=0.011)
    assert path_area(round_corners(path, most, which, None, 9)) > 0
    with pytest.raises(Trouble):
        round_corners(path, most + 0.02, which, None, 9)


@settings(derandomize=True, max_examples=60, deadline=None)
@given(st.floats(0.2, 1.4), st.floats(5, 20), st.floats(5, 20), st.floats(0.1, 1))
def test_rounding_a_triangle_keeps_it_tangent_and_inside(angle, a, b, radius):
    path = walk([PointStop((0, 0)), PointStop((a, 0)), PointStop((b * math.cos(angle), b * math.sin(angle)))])
    # Half of the incircle always fits: twice the area over the perimeter.
    perimeter = sum(math.dist(e.start, e.end) for e in path)
    radius *= path_area(path) / perimeter
    rounded = round_corners(path, radius, "outside", None, 9)
    assert_closed(rounded)
    assert max(map(abs, smooth_joins(rounded))) < 1e-6
    true = fine(path).buffer(-radius, join_style="mitre", mitre_limit=50).buffer(radius, quad_segs=300)
    assert path_area(rounded) == pytest.approx(true.area, abs=1e-3)


@pytest.mark.parametrize(("side", "inner"), [("left", 1.0), ("right", 3.0), ("middle", 2.0)])
def test_bent_strip(side, inner):
    path = strip([PointStop((0, 0)), PointStop((30, 0)), PointStop((30, 20))], 2, side, 1, (1, 2, 3, 4))
    assert_closed(path)
    # Straight legs plus a quarter ring of radii 1 and 3; the path's own radius is shortened from both legs.
    own = {"left": 1, "right": 3, "middle": 2}[side]
    assert path_area(path) == pytest.approx(2 * (30 + 20 - 2 * own) + math.pi / 4 * (9 - 1))
    radii = sorted(e.radius for e in path if isinstance(e, Bend))
    assert radii == pytest.approx([1, 3])
    assert sorted({e.label for e in path}) == [1, 2, 3, 4]
    assert inner == own


def test_a_strip_lies_with_its_named_side_on_the_path():
    ring = facet(strip([PointStop((0, 0)), PointStop((30, 0))], 2, "left", 1))
    assert (ring.points[:, 1].min(), ring.points[:, 1].max()) == (-2, 0)


def test_bend_without_a_radius_is_sharp_inside_and_round_outside():
    path = strip([PointStop((0, 0)), PointStop((10, 0)), PointStop((10, 10))], 2, "left", 0)
    assert path_area(path) == pytest.approx(40 + math.pi)
    assert [e.radius for e in path if isinstance(e, Bend)] == [2]


def test_a_turn_too_slight_to_bend_leaves_no_gap():
    path = strip([PointStop((0, 0)), PointStop((20, 0)), PointStop((40, 0.03))], 3, "right", 2)
    assert_closed(path, 1e-12)
    assert path_area(path) == pytest.approx(120, abs=0.01)


def test_zigzag_strip_has_the_length_of_its_middle():
    points = [PointStop(p) for p in [(0, 0), (20, 0), (20, 15), (40, 15), (45, 30)]]
    path = strip(points, 1.6, "middle", 2)
    spine = walk_length(points, 2.8)
    assert path_area(path) == pytest.approx(1.6 * spine)
    assert path_area(strip(points[::-1], 1.6, "middle", 2)) == pytest.approx(path_area(path))


def walk_length(points, radius):
    """Length of a polyline with every corner rounded: each takes 2 R tan(t/2) and gives R t."""
    at = [p.at for p in points]
    total = sum(math.dist(p, q) for p, q in itertools.pairwise(at))
    for p, q, r in zip(at, at[1:], at[2:], strict=False):
        turn = math.remainder(
            math.atan2(r[1] - q[1], r[0] - q[0]) - math.atan2(q[1] - p[1], q[0] - p[0]), math.tau
        )
        total += radius * (abs(turn) - 2 * math.tan(abs(turn) / 2))
    return total


def test_strip_round_a_pin():
    points = [PointStop((0, 0)), RoundStop((20, 4), 4, name="pin"), PointStop((0, 8))]
    path = strip(points, 1.5, "left", 1)
    assert path_area(path) == pytest.approx(2 * 20 * 1.5 + math.pi / 2 * (5.5**2 - 16))
    tight = [points[0], RoundStop((20, 4), 4), points[2]]
    with pytest.raises(Trouble) as caught:
        strip(tight, 4.5, "right", 1)
    assert caught.value.code == "bend-too-tight"


def test_legs_too_short_to_bend():
    with pytest.raises(Trouble) as caught:
        strip([PointStop((0, 0)), PointStop((2, 0)), PointStop((2, 10))], 2, "right", 3)
    assert caught.value.code == "bend-too-tight"
    with pytest.raises(Trouble) as caught:
        strip([PointStop((0, 0)), PointStop((10, 0)), PointStop((10, 3)), PointStop((0, 3))], 4, "right", 0.5)
    assert caught.value.code in ("bend-too-tight", "outline-crosses")


def test_strips_merge_with_their_neighbours():
    bent = strip([PointStop((0, 0)), PointStop((20, 0)), PointStop((20, 9))], 2, "left", 1, (1, 2, 3, 4))
    joined = merge([facet(bent), facet(circle((0, -1), 4, 8))])
    assert {1, 2, 4, 8} <= set(joined.rings[0].labels.tolist())


leg = st.tuples(st.floats(-1.5, 1.5), st.floats(9, 25), st.floats(1, 6), st.booleans())


@settings(derandomize=True, max_examples=60, deadline=None)
@given(st.lists(leg, min_size=2, max_size=6), st.floats(0.5, 3), st.sampled_from(["left", "right", "middle"]))
def test_random_strips_have_parallel_faces(legs, thick, side):
    x = y = way = 0.0
    stops = [PointStop((0, 0))]
    for turn, size, radius, is_round in legs:
        way += turn
        x, y = x + size * math.cos(way), y + size * math.sin(way)
        stops.append(RoundStop((x, y), radius) if is_round else PointStop((x, y)))
    stops[-1] = PointStop((x, y))
    try:
        path = strip(stops, thick, side, 0.5, (1, 2, 3, 4))
    except Trouble:
        assume(False)
        return
    assert_closed(path)
    assert fine(path, 400).is_valid
    # Pappus in the plane: thickness times the length half way between the faces.
    faces = sum(
        e.radius * abs(e.sweep) if isinstance(e, Bend) else math.dist(e.start, e.end)
        for e in path
        if e.label in (1, 2)
    )
    assert path_area(path) == pytest.approx(thick * faces / 2, rel=1e-6)


def test_a_strip_along_lines_turns_where_they_meet():
    lines = [PointStop((0, 0)), LineStop((5, 0), (1, 0)), LineStop((30, 7), (0, -2)), PointStop((30, 20))]
    points = [PointStop((0, 0)), PointStop((30, 0)), PointStop((30, 20))]
    assert path_area(strip(lines, 2, "left", 1)) == pytest.approx(path_area(strip(points, 2, "left", 1)))


def test_every_label_is_a_small_integer_of_one_kind():
    for path in (ARM, rectangle((0, 0), (4, 4)), walk(PAWL)):
        assert facet(path).labels.dtype == merge([facet(path)]).rings[0].labels.dtype == "int32"
