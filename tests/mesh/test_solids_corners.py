"""Gussets and fillets in an inside corner, by closed forms (textbook geometry)."""

from __future__ import annotations

from math import cos, pi, radians, sin, tan

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from makegood.diagnostics.types import Trouble
from makegood.mesh import block, finish, join, measure
from makegood.mesh.corners import FillSection, InsideCorner, corner_fill
from msgspec.structs import replace

from .solid_scenes import facet_samples, labels_of, second_opinion

SQUARE = ((0.0, 0.0, 0.0), (0.0, 1.0, 0.0), (1.0, 0.0, 0.0), (0.0, 0.0, 1.0))


def section(kind, degrees, reach_a, reach_b, chord=0.01):
    b = (cos(radians(degrees)), sin(radians(degrees)), 0.0)
    corner = InsideCorner((0, 0, 0), (0, 0, 1), (1, 0, 0), b, 0, 4)
    return finish(corner_fill(corner, FillSection(reach_a, reach_b, kind == "hollow"), 1, chord))


@given(st.floats(20, 160), st.floats(1, 12), st.floats(1, 12))
def test_gusset_is_half_the_parallelogram(degrees, reach_a, reach_b):
    exact = reach_a * reach_b * sin(radians(degrees)) / 2 * 4
    assert measure(section("straight", degrees, reach_a, reach_b)).volume == pytest.approx(exact, rel=1e-12)


@pytest.mark.parametrize("degrees", [40, 90, 135])
def test_fillet_converges_on_its_closed_form(degrees):
    r, angle = 5.0, radians(degrees)
    exact = r * r * (1 / tan(angle / 2) - (pi - angle) / 2)
    if degrees == 90:
        assert exact == pytest.approx((1 - pi / 4) * r * r, rel=1e-14)
    short = [exact - measure(section("hollow", degrees, r, r, chord)).volume / 4 for chord in (0.02, 0.00125)]
    assert 0 < short[1] < 4e-3 * exact
    assert short[0] / short[1] == pytest.approx(16, rel=0.5)


@given(st.floats(25, 155), st.floats(0.5, 20), st.floats(0.002, 0.1))
def test_a_gauge_of_the_true_radius_sits_in_the_fillet(degrees, radius, chord):
    mesh = section("hollow", degrees, radius, radius, chord)
    angle = radians(degrees)
    centre = np.array([radius / tan(angle / 2), radius])
    at = facet_samples(mesh, [1])
    distance = np.hypot(*(at[:, :2] - centre).T)
    assert distance.min() >= radius - 1e-9 * max(1.0, np.abs(centre).max())
    assert distance.min() <= radius + 1e-6
    corners = np.sort(np.hypot(*(mesh.points[:, :2] - centre).T))
    assert corners[: len(corners) - 2].max() <= radius + chord * 1.5 + 1e-9  # all but the corner itself


def test_either_turn_of_the_edge_gives_the_same_place():
    one = finish(
        corner_fill(InsideCorner((1, 2, 3), (0, 1, 0), (1, 0, 0), (0, 0, 1), 0, 5), FillSection(4, 2), 1)
    )
    two = finish(
        corner_fill(InsideCorner((1, 2, 3), (0, -1, 0), (1, 0, 0), (0, 0, 1), -5, 0), FillSection(4, 2), 1)
    )
    for mesh in (one, two):
        assert (measure(mesh).low, measure(mesh).high) == ((1.0, 2.0, 3.0), (5.0, 7.0, 5.0))
        second_opinion(mesh)


@pytest.mark.parametrize("kind", ["straight", "hollow"])
def test_fill_grows_together_with_both_flats(kind):
    """A shelf bracket: a foot, an upright, and the corner between them filled over part of its length."""
    foot, upright = block((-3, 0, -3), (20, 30, 0), 1), block((-3, 0, -3), (0, 30, 20), 2)
    fill = corner_fill(InsideCorner(*SQUARE, 5, 25), FillSection(6, 6, kind == "hollow"), 3, 0.005)
    mesh = finish(join([foot, upright, fill]))
    added = measure(mesh).volume - measure(finish(join([foot, upright]))).volume
    exact = 18.0 if kind == "straight" else (1 - pi / 4) * 36
    assert added == pytest.approx(20 * exact, rel=1e-9 if kind == "straight" else 5e-3)
    assert (measure(mesh).pieces, measure(mesh).genus) == (1, 0)
    assert labels_of(mesh) == {1, 2, 3}


@pytest.mark.parametrize(
    ("code", "change"),
    [
        ("flat-corner", {"second": (-1.0, 0.0, 0.0)}),
        ("no-thickness", {"stop": 0.0}),
        ("no-thickness", {"reach_a": 0.0}),
        ("uneven-fillet", {"reach_a": 3.0}),
    ],
)
def test_what_cannot_be_filled_is_said(code, change):
    corner, section = InsideCorner(*SQUARE, 0.0, 5.0), FillSection(2.0, 2.0, hollow=True)
    in_section = {key: value for key, value in change.items() if key.startswith("reach")}
    in_corner = {key: value for key, value in change.items() if key not in in_section}
    with pytest.raises(Trouble) as caught:
        corner_fill(replace(corner, **in_corner), replace(section, **in_section), 1)
    assert caught.value.code == code
