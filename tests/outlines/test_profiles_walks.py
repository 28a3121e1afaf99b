"""Walks round outlines: areas from closed forms, tangency, and indifference to how the stops are listed."""

from __future__ import annotations

import math

import pytest
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st
from makegood.diagnostics.types import Trouble
from makegood.outlines import Bend, Straight, facet, flatted, path_area, ring_area
from makegood.outlines.stops import ArcStop, LineStop, PointStop, RoundStop
from makegood.outlines.walks import walk
from profile_scenes import PAWL, assert_closed, fine, smooth_joins


def test_area_of_a_pawl_round_a_boss():
    # Worked by hand: tangent from (22, 0) touches the boss at its lowest point (0, 0); polygon (0,0) (22,0)
    # (28,18) (20,14) T (0,8) and a sector of radius 8.  T from the power of (20, 14): tangent length sqrt(436
    # - 64).
    reach = math.sqrt(20**2 + 6**2)
    angle = math.atan2(6, 20) + math.acos(8 / reach)
    t = (8 * math.cos(angle), 8 + 8 * math.sin(angle))
    corners = [(0, 8), (0, 0), (22, 0), (28, 18), (20, 14), t]
    area = sum(a[0] * b[1] - a[1] * b[0] for a, b in zip(corners, corners[1:] + corners[:1], strict=True)) / 2
    sector = 64 / 2 * (math.tau - (angle + math.pi / 2))
    assert path_area(walk(PAWL)) == pytest.approx(area + sector, abs=1e-9)
    assert path_area(walk(PAWL)) == pytest.approx(474.94, abs=0.005)


@pytest.mark.parametrize("first", range(4))
@pytest.mark.parametrize("way", [1, -1])
def test_the_listing_does_not_matter(first, way):
    stops = (PAWL[first:] + PAWL[:first])[::way]
    assert walk(stops) == walk(PAWL)


def test_two_equal_rounds_make_a_slot():
    path = walk([RoundStop((0, 0), 5), RoundStop((20, 0), 5)])
    assert path_area(path) == pytest.approx(200 + 25 * math.pi)
    assert max(map(abs, smooth_joins(path))) < 1e-9


def test_hollow_round_between_two_convex_ones_takes_crossing_tangents():
    stops = [
        RoundStop((0, 0), 5, label=1),
        RoundStop((30, 0), 5, label=2),
        RoundStop((15, 9), 8, True, label=3),
    ]
    path = walk(stops)
    assert_closed(path)
    assert max(map(abs, smooth_joins(path))) < 1e-9
    sweeps = {edge.label: edge.sweep for edge in path if isinstance(edge, Bend)}
    assert sweeps[1] > 0 > sweeps[3]
    assert sweeps[2] > 0
    assert sum(sweeps.values()) == pytest.approx(math.tau)
    assert walk(stops[::-1]) == path
    # Crossing tangent length, textbook formula: sqrt(d2 - (r1 + r2)2).
    crossing = math.sqrt(15**2 + 9**2 - 13**2)
    lengths = sorted(math.dist(e.start, e.end) for e in path if isinstance(e, Straight))
    assert lengths == pytest.approx([crossing, crossing, 30])


def test_lines_meet_in_corners_and_touch_rounds():
    lines = [
        LineStop((0, 0), (1, 0), label=1),
        LineStop((30, 5), (0, -1), label=2),
        LineStop((4, 10), (-1, 0), label=3),
        RoundStop((0, 5), 5, label=4),
    ]
    path = walk(lines)
    assert path_area(path) == pytest.approx(300 + 12.5 * math.pi)
    assert sorted(e.label for e in path) == [1, 2, 3, 4]
    assert path == walk(lines[::-1])


def test_arm_runs_into_a_hub_where_it_first_meets_it():
    stops = [
        PointStop((-20, -3)),
        LineStop((0, -3), (1, 0), True, label=4),
        RoundStop((0, 0), 8, label=5),
        LineStop((0, 3), (-1, 0), True, label=6),
        PointStop((-20, 3)),
    ]
    union = fine(walk([RoundStop((0, 0), 8)])).union(
        fine(walk([PointStop(p) for p in [(-20, -3), (0, -3), (0, 3), (-20, 3)]]))
    )
    assert path_area(walk(stops)) == pytest.approx(union.area, rel=1e-5)


def test_far_crossings_give_a_bar_with_a_rounded_end():
    stops = [
        PointStop((-20, -3)),
        LineStop((0, -3), (1, 0), True, True),
        RoundStop((0, 0), 8),
        LineStop((0, 3), (1, 0), True, True),
        PointStop((-20, 3)),
    ]
    half = math.asin(3 / 8)
    segment = 64 / 2 * (2 * half - math.sin(2 * half))
    assert path_area(walk(stops)) == pytest.approx(6 * (20 + 8 * math.cos(half)) + segment)


def test_rounds_in_a_row_make_one_outline_whichever_side_is_divided():
    row = [RoundStop((0, 0), 5), RoundStop((10, 0), 5), RoundStop((30, 0), 5)]
    assert path_area(walk(row)) == pytest.approx(300 + 25 * math.pi)


def test_a_line_through_a_round_makes_a_flat():
    cut = walk([RoundStop((1, 2), 8), LineStop((0, 5), (1, 0), True)])
    assert path_area(cut) == pytest.approx(path_area(flatted((1, 2), 8, 3, math.pi / 2)))


@pytest.mark.parametrize(("out", "sign"), [(True, 1), (False, -1)])
def test_arc_by_rise_bulges_out_of_the_material_or_into_it(out, sign):
    square = [
        PointStop((0, 0)),
        ArcStop(rise=1.5, out=out, label=7),
        PointStop((10, 0)),
        PointStop((10, 10)),
        PointStop((0, 10)),
    ]
    radius = (1.5**2 + 25) / 3
    segment = radius**2 * math.asin(5 / radius) - 5 * (radius - 1.5)
    assert path_area(walk(square)) == pytest.approx(100 + sign * segment)
    assert walk(square) == walk(square[::-1])
    by_radius = [square[0], ArcStop(radius=radius, out=out, label=7), *square[2:]]
    assert path_area(walk(by_radius)) == pytest.approx(100 + sign * segment)


TROUBLES = [
    ("outline-too-short", [PointStop((0, 0)), PointStop((1, 0))]),
    ("outline-too-short", [PointStop((0, 0)), PointStop((1, 1)), PointStop((2, 2.0))]),
    ("outline-too-short", []),
    ("no-tangent", [RoundStop((0, 0), 5), RoundStop((1, 0), 2), PointStop((20, 20))]),
    ("no-tangent", [RoundStop((0, 0), 5), PointStop((1, 0)), PointStop((20, 20))]),
    ("no-tangent", [RoundStop((0, 0), 5), RoundStop((6, 0), 3, True), PointStop((20, 20))]),
    ("outline-crosses", [PointStop((0, 0)), PointStop((10, 10)), PointStop((10, 0)), PointStop((0, 9))]),
    ("line-misses", [PointStop((0, 1)), LineStop((0, 0), (1, 0)), PointStop((5, 0)), PointStop((3, 9))]),
    ("line-misses", [PointStop((-9, 0)), LineStop((0, 0), (1, 0)), RoundStop((5, 7), 5), PointStop((-9, 9))]),
    ("line-misses", [PointStop((-9, 0)), LineStop((0, 0), (1, 0)), RoundStop((5, 3), 5), PointStop((-9, 9))]),
    ("line-misses", [LineStop((0, 0), (1, 0)), LineStop((0, 5), (1, 0)), PointStop((-9, 5))]),
    ("no-arc", [PointStop((0, 0)), ArcStop(radius=2), PointStop((10, 0)), PointStop((5, 9))]),
    ("no-arc", [RoundStop((0, 0), 1), ArcStop(rise=2), PointStop((10, 0)), PointStop((5, 9))]),
    ("outline-two-sided", [PointStop((0, 0)), PointStop((10, 0)), ArcStop(rise=2)]),
    ("outline-two-sided", [PointStop((0, 0)), RoundStop((0, 1), 1), PointStop((0, 2))]),
    ("no-tangent", [PointStop((9, 0)), RoundStop((0, 1), 1), RoundStop((0, 1), 1)]),
    (
        "no-tangent",
        [
            PointStop((-9, 0)),
            LineStop((0, 0), (1, 0)),
            RoundStop((5, -5), 5),
            PointStop((9, 9)),
            PointStop((-9, 9)),
        ],
    ),
]


@pytest.mark.parametrize(("code", "stops"), TROUBLES)
def test_what_cannot_be_walked_is_said(code, stops):
    with pytest.raises(Trouble) as caught:
        walk(stops)
    assert caught.value.code == code
    assert len(caught.value.says) > 20


def test_a_crossing_is_named_with_its_place():
    stops = [
        PointStop((0, 0), name="A"),
        PointStop((10, 10), name="B"),
        PointStop((10, 0), name="C"),
        PointStop((0, 10), name="D"),
    ]
    with pytest.raises(Trouble) as caught:
        walk(stops)
    assert caught.value.names == ("A to B", "C to D") or set(caught.value.names) == {"A to B", "C to D"}
    assert caught.value.places[0] == pytest.approx((5, 5))


def test_into_is_advised_where_a_line_cuts_a_round():
    with pytest.raises(Trouble) as caught:
        walk(
            [
                PointStop((-9, 0)),
                LineStop((0, 0), (1, 0), name="floor"),
                RoundStop((5, 3), 5),
                PointStop((-9, 9)),
            ]
        )
    assert "into" in caught.value.advice[0]
    assert "2.00 mm" in caught.value.says


coordinate = st.floats(-40, 40).map(lambda v: round(v, 2))


@settings(
    derandomize=True, max_examples=120, deadline=None, suppress_health_check=[HealthCheck.filter_too_much]
)
@given(
    st.lists(
        st.tuples(coordinate, coordinate, st.floats(0.5, 6), st.sampled_from("prh")), min_size=3, max_size=6
    ),
    st.floats(0, 6.28),
    coordinate,
)
def test_random_walks_close_turn_once_and_move_with_their_stops(raw, turn, shift):
    rounds = [(x, y, r) for x, y, r, kind in raw if kind != "p"]
    # one round met twice gives its arc either of two labels, by the way round
    assume(len(set(rounds)) == len(rounds))

    def stops(move):
        return [
            PointStop(move(x, y), k) if kind == "p" else RoundStop(move(x, y), r, kind == "h", k)
            for k, (x, y, r, kind) in enumerate(raw)
        ]

    def moved(x, y):
        return (
            x * math.cos(turn) - y * math.sin(turn) + shift,
            x * math.sin(turn) + y * math.cos(turn) - shift,
        )

    try:
        path = walk(stops(lambda x, y: (x, y)), 99)
    except Trouble:
        assume(False)
        return
    assert_closed(path)
    turned = sum(smooth_joins(path)) + sum(e.sweep for e in path if isinstance(e, Bend))
    assert turned == pytest.approx(math.tau, abs=1e-6)
    polygon = fine(path, 2000)
    assert polygon.exterior.is_ccw
    assert path_area(path) == pytest.approx(polygon.area, rel=1e-4, abs=1e-3)
    assert walk(stops(lambda x, y: (x, y))[::-1], 99) == path
    assert path_area(walk(stops(moved), 99)) == pytest.approx(path_area(path), rel=1e-7)
    ring = facet(path)
    assert set(ring.labels.tolist()) == {e.label for e in path}
    assert (
        abs(ring_area(ring) - path_area(path))
        < 0.0101 * sum(abs(e.sweep) * e.radius for e in path if isinstance(e, Bend)) + 1e-6
    )
