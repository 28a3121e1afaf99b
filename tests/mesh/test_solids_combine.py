"""Moving, joining and cutting: exact frames, labels that survive, pieces and touch."""

from __future__ import annotations

from itertools import permutations, product
from math import pi

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from makegood.diagnostics.types import Trouble
from makegood.mesh import (
    EndBevels,
    PadHeights,
    block,
    common,
    finish,
    frame_along,
    join,
    measure,
    mirrored,
    overlap,
    pieces,
    place,
    prism,
    ramped,
    remove,
    touches,
    trim,
)
from makegood.mesh.corners import FillSection, InsideCorner, corner_fill
from makegood.mesh.tools import Countersink, cone_tool, peg, round_tool
from makegood.outlines.types import Region

from .solid_scenes import circle, labels_of, rectangle, second_opinion


def bracket():
    return prism(Region((rectangle(30, 20), circle(8, 8, 3, 24, 9, hole=True))), 0, 5, 10, 11)


def right_handed_frames():
    for order in permutations(range(3)):
        for signs in product((1.0, -1.0), repeat=3):
            frame = np.zeros((3, 3))
            frame[list(order), range(3)] = signs
            if np.linalg.det(frame) > 0:
                yield frame


def test_axis_parallel_frames_are_exact():
    frames = list(right_handed_frames())
    assert len(frames) == 24
    start = finish(bracket())
    for frame in frames:
        noisy = frame + np.random.default_rng(1).uniform(-9e-13, 9e-13, (3, 3))
        mesh = finish(place(bracket(), (0.1, -0.2, 0.3), noisy))
        expected = start.points @ frame.T + np.array([0.1, -0.2, 0.3])
        np.testing.assert_array_equal(mesh.points, expected[np.lexsort(expected.T[::-1])])
        assert measure(mesh).volume == pytest.approx(measure(start).volume, rel=1e-13)
        assert labels_of(mesh) == labels_of(start)


def test_frames_that_are_not_right_handed_are_refused():
    for frame in (np.diag([1.0, 1, -1]), np.diag([2.0, 1, 1]), np.zeros((3, 3))):
        with pytest.raises(ValueError, match="right-handed"):
            place(bracket(), (0, 0, 0), frame)


def test_mirroring_twice_gives_the_same_bytes():
    start = finish(bracket())
    for axis in range(3):
        again = finish(mirrored(mirrored(bracket(), axis), axis))
        assert again.points.tobytes() == start.points.tobytes()
        one = finish(mirrored(bracket(), axis))
        assert measure(one).volume == pytest.approx(measure(start).volume, rel=1e-14)
        assert measure(one).low[axis] == -measure(start).high[axis]
        second_opinion(one)


share = st.floats(-1, 1)
units = st.tuples(share, share, share).filter(lambda v: np.linalg.norm(v) > 0.1)


@given(units, st.floats(0.1, 0.9))
def test_trim_splits_the_volume_and_labels_the_cut(normal, share):
    point = (30 * share, 20 * share, 5 * share)
    kept = finish(trim(bracket(), point, normal, 77))
    other = finish(trim(bracket(), point, tuple(-v for v in normal), 77))
    assert measure(kept).volume + measure(other).volume == pytest.approx(
        measure(finish(bracket())).volume, rel=1e-10
    )
    height = (kept.points - np.array(point)) @ np.array(normal) / np.linalg.norm(normal)
    assert height.max() <= 1e-9
    cut = np.abs(height[kept.triangles]).max(axis=1) < 1e-9
    assert (kept.labels[cut] == 77).all()
    assert cut.any()
    assert (kept.labels >= 0).all()
    second_opinion(kept)


def test_trim_that_misses_changes_nothing_and_trim_of_all_leaves_nothing():
    assert (
        measure(finish(trim(bracket(), (0, 0, 5), (0, 0, 1), 77))).volume == measure(finish(bracket())).volume
    )
    with pytest.raises(Trouble) as caught:
        finish(trim(bracket(), (0, 0, -1), (0, 0, 1), 77))
    assert caught.value.code == "nothing-left"


def test_frame_along_is_right_handed_and_exact_on_the_axes():
    for normal in ((1, 0, 0), (0, -2, 0), (0, 0, 3), (1, 2, -2), (0.3, -0.1, 0.2)):
        frame = frame_along(normal)
        np.testing.assert_allclose(frame.T @ frame, np.eye(3), atol=1e-15)
        assert np.linalg.det(frame) == pytest.approx(1)
        np.testing.assert_allclose(frame[:, 2] * np.linalg.norm(normal), normal, atol=1e-15)
        if np.count_nonzero(normal) == 1:
            assert set(np.abs(frame).ravel().tolist()) == {0.0, 1.0}


def test_inclusion_and_exclusion():
    a, b = block((0, 0, 0), (10, 10, 10), 1), place(peg(8, -2, 14, 0.01, 2), (9, 5, 0), np.eye(3))
    both = measure(finish(join([a, b]))).volume
    assert both == pytest.approx(1000 + measure(finish(b)).volume - overlap(a, b), rel=1e-12)
    assert measure(finish(remove(a, [b]))).volume == pytest.approx(1000 - overlap(a, b), rel=1e-12)
    assert measure(finish(common(a, b))).volume == pytest.approx(overlap(a, b), rel=1e-12)


@given(st.integers(1, 9), st.floats(1.0, 2.4), st.floats(0.2, 1.2))
def test_k_through_holes_give_genus_k(k, radius, turn):
    """A drilled disc: k bores on a circle, each cut through; every label is there and every edge is
    closed.
    """
    disc = peg(40, 0, 4, 0.02, 1)
    cutters = [
        place(
            round_tool(2 * radius, -1, 5, 0.02, 10 + i),
            (12 * np.cos(turn + 2 * pi * i / k), 12 * np.sin(turn + 2 * pi * i / k), 0),
            np.eye(3),
        )
        for i in range(k)
    ]
    mesh = finish(remove(disc, cutters))
    figures = measure(mesh)
    assert (figures.genus, figures.pieces, figures.watertight) == (k, 1, True)
    assert labels_of(mesh) == {1, *range(10, 10 + k)}
    assert second_opinion(mesh).euler_number == 2 - 2 * k
    cut = k * measure(finish(round_tool(2 * radius, 0, 4, 0.02, 10))).volume
    assert figures.volume == pytest.approx(measure(finish(disc)).volume - cut, rel=1e-10)


def test_a_cut_through_keeps_both_halves_in_order():
    bar = block((0, 0, 0), (30, 5, 5), 1)
    halves = pieces(remove(bar, [block((10, -1, -1), (12, 6, 6), 2)]))
    assert [measure(finish(half)).volume for half in halves] == [250.0, 450.0]
    assert [measure(finish(half)).low[0] for half in halves] == [0.0, 12.0]


def test_a_closed_hollow_is_not_a_piece():
    box = remove(block((0, 0, 0), (10, 10, 10), 1), [block((2, 2, 2), (8, 8, 8), 2)])
    rattle = join([box, block((4, 4, 4), (5, 5, 5), 3)])
    assert [measure(finish(part)).volume for part in pieces(rattle)] == pytest.approx([784.0, 1.0])
    assert [labels_of(finish(part)) for part in pieces(rattle)] == [{1, 2}, {3}]
    assert (measure(finish(rattle)).pieces, measure(finish(rattle)).genus) == (2, 0)


def test_touch():
    a = block((0, 0, 0), (10, 10, 10), 1)
    assert touches(a, block((10, 2, 2), (12, 4, 4), 1))
    assert touches(a, block((3, 3, 3), (4, 4, 4), 1))
    assert touches(a, block((5, 5, 5), (15, 15, 15), 1))
    assert not touches(a, block((10 + 1e-6, 0, 0), (12, 4, 4), 1))
    assert not touches(a, block((10.5, 0, 0), (12, 4, 4), 1))
    assert touches(a, block((10.5, 0, 0), (12, 4, 4), 1), within=0.6)


def test_where_faces_coincide_the_label_is_of_a_solid_that_has_a_face_there():
    one, two = block((0, 0, 0), (10, 10, 5), 1), block((5, 0, 0), (15, 10, 5), 2)
    for order in ([one, two], [two, one]):
        mesh = finish(join(order))
        assert measure(mesh).volume == pytest.approx(750, rel=1e-14)
        across = mesh.points[mesh.triangles][:, :, 0]
        assert across[mesh.labels == 1].max() == 10
        assert across[mesh.labels == 2].min() == 5
        assert labels_of(mesh) == {1, 2}


@given(
    st.lists(st.tuples(st.floats(6, 34), st.floats(6, 24), st.floats(1, 6), units), max_size=4),
    st.lists(st.tuples(st.floats(6, 34), st.floats(6, 24), st.floats(3, 12)), max_size=3),
    units,
    st.booleans(),
)
def test_a_shelf_bracket_of_all_kinds_of_features(bores, bosses, cut, other_hand):
    """Plate, upright, fillet, pads, bosses, slanted bores, countersinks, a trim: closed, labelled, pieces
    agree.
    """
    parts = [
        prism(Region((rectangle(40, 30),)), 0, 5, 10, 11, EndBevels(0.5, 0.5, 12)),
        block((-3, 0, 0), (0, 30, 14), 13),
    ]
    parts.append(
        corner_fill(
            InsideCorner((0, 0, 5), (0, 1, 0), (1, 0, 0), (0, 0, 1), 2, 28), FillSection(3, 3, True), 14
        )
    )
    for x, y, across in bosses:
        parts.append(place(peg(across, 2, 5 + across, 0.01, 15), (x, y, 0), np.eye(3)))
        pad = ramped(Region((rectangle(4, 3, (16,) * 4),)), PadHeights(5, 6.5, 2), 2, 16)
        parts.append(place(pad, (y, x / 2, 0), np.eye(3)))
    cutters = []
    for x, y, across, way in bores:
        cutters.append(place(round_tool(across, -80, 80, 0.01, 17), (x, y, 2.5), frame_along(way)))
        cutters.append(place(cone_tool(Countersink(8, 3, 5, 2, 20), 0.01, 18), (y, x / 2, 0), np.eye(3)))
    whole = remove(join(parts), cutters)
    solid = trim(whole, (20, 15, 3), cut, 19)
    beside = [
        trim(whole, tuple(np.array((20.0, 15.0, 3.0)) + off * np.array(cut)), cut, 19)
        for off in (1e-4, -1e-4)
    ]
    solid = mirrored(solid, 0) if other_hand else solid
    mesh = finish(solid)
    figures = measure(mesh)
    second_opinion(mesh)
    assert figures.watertight
    assert mesh.labels.min() >= 1
    if beside[0].volume() - beside[1].volume() > 1e-6:  # else the plane lies in a bore all along
        assert 19 in labels_of(mesh)
    assert len(pieces(solid)) == figures.pieces
    assert sum(measure(finish(part)).volume for part in pieces(solid)) == pytest.approx(
        figures.volume, rel=1e-9
    )


def test_nothing_to_join_is_said():
    with pytest.raises(Trouble, match="nothing here"):
        join([])
