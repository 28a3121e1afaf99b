"""Thickened and relieved zones against closed forms (prismatoid rule: h / 6 (A + 4 M + B), exact for
ramps).
"""

from __future__ import annotations

from math import pi

import pytest

from .figures import disc, frustum
from .making import falls_short, inside, made

PLAIN = """
block bar
    long 60.0
    wide 20.0
    thick 4.0
point here
    at -10.0, 0 from bar
line crease
    from bar.left 20.0
    parallel to bar.left
rectangle patch
    long 12.0
    wide 8.0
    at 5.0, 1.0 from bar
"""
SOLID = 60.0 * 20.0 * 4.0


ADDED = {
    "band": ("along crease wide 10.0\n    by 2.0", "front", 10 * 20 * 2.0, 0.0),
    # a ramp of 3 on both sides of the band, cut off at the long edges of the bar
    "band with ramp": (
        "along crease wide 10.0\n    by 2.0\n    ramp 3.0",
        "front",
        (10 + 16) / 2 * 2.0 * 20.0,
        0.0,
    ),
    "band to overall": ("along crease wide 10.0\n    to 7.0 overall", "back", 10 * 20 * 3.0, 0.0),
    "band on both": ("along crease wide 10.0\n    to 7.0 overall", "", 10 * 20 * 3.0, 0.0),
    "band on both by": ("along crease wide 10.0\n    by 1.0", "", 10 * 20 * 2.0, 0.0),
    "collar": ("collar here to 12.0 overall\n    by 2.5", "front", disc(12.0) * 2.5, 200.0),
    "collar with ramp": (
        "collar here to 12.0 overall\n    by 2.0\n    ramp 3.0",
        "front",
        frustum(18.0, 12.0, 2.0),
        300.0,
    ),
    "inside": ("inside patch\n    by 1.5", "front", 12 * 8 * 1.5, 0.0),
    "inside with ramp": (
        "inside patch\n    by 1.5\n    ramp 2.0",
        "back",
        1.5 / 6 * (12 * 8 + 4 * 14 * 10 + 16 * 12),
        0.0,
    ),
}


@pytest.mark.parametrize("name", ADDED)
def test_thickened_zones_add_their_closed_form(name: str) -> None:
    facts, face, exact, curved = ADDED[name]
    on = "bar" if not face else f"bar.{face}"
    text = PLAIN + f"thicken zone\n    on {on}\n    {facts}\n"
    falls_short(made(text, 0.005), SOLID + exact, curved, 0.005)


TAKEN = {
    "band": ("along crease wide 10.0\n    by 1.0", "front", 10 * 20 * 1.0, 0.0),
    "band with ramp": (
        "along crease wide 10.0\n    by 1.0\n    ramp 2.0",
        "front",
        (10 + 14) / 2 * 20.0,
        0.0,
    ),
    "band to overall": ("along crease wide 10.0\n    to 2.5 overall", "back", 10 * 20 * 1.5, 0.0),
    "both": ("inside patch\n    to 2.0 overall", "", 12 * 8 * 2.0, 0.0),
    "collar": ("collar here to 12.0 overall\n    by 1.0", "front", disc(12.0), 60.0),
}


@pytest.mark.parametrize("name", TAKEN)
def test_relieved_zones_take_their_closed_form(name: str) -> None:
    facts, face, exact, curved = TAKEN[name]
    on = "bar" if not face else f"bar.{face}"
    text = PLAIN + f"relieve zone\n    on {on}\n    {facts}\n"
    result = made(text, 0.005)
    assert abs(result.figures.volume - (SOLID - exact)) <= curved * 0.005 + 1e-2


def test_overlapping_zones_take_the_greatest_thickness_not_the_sum() -> None:
    text = (
        PLAIN
        + """
thicken low
    on bar.front
    along crease wide 30.0
    by 1.0
thicken tall
    on bar.front
    along crease wide 10.0
    by 3.0
"""
    )
    falls_short(made(text), SOLID + 20 * (10 * 3.0 + 20 * 1.0), 0.0)


def test_a_hole_goes_through_the_thickened_zone_too() -> None:
    text = (
        PLAIN
        + """
bore eye
    across 6.0
    at -10.0, 0 from bar
thicken zone
    on bar
    collar eye to 12.0 overall
    to 9.0 overall
"""
    )
    result = made(text)
    falls_short(result, SOLID + disc(12.0) * 5.0 - disc(6.0) * 9.0, 500.0)
    assert result.figures.genus == 1


def test_a_zone_never_leaves_its_body() -> None:
    """A collar at the edge of the bar is cut by the bar's outline: half of it stands."""
    text = (
        PLAIN
        + """
point brink
    at 30.0, 0 from bar
thicken zone
    on bar.front
    collar brink to 10.0 overall
    by 2.0
"""
    )
    result = made(text)
    falls_short(result, SOLID + disc(10.0), 40.0)
    assert result.figures.box[0] == pytest.approx(60.0, abs=1e-9)


def test_relief_cuts_bar_and_thickening_alike() -> None:
    text = (
        PLAIN
        + """
thicken zone
    on bar.front
    along crease wide 10.0
    by 2.0
relieve pocket
    on bar.front
    inside patch
    by 1.0
"""
    )
    result = made(text)
    # crease at x 20 from the left, band 15..25; the patch spans 29..41: apart
    falls_short(result, SOLID + 400.0 - 96.0, 0.0)
    assert inside(result, (35.0, 11.0, 3.5), (35.0, 11.0, 2.5), (20.0, 3.0, 5.5)) == [False, True, True]


def test_band_along_two_points_has_square_ends_and_follows_a_corner() -> None:
    text = (
        PLAIN
        + """
point one
    at -20.0, -5.0 from bar
point two
    at 0, -5.0 from bar
point three
    at 0, 5.0 from bar
thicken zone
    on bar.front
    along one, two, three wide 4.0
    by 1.0
"""
    )
    # two bars, 20 x 4 and 10 x 4; overlap a quarter square of 2, plus the quarter round outside the corner
    falls_short(made(text), SOLID + 80 + 40 - 4.0 + pi, 10.0)
