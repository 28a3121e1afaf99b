"""Turnings and round tools: closed forms and Pappus (textbook geometry), convergence, and who passes through
whom.
"""

from __future__ import annotations

from math import acos, cos, pi, sin, tan

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from makegood.diagnostics.types import Trouble
from makegood.mesh import block, common, finish, measure, place, remove
from makegood.mesh.tools import Countersink, cone_tool, peg, round_tool
from makegood.mesh.turnings import facet_count, turned, unit_circle

from .solid_scenes import (
    CAP_R10_H3,
    CYLINDER_R5_H10,
    FRUSTUM_6_4_10,
    STEINMETZ_R5,
    TORUS_20_3,
    facet_samples,
    furthest_from_axis,
    labels_of,
    nearest_to_axis,
    second_opinion,
)


def turn(profile, chord, outside=True, labels=None):
    n = len(profile)
    marks = np.full(n, outside) if isinstance(outside, bool) else np.array(outside)
    return turned(
        np.array(profile, dtype=float), np.arange(n) if labels is None else np.array(labels), marks, chord
    )


def spread(profile) -> float:
    """Volume by Pappus: 2 pi times the first moment of the profile about the axis."""
    p = np.array(profile, dtype=float)
    q = np.roll(p, -1, axis=0)
    return abs(float(((p[:, 0] + q[:, 0]) * (p[:, 0] * q[:, 1] - q[:, 0] * p[:, 1])).sum())) * pi / 3


def bow(radius, centre_r, centre_z, first, last, n):
    angles = [first + (last - first) * k / n for k in range(n + 1)]
    return [(centre_r + radius * cos(a), centre_z + radius * sin(a)) for a in angles]


CAP = [(0.0, 7.0), *bow(10, 0, 0, acos(0.0) - acos(0.7), pi / 2, 400)[:-1], (0.0, 10.0)]

ROUND_THINGS = {
    "cylinder": ([(0, 0), (5, 0), (5, 10), (0, 10)], CYLINDER_R5_H10),
    "frustum": ([(0, 0), (6, 0), (4, 10), (0, 10)], FRUSTUM_6_4_10),
    "cap of a ball": (CAP, CAP_R10_H3),
    "o-ring": (bow(3, 20, 0, 0, 2 * pi, 400)[:-1], TORUS_20_3),
}


@pytest.mark.parametrize("name", ROUND_THINGS)
def test_halving_the_chord_halves_what_is_missing(name):
    """Area of an inscribed polygon: 1 - 2/3 (pi/n)^2 of the circle, and chord error r (pi/n)^2 / 2: linear in
    it.
    """
    profile, exact = ROUND_THINGS[name]
    assert spread(profile) == pytest.approx(exact, rel=1e-4)
    short = []
    for chord in (0.02, 0.005, 0.00125):
        mesh = finish(turn(profile, chord))
        short.append(spread(profile) - measure(mesh).volume)
        assert short[-1] > 0
    assert measure(mesh).volume == pytest.approx(exact, rel=4e-4)
    assert short[0] / short[1] == pytest.approx(4, rel=0.25)
    assert short[1] / short[2] == pytest.approx(4, rel=0.25)


@pytest.mark.parametrize("name", ROUND_THINGS)
def test_volume_is_pappus_with_the_polygons_share(name):
    profile, _ = ROUND_THINGS[name]
    n = facet_count(max(r for r, _ in profile), 0.01)
    mesh = finish(turn(profile, 0.01))
    assert measure(mesh).volume == pytest.approx(spread(profile) * sin(2 * pi / n) / (2 * pi / n), rel=1e-12)
    inner = finish(turn(profile, 0.01, outside=False))
    assert measure(inner).volume == pytest.approx(spread(profile) * tan(pi / n) / (pi / n), rel=1e-12)
    assert second_opinion(mesh).euler_number == (0 if name == "o-ring" else 2)


def test_pipe_is_thin_where_it_must_be():
    mesh = finish(turn([(2.5, 0), (4, 0), (4, 9), (2.5, 9)], 0.01, [False, True, True, False]))
    assert nearest_to_axis(mesh, [3]) >= 2.5 - 1e-9
    assert furthest_from_axis(mesh) <= 4 + 1e-12
    assert measure(mesh).genus == 1
    assert labels_of(mesh) == {0, 1, 2, 3}
    exact = pi * (16 - 6.25) * 9
    errors = []
    for chord in (0.01, 0.0025):
        figures = measure(
            finish(turn([(2.5, 0), (4, 0), (4, 9), (2.5, 9)], chord, [False, True, True, False]))
        )
        errors.append(exact - figures.volume)
    assert errors[0] / errors[1] == pytest.approx(4, rel=0.3)
    assert 0 < errors[1] < 2e-3 * exact


def test_a_wall_thinner_than_the_chord_gets_finer_facets():
    mesh = finish(turn([(4.999, 0), (5, 0), (5, 3), (4.999, 3)], 0.05, [False, True, True, False]))
    assert measure(mesh).volume > 0
    assert nearest_to_axis(mesh, [3]) >= 4.999 - 1e-9
    assert furthest_from_axis(mesh) <= 5 + 1e-12
    second_opinion(mesh)


def test_points_on_the_axis_are_single():
    mesh = finish(turn([(0, 0), (5, 5), (0, 10)], 0.05))
    assert (np.hypot(mesh.points[:, 0], mesh.points[:, 1]) < 1e-12).sum() == 2
    assert labels_of(mesh) == {0, 1}


def test_profile_may_run_either_way():
    profile, labels = [(0, 0), (6, 0), (4, 10), (0, 10)], [1, 2, 3, 4]
    back = [profile[k] for k in (3, 2, 1, 0)]
    one, two = finish(turn(profile, 0.01, labels=labels)), finish(turn(back, 0.01, labels=[3, 2, 1, 4]))
    assert one.points.tobytes() == two.points.tobytes()
    top = one.labels[(one.points[one.triangles][:, :, 2] == 10).all(axis=1)]
    again = two.labels[(two.points[two.triangles][:, :, 2] == 10).all(axis=1)]
    assert set(top.tolist()) == set(again.tolist()) == {3}


@pytest.mark.parametrize(
    ("code", "profile"),
    [
        ("behind-axis", [(-1, 0), (5, 0), (5, 3)]),
        ("crosses-itself", [(1, 0), (5, 5), (5, 0), (1, 5.5)]),
        ("no-outline", [(1, 0), (1, 0), (2, 0)]),
    ],
)
def test_bad_profiles_are_said(code, profile):
    with pytest.raises(Trouble) as caught:
        turn(profile, 0.01)
    assert caught.value.code == code


@given(st.floats(0.2, 200), st.floats(0.0005, 0.2))
def test_facets_keep_to_the_chord(radius, chord):
    n = facet_count(radius, chord)
    assert n >= 12
    assert n % 4 == 0
    if n < 4096:
        assert radius * (1 - cos(pi / n)) <= chord * (1 + 1e-9)
        assert n == 12 or radius * (1 - cos(pi / (n - 4))) > chord * (1 - 1e-9)


def test_facet_counts_are_the_measured_ones_rounded_up_to_four():
    """pi / acos(1 - e / r) worked out separately for e = 0.01: 23, 36, 50, 71, 112, 158."""
    assert [facet_count(r, 0.01) for r in (1, 2.5, 5, 10, 25, 50)] == [24, 36, 52, 72, 112, 160]


def test_unit_circle_is_round_and_even():
    for n in (12, 36, 160):
        circle = unit_circle(n)
        np.testing.assert_allclose(np.hypot(*circle.T), 1, rtol=1e-15)
        assert circle[0].tolist() == [1.0, 0.0]
        assert circle[n // 4].tolist() == [0.0, 1.0]
        assert (circle[: n // 2] == -circle[n // 2 :]).all()


# --- who passes through whom
# ------------------------------------------------------------------------------------


@given(st.floats(0.5, 40), st.floats(0.002, 0.1))
def test_a_true_cylinder_passes_its_bore_and_a_peg_goes_in_its_own(across, chord):
    plate = block((-across, -across, 0), (across, across, 3), 1)
    bored = finish(remove(plate, [round_tool(across, -1, 4, chord, 9)]))
    assert nearest_to_axis(bored, [9]) >= across / 2 - 1e-6
    assert nearest_to_axis(bored, [9]) <= across / 2 + 1e-6  # and not by more than needed
    assert labels_of(bored) == {1, 9}
    assert measure(bored).genus == 1
    assert furthest_from_axis(finish(peg(across, 0, 3, chord, 2))) <= across / 2 + 1e-12
    free = measure(finish(common(round_tool(across, 0, 3, chord, 9), peg(across, 0, 3, chord, 2))))
    assert free.volume == pytest.approx(measure(finish(peg(across, 0, 3, chord, 2))).volume, rel=1e-9)


@pytest.mark.parametrize("deep", [0.0, 3.0])
def test_a_true_cone_fits_its_countersink(deep):
    plate = block((-8, -8, 0), (8, 8, 4), 1)
    cut = finish(remove(plate, [cone_tool(Countersink(8.0, deep, 4.0, 2.5, above=1.0), 0.01, 9)]))
    at = facet_samples(cut, [9])
    wall = at[at[:, 2] > 1.5 + 1e-9]
    true_radius = deep / 2 + (8.0 - deep) / 2 * (wall[:, 2] - 1.5) / 2.5
    clear = np.hypot(wall[:, 0], wall[:, 1]) - true_radius
    assert clear.min() >= -1e-6
    assert clear.max() < 0.011


def test_countersink_from_below_is_the_same_upside_down():
    up = measure(finish(cone_tool(Countersink(8, 3, 0, 2, above=1), 0.01, 1)))
    down = measure(finish(cone_tool(Countersink(8, 3, 0, -2, above=1), 0.01, 1)))
    assert up.volume == pytest.approx(down.volume, rel=1e-13)
    assert (up.low[2], up.high[2]) == (-2.0, 1.0)
    assert (down.low[2], down.high[2]) == (-1.0, 2.0)


def test_tapered_peg_stays_inside_its_cone():
    mesh = finish(peg(12, 0, 10, 0.01, 3, across_high=8))
    radius = np.hypot(mesh.points[:, 0], mesh.points[:, 1])
    assert (radius <= 6 - 0.2 * mesh.points[:, 2] + 1e-12).all()
    assert measure(mesh).volume == pytest.approx(FRUSTUM_6_4_10, rel=3e-3)


def test_two_crossing_rods_converge_on_steinmetz():
    """Volume common to two equal cylinders that cross square: 16/3 r^3 (Archimedes, textbook closed form)."""
    across = np.array([[0.0, 0, 1], [0, 1, 0], [-1, 0, 0]])
    errors = []
    for chord in (0.02, 0.005):
        rod = peg(10, -8, 8, chord, 1)
        mesh = finish(common(rod, place(peg(10, -8, 8, chord, 2), (0, 0, 0), across)))
        assert labels_of(mesh) == {1, 2}
        errors.append(STEINMETZ_R5 - measure(mesh).volume)
    assert 0 < errors[1] < 3e-3 * STEINMETZ_R5
    assert errors[0] / errors[1] == pytest.approx(4, rel=0.25)
