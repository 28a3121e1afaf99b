"""Gaps of flat things against closed forms and against another library's distance (shapely, from the
registry).
"""

from __future__ import annotations

import math

import numpy as np
import pytest
import shapely
from hypothesis import assume, given
from hypothesis import strategies as st
from makegood.checks.gaps import Stadiums, among, core_gaps, to_edges
from makegood.checks.walls import Voids

# Whole nanometres: the other library answers `inf` for strings shorter than what a square can hold.
mm = st.integers(-20_000_000, 20_000_000).map(lambda count: count / 1e6)
places = st.tuples(mm, mm)
cores = st.tuples(places, places)


def stadiums(*some: tuple[tuple[float, float], tuple[float, float], float]) -> Stadiums:
    flat = np.array([(p, q) for p, q, _ in some], dtype=np.float64)
    return Stadiums(
        flat[:, 0], flat[:, 1], np.array([r for *_, r in some], dtype=np.float64), np.arange(len(some))
    )


def row(at: tuple[float, float]) -> np.ndarray:
    return np.array([at], dtype=np.float64)


@given(cores, cores)
def test_the_distance_of_two_cores_is_that_of_two_line_strings(one, two):
    gap, on_one, on_two = core_gaps(row(one[0]), row(one[1]), row(two[0]), row(two[1]))
    assert gap[0] == pytest.approx(shapely.LineString(one).distance(shapely.LineString(two)), abs=1e-9)
    if gap[0] > 0:
        assert math.dist(on_one[0], on_two[0]) == pytest.approx(gap[0], abs=1e-9)


def test_two_round_holes_leave_their_centre_distance_less_both_radii():
    near = among(
        stadiums(((0, 0), (0, 0), 2.0), ((6, 8), (6, 8), 7.5)), np.full(2, -1.0), np.full(2, 1.0), 0.8
    )
    assert near.gap.tolist() == pytest.approx([0.5])
    # The wall runs from 2.0 to 2.5 along the line of centres (0.6, 0.8): its middle lies at 2.25.
    assert near.at[0] == pytest.approx((2.25 * 0.6, 2.25 * 0.8))


def test_openings_at_different_heights_leave_no_wall():
    some = stadiums(((0, 0), (0, 0), 2.0), ((4.5, 0), (4.5, 0), 2.0))
    assert len(among(some, np.array([0.0, 2.0]), np.array([2.0, 4.0]), 0.8).gap) == 0
    assert len(among(some, np.array([0.0, 1.0]), np.array([2.0, 4.0]), 0.8).gap) == 1


@given(st.lists(st.tuples(places, places, st.floats(0.1, 3.0)), min_size=2, max_size=12))
def test_no_near_pair_is_missed(some):
    """Every pair that a plain double loop finds, and no other."""
    found = among(stadiums(*some), np.full(len(some), 0.0), np.full(len(some), 1.0), 0.8)
    shapes = [shapely.LineString((p, q)) for p, q, _ in some]
    wanted = {
        (i, j): shapes[i].distance(shapes[j]) - some[i][2] - some[j][2]
        for i in range(len(some))
        for j in range(i + 1, len(some))
    }
    got = dict(
        zip(zip(found.first.tolist(), found.second.tolist(), strict=True), found.gap.tolist(), strict=True)
    )
    assert set(got) <= set(wanted)
    for pair, gap in wanted.items():
        if gap < 0.8 - 1e-9:
            assert got[pair] == pytest.approx(gap, abs=1e-9)
        elif gap > 0.8 + 1e-9:
            assert pair not in got


def test_the_nearest_edge_is_found():
    square = np.array([(0, 0), (10, 0), (10, 10), (0, 10)], dtype=np.float64)
    near = to_edges(
        stadiums(((3, 2.5), (7, 2.5), 2.0), ((5, 5), (5, 5), 1.0)), square, np.roll(square, -1, axis=0), 0.8
    )
    assert (near.first.tolist(), near.second.tolist(), near.gap.tolist()) == ([0], [0], [0.5])


@given(places, places, st.floats(0.1, 2.0))
def test_the_gap_to_an_outline_is_that_of_a_polygon(p, q, radius):
    corners = [(-15.0, -10.0), (15.0, -10.0), (15.0, 10.0), (2.0, 10.0), (0.0, 1.0), (-15.0, 6.0)]
    outline = np.array(corners, dtype=np.float64)
    near = to_edges(stadiums((p, q, radius)), outline, np.roll(outline, -1, axis=0), 0.8)
    wanted = shapely.LineString((p, q)).distance(shapely.Polygon(corners).exterior) - radius
    assume(abs(wanted - 0.8) > 1e-9)
    assert near.gap.tolist() == ([pytest.approx(wanted, abs=1e-9)] if wanted < 0.8 else [])


def test_a_point_in_a_polygon_of_cores_is_in_the_opening():
    corners = [(0.0, 0.0), (4.0, 0.0), (4.0, 4.0), (0.0, 4.0)]
    flat = np.array(list(zip(corners, corners[1:] + corners[:1], strict=True)))
    some = Stadiums(flat[:, 0], flat[:, 1], np.zeros(4), np.zeros(4, dtype=np.int64))
    assert Voids(some).holds((1.0, 3.0))
    assert not Voids(some).holds((5.0, 3.0))
    assert not Voids(some).holds((-1.0, 3.0))
