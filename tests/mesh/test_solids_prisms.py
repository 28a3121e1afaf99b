"""Prisms, pads and bevels against closed forms (textbook geometry), and the cutting of faces into cells."""

from __future__ import annotations

from math import pi, sin, sqrt

import makegood.mesh.caps as caps
import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from makegood.diagnostics.types import Trouble
from makegood.mesh import EndBevels, PadHeights, finish, measure, mirrored, prism, ramped
from makegood.outlines.types import Region, Ring

from .solid_scenes import (
    HEX_PRISM_S8_H4,
    NGON_CYLINDER_R5_H10_N64,
    ROUNDED_RECT_30X20_R4,
    SLOT_C12_W4_T3,
    arcs,
    area_of,
    circle,
    labels_of,
    mitre_inset,
    plate_with_bores,
    rectangle,
    ring,
    second_opinion,
)


def volume(solid) -> float:
    return measure(finish(solid)).volume


def test_hexagon_prism_is_the_closed_form():
    spanner = circle(0, 0, 8 / sqrt(3), 6)
    assert volume(prism(Region((spanner,)), 1.0, 5.0, 1, 2)) == pytest.approx(HEX_PRISM_S8_H4, rel=1e-13)


def test_64_sided_cylinder_is_the_closed_form():
    tin = prism(Region((circle(0, 0, 5, 64),)), 0, 10, 1, 2)
    assert volume(tin) == pytest.approx(NGON_CYLINDER_R5_H10_N64, rel=1e-13)


@pytest.mark.parametrize(
    ("ends", "radius", "straight", "exact"),
    [
        ([(6, 0, -pi / 2, pi / 2), (-6, 0, pi / 2, 1.5 * pi)], 2, 3.0, SLOT_C12_W4_T3),
        (
            [(11, 6, 0, pi / 2), (-11, 6, pi / 2, pi), (-11, -6, pi, 1.5 * pi), (11, -6, 1.5 * pi, 2 * pi)],
            4,
            1.0,
            ROUNDED_RECT_30X20_R4,
        ),
    ],
)
def test_rounded_outlines_converge_on_the_closed_form(ends, radius, straight, exact):
    short = [exact - volume(prism(Region((arcs(ends, radius, n),)), 0, straight, 1, 2)) for n in (16, 32, 64)]
    assert 0 < short[2] < 2e-3 * exact
    assert short[0] / short[1] == pytest.approx(4, rel=0.01)
    assert short[1] / short[2] == pytest.approx(4, rel=0.01)


def test_every_face_carries_its_own_label_and_looks_its_own_way():
    mesh = finish(prism(Region((rectangle(30, 20), circle(8, 8, 3, 24, 9, hole=True))), 2, 6, 10, 11))
    corners = mesh.points[mesh.triangles]
    normals = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
    normals /= np.linalg.norm(normals, axis=1)[:, None]
    looks = {1: (0, -1, 0), 2: (1, 0, 0), 3: (0, 1, 0), 4: (-1, 0, 0), 10: (0, 0, 1), 11: (0, 0, -1)}
    for label, way in looks.items():
        assert np.abs(normals[mesh.labels == label] - way).max() < 1e-12
    inwards = corners[mesh.labels == 9].mean(axis=1)[:, :2] - 8
    assert ((normals[mesh.labels == 9][:, :2] * inwards).sum(axis=1) < 0).all()
    assert labels_of(mesh) == {1, 2, 3, 4, 9, 10, 11}


def test_bevel_volume_is_the_integral_of_the_drawn_in_areas():
    a, b, h, c, d = 30.0, 20.0, 6.0, 1.5, 0.8
    solid = prism(Region((rectangle(a, b),)), 0, h, 10, 11, EndBevels(c, d, 12, mitre_inset))
    lost = sum(
        (a + b) * x**2 - 4 * x**3 / 3 for x in (c, d)
    )  # integral of a b - (a - 2t)(b - 2t), t from 0 to x
    mesh = finish(solid)
    assert measure(mesh).volume == pytest.approx(a * b * h - lost, rel=1e-13)
    assert labels_of(mesh) == {1, 2, 3, 4, 10, 11, 12}
    assert mesh.points[:, 2].min() == 0.0
    assert mesh.points[:, 2].max() == h


def test_bevels_widen_holes():
    region = Region((rectangle(30, 20), rectangle(4, 4, 7, 10, 8)))
    region = Region((region.rings[0], Ring(region.rings[1].points[::-1].copy(), region.rings[1].labels)))
    figures = measure(finish(prism(region, 0, 6, 10, 11, EndBevels(1.0, 0.0, 12, mitre_inset))))
    outer, hole = (30 + 20) - 4 / 3, 2 * 4 + 4 / 3  # hole: integral of (4 + 2t)^2 - 16, t from 0 to 1
    assert figures.volume == pytest.approx((600 - 16) * 6 - outer - hole, rel=1e-13)
    assert figures.genus == 1


def test_bevels_that_meet_and_a_bevel_up_to_a_point_stay_closed():
    square = Region((rectangle(10, 10),))
    figures = measure(finish(prism(square, 0, 4, 10, 11, EndBevels(2, 2, 12, mitre_inset))))
    assert figures.volume == pytest.approx(
        2 * 2 / 6 * (100 + 4 * 64 + 36), rel=1e-13
    )  # prismatoid rule, both halves
    pyramid = finish(prism(square, 0, 5, 10, 11, EndBevels(5, 0, 12, mitre_inset)))
    assert measure(pyramid).volume == pytest.approx(100 * 5 / 3, rel=1e-13)
    assert len(pyramid.points) == 5


@pytest.mark.parametrize(
    ("code", "make"),
    [
        ("no-thickness", lambda r: prism(r, 3, 3, 1, 2)),
        ("no-thickness", lambda r: ramped(r, PadHeights(3, 3), 1, 2)),
        ("bevel-too-large", lambda r: prism(r, 0, 3, 1, 2, EndBevels(2, 1.5, 3, mitre_inset))),
        ("bevel-too-large", lambda r: prism(r, 0, 3, 1, 2, EndBevels(1, 0, 3, lambda region, by: None))),
        ("ramp-too-long", lambda r: ramped(r, PadHeights(0, 3), 1, 2, inset=lambda region, by: None)),
        ("no-outline", lambda r: prism(Region((ring([(0, 0), (1, 0), (1, 0)]),)), 0, 3, 1, 2)),
        ("bad-solid", lambda r: prism(Region((ring([(0, 0), (1, 0), (np.nan, 1)]),)), 0, 3, 1, 2)),
    ],
)
def test_what_cannot_be_made_is_said(code, make):
    with pytest.raises(Trouble) as caught:
        make(Region((rectangle(10, 10),)))
    assert caught.value.code == code
    assert caught.value.says


def test_edges_of_no_length_are_dropped_and_the_next_label_stays():
    doubled = ring([(0, 0), (0, 0), (10, 0), (10, 10), (10, 10), (10, 10), (0, 10)], (8, 1, 2, 8, 8, 3, 4))
    mesh = finish(prism(Region((doubled,)), 0, 1, 10, 11))
    assert measure(mesh).volume == pytest.approx(100, rel=1e-14)
    assert labels_of(mesh) == {1, 2, 3, 4, 10, 11}


def test_ramped_pad_is_the_frustum_and_points_either_way():
    pad = Region((rectangle(10, 6),))
    exact = 2 / 6 * (60 + 4 * (13 * 9) + 16 * 12)  # prismatoid rule: 10 x 6 above, 16 x 12 at the foot
    up = finish(ramped(pad, PadHeights(4, 6), 3, 5, inset=mitre_inset))
    down = finish(ramped(pad, PadHeights(0, -2), 3, 5, inset=mitre_inset))
    rooted = finish(ramped(pad, PadHeights(4, 6, 3.5), 3, 5, inset=mitre_inset))
    assert measure(up).volume == pytest.approx(exact, rel=1e-13)
    assert measure(down).volume == pytest.approx(exact, rel=1e-13)
    assert measure(rooted).volume == pytest.approx(exact + 16 * 12 * 0.5, rel=1e-13)
    assert (measure(down).low[2], measure(down).high[2]) == (-2.0, 0.0)
    top = up.points[up.points[:, 2] == 6.0]
    assert (top[:, 0].min(), top[:, 0].max(), top[:, 1].min(), top[:, 1].max()) == (0.0, 10.0, 0.0, 6.0)
    assert labels_of(up) == labels_of(down) == {5}


def test_plain_pad_needs_no_offset():
    assert volume(ramped(Region((rectangle(10, 6),)), PadHeights(0, 2), 0, 5)) == pytest.approx(
        120, rel=1e-14
    )


# --- faces cut into cells
# ---------------------------------------------------------------------------------------


@pytest.fixture(scope="module", autouse=True)
def _cells_from_ten_rings_on():
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(caps, "PLAIN_RINGS", 10)
        yield


def test_faces_with_many_bores_really_are_cut():
    rings = [each.points for each in plate_with_bores(7, 7).rings]
    assert caps._tiled(rings) is not None
    assert len(caps.cap(rings).points) > sum(map(len, rings))


def test_rings_that_cross_are_left_to_the_plain_route():
    """Not a valid region; what counts is that cutting notices instead of mixing up its cells."""
    rings = [each.points for each in plate_with_bores(7, 7, radius=3.2, pitch=6.0).rings]
    assert caps._tiled(rings) is None


@pytest.mark.parametrize("rows_columns", [(1, 90), (90, 1), (12, 15)])
def test_many_bores_in_rows(rows_columns):
    rows, columns = rows_columns
    region = plate_with_bores(rows, columns)
    k = rows * columns
    mesh = finish(prism(region, 0, 3, 10, 11))
    figures = measure(mesh)
    hole = 12 / 2 * 2.5**2 * sin(2 * pi / 12)
    assert figures.volume == pytest.approx(3 * k * (36 - hole), rel=1e-11)
    assert (figures.genus, figures.pieces, figures.watertight) == (k, 1, True)
    assert second_opinion(mesh).euler_number == 2 - 2 * k
    assert labels_of(mesh) == {1, 2, 3, 4, 7, 10, 11}


def test_cells_and_the_plain_route_make_the_same_shape(monkeypatch):
    region = plate_with_bores(9, 9)
    tiled = finish(prism(region, 0, 3, 10, 11))
    monkeypatch.setattr(caps, "PLAIN_RINGS", 10**9)
    plain = finish(prism(region, 0, 3, 10, 11))
    assert measure(tiled).volume == pytest.approx(measure(plain).volume, rel=1e-13)
    assert measure(tiled).area == pytest.approx(measure(plain).area, rel=1e-12)
    areas = []
    for mesh in (tiled, plain):
        a, b, c = (mesh.points[mesh.triangles[:, k]] for k in range(3))
        size = np.linalg.norm(np.cross(b - a, c - a), axis=1) / 2
        areas.append([float(size[mesh.labels == label].sum()) for label in (1, 2, 3, 4, 7, 10, 11)])
    np.testing.assert_allclose(areas[0], areas[1], rtol=1e-11)


def test_cutting_grows_the_mesh_by_little():
    region = plate_with_bores(20, 20, n=36)
    ring_points = sum(len(each.points) for each in region.rings)
    assert len(caps.cap([each.points for each in region.rings]).points) < 1.03 * ring_points


drifts = st.lists(st.tuples(st.floats(-0.49, 0.49), st.floats(-0.49, 0.49)), min_size=49, max_size=49)


@given(drifts, st.floats(0, pi), st.integers(3, 9))
def test_bores_anywhere_at_any_turn(drift, turn, n):
    rows = [drift[7 * j : 7 * j + 7] for j in range(7)]
    flat = plate_with_bores(7, 7, n=n, drift=rows)
    c, s = np.cos(turn), np.sin(turn)
    region = Region(
        tuple(Ring(each.points @ np.array([[c, s], [-s, c]]), each.labels) for each in flat.rings)
    )
    figures = measure(finish(prism(region, -1, 1, 10, 11)))
    assert figures.volume == pytest.approx(2 * area_of(region), rel=1e-11)
    assert (figures.genus, figures.pieces, figures.watertight) == (49, 1, True)


def test_islands_in_holes_are_pieces_of_their_own():
    nested = [rectangle(60, 60)]
    for i in range(6):
        for j in range(6):
            nested += [
                circle(5 + 10 * i, 5 + 10 * j, 4, 16, 7, hole=True),
                circle(5 + 10 * i, 5 + 10 * j, 2, 12, 8),
            ]
    region = Region(tuple(nested))
    figures = measure(finish(prism(region, 0, 2, 10, 11)))
    assert (figures.pieces, figures.genus) == (37, 36)
    assert figures.volume == pytest.approx(2 * area_of(region), rel=1e-12)


def test_bevelled_plate_with_many_bores_stays_closed():
    region = plate_with_bores(8, 8)
    mesh = finish(prism(region, 0, 3, 10, 11, EndBevels(0.2, 0.2, 12, mitre_inset)))
    second_opinion(mesh)
    drawn = area_of(mitre_inset(region, 0.2)), area_of(mitre_inset(region, 0.1)), area_of(region)
    exact = 2.6 * drawn[2] + 2 * 0.2 / 6 * (drawn[0] + 4 * drawn[1] + drawn[2])
    assert measure(mesh).volume == pytest.approx(exact, rel=1e-11)
    assert measure(mesh).genus == 64


def test_the_outline_rooms_own_inset_is_used_when_none_is_given():
    quarters = [(11, 6, 0, pi / 2), (-11, 6, pi / 2, pi), (-11, -6, pi, 1.5 * pi), (11, -6, 1.5 * pi, 2 * pi)]
    outline = Region((arcs(quarters, 4, 24),))
    bevelled = volume(prism(outline, 0, 5, 10, 11, EndBevels(0.5, 0.5, 12)))
    sections = [area_of(mitre_inset(outline, x)) for x in (0, 0.25, 0.5)]
    edges = 2 * 0.5 / 6 * (sections[0] + 4 * sections[1] + sections[2])
    assert bevelled == pytest.approx(4 * sections[0] + edges, rel=1e-12)
    foot = [area_of(mitre_inset(outline, x)) for x in (0, -1, -2)]
    assert volume(ramped(outline, PadHeights(0, 3), 2, 5)) == pytest.approx(
        3 / 6 * (foot[0] + 4 * foot[1] + foot[2]), rel=1e-12
    )
    with pytest.raises(Trouble) as caught:
        prism(outline, 0, 15, 10, 11, EndBevels(10.5, 0, 12))  # wider than half the plate
    assert caught.value.code == "bevel-too-large"


def test_a_ramp_into_its_own_hollow_is_said():
    notched = Region((ring([(0, 0), (20, 0), (20, 10), (11, 10), (11, 5), (9, 5), (9, 10), (0, 10)]),))
    assert volume(ramped(notched, PadHeights(0, 1), 0.9, 5)) > 190
    with pytest.raises(Trouble) as caught:
        ramped(notched, PadHeights(0, 1), 1.5, 5)
    assert caught.value.code == "ramp-too-long"


def test_mirroring_keeps_volume_and_labels():
    solid = prism(plate_with_bores(8, 8), 0, 3, 10, 11)
    for axis in range(3):
        mesh = finish(mirrored(solid, axis))
        assert measure(mesh).volume == pytest.approx(volume(solid), rel=1e-13)
        assert labels_of(mesh) == {1, 2, 3, 4, 7, 10, 11}
        second_opinion(mesh)
