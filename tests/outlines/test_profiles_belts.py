"""Belts against the convex hull of dense circles (shapely) and against the length formula of a belt."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from makegood.diagnostics.types import Trouble
from makegood.outlines import Bend, path_area
from makegood.outlines.belts import belt
from makegood.outlines.stops import RoundStop
from makegood.outlines.walks import walk
from profile_scenes import assert_closed, fine, smooth_joins
from shapely.geometry import Point
from shapely.ops import unary_union

number = st.floats(-30, 30).map(lambda v: round(v, 1))


@settings(derandomize=True, max_examples=80, deadline=None)
@given(
    st.lists(st.tuples(number, number, st.floats(0.5, 8).map(lambda v: round(v, 1))), min_size=1, max_size=7)
)
def test_belt_is_the_hull_of_its_discs(raw):
    rounds = [RoundStop((x, y), r, label=k) for k, (x, y, r) in enumerate(raw)]
    path = belt(rounds, 99)
    assert_closed(path)
    assert sum(e.sweep for e in path if isinstance(e, Bend)) == pytest.approx(math.tau, abs=1e-6)
    assert all(e.sweep > 0 for e in path if isinstance(e, Bend))
    if len(path) > 1:
        assert max(map(abs, smooth_joins(path))) < 1e-5
    hull = unary_union([Point(r.centre).buffer(r.radius, quad_segs=256) for r in rounds]).convex_hull
    assert path_area(path) == pytest.approx(hull.area, rel=1e-4)
    assert fine(path, 2000).hausdorff_distance(hull) < 1e-3
    assert belt(rounds[::-1], 99) == path


def test_length_of_a_belt_over_two_pulleys():
    # Open belt, textbook: 2 sqrt(d2 - (R - r)2) + R (pi + 2a) + r (pi - 2a), sin a = (R - r) / d.
    path = belt([RoundStop((0, 0), 9), RoundStop((30, 0), 4)])
    a = math.asin(5 / 30)
    length = 2 * math.sqrt(900 - 25) + 9 * (math.pi + 2 * a) + 4 * (math.pi - 2 * a)
    total = sum(e.radius * e.sweep if isinstance(e, Bend) else math.dist(e.start, e.end) for e in path)
    assert total == pytest.approx(length)


def test_points_and_rounds_of_no_size():
    assert path_area(
        belt([RoundStop((0, 0), 0), RoundStop((4, 0), 0), RoundStop((0, 3), 0)])
    ) == pytest.approx(6)
    with pytest.raises(Trouble):
        belt([RoundStop((0, 0), 0), RoundStop((4, 0), 0)])
    with pytest.raises(Trouble):
        belt([])


def test_belt_and_walk_agree():
    rounds = [RoundStop((0, 0), 5, label=1), RoundStop((20, 3), 3, label=2), RoundStop((8, 17), 4, label=3)]
    assert path_area(belt(rounds)) == pytest.approx(path_area(walk(rounds)))
