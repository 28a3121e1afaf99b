"""Joins, cuts and overlaps against shapely, with every label accounted for and no regard to the order of
operands.
"""

from __future__ import annotations

import itertools
import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from makegood.diagnostics.types import Trouble
from makegood.outlines import (
    Region,
    area,
    circle,
    common,
    contains,
    crossing,
    cut,
    extent,
    facet,
    hole_ring,
    merge,
    nearest_edge,
    rectangle,
    ring_area,
    turned_over,
)
from makegood.outlines.shapes import web
from profile_scenes import as_polygon
from shapely.geometry import LineString
from shapely.ops import unary_union

PARTS = [
    facet(rectangle((0, 0), (20, 10), (1, 2, 3, 4))),
    facet(circle((20, 5), 7, 5)),
    facet(web((3, 5), (14, 22), 4, 6)),
    facet(circle((14, 22), 5, 7)),
]


def same_bytes(one: Region, two: Region) -> bool:
    return len(one.rings) == len(two.rings) and all(
        a.points.tobytes() == b.points.tobytes() and a.labels.tobytes() == b.labels.tobytes()
        for a, b in zip(one.rings, two.rings, strict=True)
    )


def assert_labels_true(result: Region, sources) -> None:
    """Each edge of the result lies on an edge of the same label that went in, ends and middle."""
    for ring in result.rings:
        for a, b, label in zip(ring.points, np.roll(ring.points, -1, axis=0), ring.labels, strict=True):
            lines = [
                LineString([p, q])
                for s in sources
                for p, q, own in zip(s.points, np.roll(s.points, -1, axis=0), s.labels, strict=True)
                if own == label
            ]
            assert unary_union(lines).buffer(1e-6).covers(LineString([a, b]))


def test_union_against_shapely_with_labels():
    joined = merge(PARTS)
    assert area(joined) == pytest.approx(unary_union([as_polygon(p) for p in PARTS]).area, abs=1e-6)
    assert_labels_true(joined, PARTS)
    assert {int(v) for r in joined.rings for v in r.labels} == {1, 2, 4, 5, 6, 7}


def test_order_and_direction_of_operands_do_not_matter():
    first = merge(PARTS)
    for order in itertools.permutations(PARTS):
        assert same_bytes(merge(order), first)
    assert same_bytes(merge([turned_over(p) for p in PARTS]), first)
    tools = [hole_ring((20, 5), 3, label=8), hole_ring((14, 22), 2, label=9), hole_ring((5, 5), 1, label=10)]
    assert all(same_bytes(cut(first, order), cut(first, tools)) for order in itertools.permutations(tools))


def test_holes_are_cut_and_keep_their_labels():
    tools = [hole_ring((20, 5), 3, label=8), hole_ring((14, 22), 2, label=9), hole_ring((0, 10), 1, label=10)]
    result = cut(merge(PARTS), tools)
    assert area(result) == pytest.approx(
        as_polygon(merge(PARTS)).difference(unary_union([as_polygon(turned_over(t)) for t in tools])).area,
        abs=1e-6,
    )
    assert [ring_area(r) < 0 for r in result.rings] == [False, True, True]
    assert_labels_true(result, [*PARTS, *tools])
    assert merge([result]).rings[0].points.shape == result.rings[0].points.shape


def test_overlap_against_shapely():
    one, two = merge(PARTS[:1]), merge(PARTS[1:2])
    assert area(common(one, two)) == pytest.approx(
        as_polygon(PARTS[0]).intersection(as_polygon(PARTS[1])).area
    )
    assert same_bytes(common(one, two), common(two, one))


def test_edges_in_one_line_keep_both_labels():
    joined = merge(
        [facet(rectangle((0, 0), (5, 2), (1, 2, 3, 4))), facet(rectangle((5, 0), (9, 2), (5, 6, 7, 8)))]
    )
    assert joined.rings[0].labels.tolist() == [2, 6, 7, 8, 4, 1]
    plain = merge([facet(rectangle((0, 0), (5, 2))), facet(rectangle((5, 0), (9, 2)))])
    assert len(plain.rings[0].points) == 4


def test_nothing_left():
    plate = merge(PARTS[:1])
    for act in (
        lambda: cut(plate, [facet(rectangle((-1, -1), (30, 30)))]),
        lambda: merge([]),
        lambda: common(plate, merge([facet(circle((99, 99), 1))])),
    ):
        with pytest.raises(Trouble) as caught:
            act()
        assert caught.value.code == "nothing-left"


number = st.floats(-12, 12)


@settings(derandomize=True, max_examples=40, deadline=None)
@given(
    st.lists(
        st.tuples(number, number, st.floats(0.5, 5), st.floats(0.5, 5), st.booleans()), min_size=2, max_size=5
    )
)
def test_random_joins_keep_area_and_labels(raw):
    parts = [
        facet(circle((x, y), r, k)) if is_round else facet(rectangle((x, y), (x + r, y + s), (k,) * 4))
        for k, (x, y, r, s, is_round) in enumerate(raw)
    ]
    joined = merge(parts)
    assert area(joined) == pytest.approx(unary_union([as_polygon(p) for p in parts]).area, abs=1e-5)
    assert_labels_true(joined, parts)
    assert same_bytes(joined, merge(parts[::-1]))


def test_questions_about_a_region():
    plate = cut(merge([facet(rectangle((0, 0), (20, 10), (1, 2, 3, 4)))]), [hole_ring((10, 5), 3, label=5)])
    assert contains(plate, (1, 1))
    assert not contains(plate, (10, 5))
    assert not contains(plate, (-1, 5))
    assert extent(plate) == ((0, 0), (20, 10))
    assert nearest_edge(plate, (1, 5)) == (1, 1)
    distance, label = nearest_edge(plate, (10, 5))
    assert distance == pytest.approx(3)
    assert label == 5


def wavy(count: int) -> np.ndarray:
    turn = np.linspace(0, math.tau, count, endpoint=False)
    reach = 50 + 5 * np.cos(40 * turn)
    return np.stack([reach * np.cos(turn), reach * np.sin(turn)], axis=1)


def test_crossings_are_found_in_large_rings():
    from makegood.outlines import Ring

    points = wavy(10_000)
    assert crossing(Ring(points, np.zeros(len(points), np.int32))) is None
    points[100], points[5_000] = points[5_000].copy(), points[100].copy()
    assert crossing(Ring(points, np.zeros(len(points), np.int32))) is not None


@settings(derandomize=True, max_examples=150, deadline=None)
@given(st.lists(st.tuples(st.integers(0, 12), st.integers(0, 12)), min_size=4, max_size=7, unique=True))
def test_crossing_agrees_with_shapely(corners):
    from makegood.outlines import Ring
    from shapely.geometry import LinearRing

    ring = Ring(np.array(corners, dtype=float), np.zeros(len(corners), np.int32))
    assert (crossing(ring) is None) == LinearRing(corners).is_simple


def test_labels_of_many_holes_stay_quick_and_right():
    plate = merge([facet(rectangle((0, 0), (100, 100), (1, 2, 3, 4)))])
    tools = [
        hole_ring((5 + 6 * i, 5 + 6 * j), 2, label=10 + 16 * i + j) for i in range(16) for j in range(16)
    ]
    result = cut(plate, tools)
    assert len(result.rings) == 257
    assert sorted(int(r.labels[0]) for r in result.rings[1:]) == sorted(int(t.labels[0]) for t in tools)
    assert all(len(set(r.labels.tolist())) == 1 for r in result.rings[1:])
