"""Grown and shrunk shapes: the mitred buffer of shapely, closed forms, and matched insets."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from makegood.diagnostics.types import Trouble
from makegood.outlines import area, circle, cut, facet, hole_ring, merge, path_area, rectangle, slot_path
from makegood.outlines.belts import belt
from makegood.outlines.corners import round_corners
from makegood.outlines.offsets import inset_matched, offset, offset_path
from makegood.outlines.shapes import web
from makegood.outlines.stops import LineStop, PointStop, RoundStop
from makegood.outlines.walks import walk
from profile_scenes import PAWL, as_polygon, assert_closed, fine

DUMBBELL = merge(
    [facet(circle((0, 0), 5, 1)), facet(circle((20, 0), 5, 2)), facet(web((0, 0), (20, 0), 3, 3))]
)


@pytest.mark.parametrize("d", [1.5, -1.5])
def test_a_rectangle_stays_a_rectangle(d):
    grown = offset(rectangle((0, 0), (20, 10), (1, 2, 3, 4)), d)
    assert area(grown) == pytest.approx((20 + 2 * d) * (10 + 2 * d))
    assert grown.rings[0].labels.tolist() == [2, 3, 4, 1]


@pytest.mark.parametrize("d", [-1.2, 0.7, 3.0])
def test_smooth_outlines_obey_steiner(d):
    # Steiner: area of the parallel of a smooth convex outline is A + L d + pi d2.
    path = belt([RoundStop((0, 0), 5), RoundStop((20, 3), 3), RoundStop((8, 17), 4)])
    length = sum(e.radius * e.sweep if hasattr(e, "sweep") else math.dist(e.start, e.end) for e in path)
    grown = offset_path(path, d)
    assert_closed(grown)
    assert path_area(grown) == pytest.approx(path_area(path) + length * d + math.pi * d * d)


@pytest.mark.parametrize("d", [0.8, -0.8])
def test_hollow_rounds_and_corners_against_the_mitred_buffer(d):
    stops = [
        PointStop((0, 0)),
        PointStop((30, 0)),
        PointStop((30, 20)),
        RoundStop((15, 21), 6.5, True),
        PointStop((0, 20)),
    ]
    path = walk(stops)
    grown = offset_path(path, d)
    assert_closed(grown)
    true = fine(path, 20_000).buffer(d, join_style="mitre", mitre_limit=10)
    assert fine(grown, 20_000).symmetric_difference(true).area < 2e-3


@pytest.mark.parametrize("d", [0.5, -0.5])
def test_corners_between_lines_and_arcs_meet_on_the_moved_edges(d):
    path = walk(
        [
            PointStop((-20, -3), 1),
            LineStop((0, -3), (1, 0), True),
            RoundStop((0, 0), 8),
            LineStop((0, 3), (1, 0), True),
            PointStop((-20, 3)),
        ]
    )
    grown = walk(
        [
            LineStop((-20 - d, 0), (0, 1)),
            LineStop((0, -3 - d), (1, 0), True),
            RoundStop((0, 0), 8 + d),
            LineStop((0, 3 + d), (1, 0), True),
        ]
    )
    assert path_area(offset_path(path, d)) == pytest.approx(path_area(grown))


def test_arcs_that_vanish_are_left_to_facets():
    path = round_corners(rectangle((0, 0), (20, 10), (1, 2, 3, 4)), 1, "outside", None, 9)
    shrunk = offset(path, -2)
    assert area(shrunk) == pytest.approx(16 * 6, abs=0.02)
    assert {int(v) for v in shrunk.rings[0].labels} >= {1, 2, 3, 4}
    gap = walk(
        [PointStop(p) for p in [(0, 0), (20, 0), (20, 10), (11, 10), (11, 4), (9, 4), (9, 10), (0, 10)]]
    )
    assert area(offset(gap, 1.5)) == pytest.approx(23 * 13)


def test_regions_with_holes_keep_labels_when_grown():
    region = cut(DUMBBELL, [hole_ring((0, 0), 2, label=9)])
    for d in (0.4, -0.4):
        grown = offset(region, d)
        true = as_polygon(region).buffer(d, join_style="mitre", mitre_limit=6)
        assert area(grown) == pytest.approx(true.area, abs=1e-3)
        assert [sorted(set(r.labels.tolist())) for r in grown.rings] == [[1, 2, 3], [9]]
    assert set(offset(region, 0.4, label=7).rings[0].labels.tolist()) == {7}


@pytest.mark.parametrize(
    ("code", "shape", "d"),
    [
        ("nothing-left", rectangle((0, 0), (20, 10)), -5),
        ("nothing-left", circle((0, 0), 3), -3),
        ("nothing-left", slot_path((0, 0), (9, 0), 2), -2.5),
        ("falls-apart", DUMBBELL, -1.6),
    ],
)
def test_shrinking_too_far_is_said(code, shape, d):
    with pytest.raises(Trouble) as caught:
        offset(shape, d)
    assert caught.value.code == code


@settings(derandomize=True, max_examples=40, deadline=None)
@given(
    st.lists(st.tuples(st.floats(-20, 20), st.floats(-20, 20), st.floats(1, 5)), min_size=2, max_size=4),
    st.floats(-2, 3).filter(lambda d: abs(d) > 0.01),
)
def test_belts_offset_like_their_rounds(raw, d):
    path = belt([RoundStop((x, y), r) for x, y, r in raw])
    true = fine(path, 1000).buffer(d, quad_segs=100)
    if true.area < 0.5:
        return
    grown = area(offset(path, d, 0.001))
    # Where arcs vanish their facets end in small mitres instead of a sharp meeting of the straight edges.
    assert grown == pytest.approx(true.area, rel=2e-3, abs=0.05)


def test_matched_inset_of_a_plate_with_holes():
    plate = cut(merge([facet(walk(PAWL))]), [hole_ring((0, 8), 3, label=9)])
    inner = inset_matched(plate, 0.6)
    assert [len(r.points) for r in inner.rings] == [len(r.points) for r in plate.rings]
    plain = as_polygon(plate).buffer(-0.6, join_style="mitre", mitre_limit=20)
    assert area(inner) == pytest.approx(plain.area, abs=1e-4)
    for outer, ring in zip(plate.rings, inner.rings, strict=True):
        assert (outer.labels == ring.labels).all()
        a, b = outer.points, np.roll(outer.points, -1, axis=0)
        side = (b - a) / np.hypot(*(b - a).T)[:, None]
        moved = ring.points - a
        assert side[:, 0] * moved[:, 1] - side[:, 1] * moved[:, 0] == pytest.approx(0.6, abs=1e-9)


def test_matched_inset_refuses_what_would_overlap():
    assert inset_matched(DUMBBELL, 1.6) is None
    assert inset_matched(merge([facet(rectangle((0, 0), (20, 10)))]), 5.01) is None
    plate = cut(merge([facet(rectangle((0, 0), (20, 10)))]), [hole_ring((3, 5), 2)])
    assert inset_matched(plate, 0.4) is not None
    assert inset_matched(plate, 0.55) is None
