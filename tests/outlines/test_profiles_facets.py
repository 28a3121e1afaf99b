"""Facets err on the free side, within the chord, and finer facets come closer at the right pace."""

from __future__ import annotations

import math

import numpy as np
import pytest
from makegood.outlines import (
    area,
    circle,
    extent,
    facet,
    facet_count,
    flatted,
    hole_ring,
    merge,
    path_area,
    polygon,
    rectangle,
    ring_area,
    slot_path,
)
from makegood.outlines.belts import chain
from makegood.outlines.shapes import web
from makegood.outlines.stops import PointStop, RoundStop
from makegood.outlines.walks import walk
from profile_scenes import PAWL, as_polygon, fine
from shapely.geometry import Polygon


@pytest.mark.parametrize(("radius", "count"), [(1, 24), (2.5, 36), (5, 52), (10, 72), (25, 112), (50, 160)])
def test_counts_for_a_hundredth(radius, count):
    assert facet_count(radius) == count


@pytest.mark.parametrize("radius", [0.01, 0.3, 1, 2.5, 8, 60])
@pytest.mark.parametrize("chord", [0.002, 0.01, 0.1])
def test_error_stays_within_the_chord_on_either_side(radius, chord):
    for count, deviation in (
        (facet_count(radius, chord), lambda c: 1 - c),
        (facet_count(radius, chord, True), lambda c: 1 / c - 1),
    ):
        assert count >= 12
        assert radius * deviation(math.cos(math.pi / count)) <= chord * (1 + 1e-9) or count == 12
        if count > 12:
            # four fewer (counts go in fours) would stray too far
            assert count % 4 == 0
            assert radius * deviation(math.cos(math.pi / (count - 4))) > chord


@pytest.mark.parametrize("radius", [0.4, 2.5, 11])
def test_a_true_round_passes_a_hole(radius):
    ring = hole_ring((3, -2), radius, 0.01, 5)
    assert ring_area(ring) < 0
    a, b = ring.points - (3, -2), np.roll(ring.points, -1, axis=0) - (3, -2)
    gaps = np.abs(a[:, 0] * b[:, 1] - a[:, 1] * b[:, 0]) / np.hypot(*(b - a).T)
    assert gaps == pytest.approx(radius, abs=1e-9)
    assert np.hypot(*a.T).max() <= radius + 0.01
    assert np.hypot(*a.T) == pytest.approx(radius / math.cos(math.pi / len(a)))


def test_material_never_leaves_the_true_outline():
    stops = [
        RoundStop((0, 0), 5),
        RoundStop((30, 0), 4),
        PointStop((30, 20)),
        RoundStop((15, 12), 6.5, True),
        PointStop((0, 20)),
    ]
    path = walk(stops)
    true = fine(path, 100_000)
    ring = as_polygon(facet(path))
    assert ring.difference(true.buffer(1e-6)).area < 1e-9
    assert true.hausdorff_distance(ring) < 0.0102
    slot = slot_path((0, 0), (9, 4), 3)
    assert fine(slot, 100_000).difference(Polygon(facet(slot, hole=True).points).buffer(1e-6)).area < 1e-9


@pytest.mark.parametrize(
    "path", [walk(PAWL), circle((1, 2), 7), slot_path((0, 0), (9, 2), 3), flatted((0, 0), 6, 4, 1)]
)
def test_area_converges_with_the_square_of_the_facet_length(path):
    # The facet is about sqrt(8 r e) long and the area is off by its square: a quarter of e, a quarter of the
    # error.
    errors = [abs(ring_area(facet(path, chord)) - path_area(path)) for chord in (0.016, 0.004, 0.001)]
    assert errors[0] / errors[1] == pytest.approx(4, rel=0.12)
    assert errors[1] / errors[2] == pytest.approx(4, rel=0.12)


def test_ends_of_edges_are_kept():
    path = walk(PAWL)
    points = set(map(tuple, facet(path).points.tolist()))
    assert all(tuple(map(float, edge.start)) in points for edge in path)


def test_a_chain_shares_the_facets_of_its_rounds():
    rounds = [
        RoundStop((0, 0), 3, label=1),
        RoundStop((12.3, 4.5), 5, label=2),
        RoundStop((25, -3), 2, label=3),
    ]
    paths = chain(rounds, 9)
    joined = merge([facet(path) for path in paths])
    true = fine(paths[0], 40_000).union(fine(paths[1], 40_000))
    assert area(joined) == pytest.approx(true.area, abs=0.3)
    sides = np.roll(joined.rings[0].points, -1, axis=0) - joined.rings[0].points
    turns = sides[:, 0] * np.roll(sides, -1, axis=0)[:, 1] - sides[:, 1] * np.roll(sides, -1, axis=0)[:, 0]
    assert (turns < -1e-9).sum() <= 2  # no sawtooth: hollow only where two belts meet
    assert set(joined.rings[0].labels.tolist()) == {1, 2, 3, 9}


def test_simple_shapes_have_their_textbook_areas():
    assert path_area(rectangle((1, 2), (4, 8))) == 18
    assert path_area(circle((9, 9), 2)) == pytest.approx(4 * math.pi)
    assert path_area(web((0, 0), (3, 4), 2)) == pytest.approx(10)
    # Regular polygon about a circle of radius a: n a2 tan(pi / n).
    assert path_area(polygon((1, 1), 7, 6)) == pytest.approx(6 * 3.5**2 * math.tan(math.pi / 6))
    half = math.acos(4 / 5)
    assert path_area(flatted((0, 0), 5, 4, 2.0)) == pytest.approx(25 * math.pi - 25 * half + 4 * 3)
    assert path_area(flatted((0, 0), 5, -4, 2.0)) == pytest.approx(25 * half - 4 * 3)


def test_labels_of_a_rectangle_go_left_bottom_right_top():
    sides = {edge.label: edge for edge in rectangle((0, 0), (4, 3), (1, 2, 3, 4))}
    assert {sides[1].start[0], sides[1].end[0]} == {0}
    assert {sides[2].start[1], sides[2].end[1]} == {0}
    assert {sides[3].start[0], sides[3].end[0]} == {4}
    assert {sides[4].start[1], sides[4].end[1]} == {3}


def test_a_flat_of_a_polygon_faces_its_turn():
    _, high = extent(merge([facet(polygon((0, 0), 10, 6, math.pi / 2))]))
    assert high[1] == pytest.approx(5)
