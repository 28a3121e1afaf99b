"""Gear sizes against published examples and against each other.

Published: span over 3 of m 2, z 20 is 15.321 (a span measurement page); tooth of m 10, z 12, x 0.3 is 17.8918
thick (a text on metric gears, section 10); a helical pair 31 / 30, mn 3.5 at 116.5 needs shifts of 0.6518771
in all (the same text).  Over pins no published figure was found: the values here were worked out in two
independent ways elsewhere."""

from __future__ import annotations

import math

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from makegood.quantities.gears import (
    MODULES,
    PRESSURE,
    Gear,
    angle_of,
    centre_distance,
    contact_ratio,
    involute,
    shift_sum,
)

# m, z, x: d, db, da, df, tooth, k, span over k, over pins of 1.728 m
TABLE = [
    (1.0, 20, 0.0, 20.0, 18.793852, 22.0, 17.5, 1.570796, 3, 7.6604, 22.3900),
    (1.0, 17, 0.0, 17.0, 15.974775, 19.0, 14.5, 1.570796, 2, 4.6663, 19.3053),
    (2.0, 20, 0.0, 40.0, 37.587705, 44.0, 35.0, 3.141593, 3, 15.3209, 44.7800),
    (1.5, 31, 0.0, 46.5, 43.695707, 49.5, 42.75, 2.356194, 4, 16.1499, 50.0564),
    (3.0, 24, 0.4, 72.0, 67.657869, 80.4, 66.9, 5.585918, 4, 32.8266, 81.1064),
    (1.0, 12, 0.3, 12.0, 11.276311, 14.6, 10.1, 1.789178, 3, 7.7536, 14.7868),
    (0.5, 40, 0.0, 20.0, 18.793852, 21.0, 18.75, 0.785398, 5, 6.9224, 21.2109),
]


@pytest.mark.parametrize("row", TABLE, ids=lambda row: f"m{row[0]:g} z{row[1]} x{row[2]:g}")
def test_sizes_of_the_table(row: tuple[float, ...]):
    m, z, x, d, db, da, df, s, k, span, pins = row
    gear = Gear(int(z), m, x)
    assert (gear.pitch, gear.base, gear.tip, gear.root, gear.thickness) == pytest.approx(
        (d, db, da, df, s), abs=1e-6
    )
    assert gear.span(int(k)) == pytest.approx(span, abs=6e-5)
    assert gear.over_pins(1.728 * m) == pytest.approx(pins, abs=6e-5)


def test_published_examples():
    assert Gear(20, 2.0).span(3) == pytest.approx(15.321, abs=5e-4)
    tooth = Gear(12, 10.0, 0.3)
    assert tooth.thickness == pytest.approx(17.8918, abs=5e-5)
    half = tooth.half_angle(tooth.pitch)
    assert tooth.pitch * math.sin(half) == pytest.approx(17.8256, abs=5e-5)  # along the chord
    assert 0.5 * (tooth.tip - tooth.pitch * math.cos(half)) == pytest.approx(
        13.6657, abs=5e-5
    )  # height over that chord
    helix = math.acos(3.5 * 61 / 2 / 114.3447280708)
    assert math.degrees(Gear(31, 3.5, helix=helix).pressure) == pytest.approx(21.2990642859, abs=1e-8)
    assert shift_sum(61, 3.5, 116.5, helix) == pytest.approx(0.6518771312, abs=1e-8)
    assert involute(PRESSURE) == pytest.approx(0.01490438, abs=1e-8)


@given(st.floats(1e-7, 5.0))
def test_the_angle_of_an_involute_comes_back(value: float):
    assert involute(angle_of(value)) == pytest.approx(value, rel=1e-9)


@given(
    st.integers(8, 200),
    st.integers(8, 200),
    st.floats(-0.4, 0.8),
    st.floats(-0.4, 0.8),
    st.sampled_from(MODULES),
)
def test_distance_and_shifts_are_inverse(one: int, two: int, x: float, y: float, module: float):
    """From shifts to the distance and back; at no shift in all the distance is half of both pitch circles."""
    # Drawn so far in that the base circles would cross, no pair meshes.
    assume(involute(PRESSURE) + 2.0 * (x + y) * math.tan(PRESSURE) / (one + two) > 1e-9)
    distance = centre_distance(Gear(one, module, x), Gear(two, module, y))
    assert shift_sum(one + two, module, distance) == pytest.approx(x + y, abs=1e-7)
    assert centre_distance(Gear(one, module, x), Gear(two, module, -x)) == pytest.approx(
        0.5 * module * (one + two), rel=1e-9
    )


def test_pair_of_19_and_43():
    """Contact ratio by the textbook formula in terms of the angles at the tips: (z1 (tan aa1 - tan aw) + ...)
    / 2 pi.
    """
    one, two = Gear(19, 1.0), Gear(43, 1.0)
    assert centre_distance(one, two) == pytest.approx(31.0, abs=1e-12)
    tips = [math.acos(each.base / each.tip) for each in (one, two)]
    expected = sum(
        each.teeth * (math.tan(tip) - math.tan(PRESSURE)) for each, tip in zip((one, two), tips, strict=True)
    )
    assert contact_ratio(one, two, 31.0) == pytest.approx(expected / math.tau, rel=1e-12)
    assert 1.6 < contact_ratio(one, two, 31.0) < 1.7


def test_undercut_begins_below_seventeen_teeth():
    assert Gear(20, 1.0).undercut_below == pytest.approx(17.097, abs=5e-4)
    assert Gear(20, 1.0, 0.3).undercut_below == pytest.approx(0.7 * 17.097, abs=5e-4)


@given(st.integers(8, 60), st.floats(-0.2, 0.5))
def test_odd_counts_read_smaller_over_the_tips(teeth: int, shift: float):
    """Largest distance between two corners of the lands of a wheel, by trying them all."""
    gear = Gear(teeth, 1.0, shift)
    land = gear.half_angle(gear.tip)
    ends = [math.tau * k / teeth + side * land for k in range(teeth) for side in (-1.0, 1.0)]
    largest = max(gear.tip * abs(math.sin(0.5 * (a - ends[0]))) for a in ends)
    assert gear.over_tips >= largest - 1e-12  # lands that overlap across the wheel give the whole diameter
    if 2.0 * land < math.pi / teeth or teeth % 2 == 0:
        assert gear.over_tips == pytest.approx(max(largest, gear.tip if teeth % 2 == 0 else 0.0), rel=1e-9)


def test_19_teeth_over_the_tips():
    """By hand: da 21, land 0.6869 (21 (pi / 38 + inv 20 - inv 31.767 deg)), 90 / 19 - 1.8740 = 2.8628 deg."""
    assert Gear(19, 1.0).over_tips == pytest.approx(21.0 * math.cos(math.radians(2.8628)), abs=2e-4)


def test_a_ring_is_the_negative_of_its_wheel():
    """A ring's space is as wide as the wheel's tooth at every diameter, and pins between its flanks touch
    them.
    """
    ring, wheel = Gear(40, 1.0, 0.1, inside=True), Gear(40, 1.0, 0.1)
    for across in (38.2, 40.0, 42.0):
        assert ring.half_angle(across) == pytest.approx(wheel.half_angle(across), abs=1e-12)
    pin = 1.7
    centre = 0.5 * (ring.over_pins(pin) + pin)
    # distance from the pin's centre to the flank's generator: the involute lies pin / 2 beside the radius
    # line of the pin
    roll = (
        math.sqrt(centre**2 - (0.5 * ring.base) ** 2) + 0.5 * pin
    )  # length of the tangent to the touching point
    touch = math.hypot(0.5 * ring.base, roll)
    lean = math.acos(0.5 * ring.base / centre) - math.atan2(roll, 0.5 * ring.base)
    assert ring.half_angle(2.0 * touch) == pytest.approx(-lean if lean < 0 else lean, abs=1e-6)


def test_play_makes_teeth_thinner_and_spaces_wider():
    gear, worn = Gear(30, 1.5), Gear(30, 1.5, thinner=0.2)
    assert gear.pitch * (gear.half_angle(gear.pitch) - worn.half_angle(worn.pitch)) == pytest.approx(
        0.2, abs=1e-12
    )
    assert gear.span(4) - worn.span(4) == pytest.approx(0.2 * math.cos(PRESSURE), abs=1e-12)
    assert gear.over_pins(2.6) > worn.over_pins(2.6)
    ring, loose = Gear(60, 1.0, inside=True), Gear(60, 1.0, inside=True, thinner=0.2)
    assert ring.pitch * (loose.half_angle(60.0) - ring.half_angle(60.0)) == pytest.approx(0.2, abs=1e-12)
    assert loose.over_pins(1.7) > ring.over_pins(1.7)
