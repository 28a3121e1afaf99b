"""Thirteen household parts of `examples/`, each by a figure worked out by hand; the derivation stands in its
test.

Lengths in mm, volumes in mm3.  Facets stray by `CHORD`: a volume may miss its closed form by curved surface x
chord."""

from __future__ import annotations

from functools import cache
from math import acos, asin, atan, atan2, cos, degrees, log, pi, radians, sin, sqrt, tan

import numpy as np
import pytest
import shapely
from makegood.result import Result

from .figures import disc, frustum, segment
from .making import (
    EXAMPLES,
    corners,
    faces_of,
    falls_short,
    filed,
    inside,
    normals,
    passing,
    said,
    sound,
    spot,
)

CHORD = 0.002
ROUND, ROUND_AT = 1 - pi / 4, (10 - 3 * pi) / (3 * (4 - pi))
"""What a round of radius 1 takes off a corner, and how far from either side of the corner its centroid lies
(textbook).
"""


@cache
def part(name: str) -> Result:
    return filed(EXAMPLES / f"{name}.mend", CHORD)


def near(result: Result, exact: float, curved: float) -> None:
    """Within the facets' error either way, for parts with hollow and with full curves."""
    assert result.figures.volume == pytest.approx(exact, abs=curved * CHORD + 1e-6 * exact)


def crossing(large: float, small: float) -> float:
    """Two round bars of radii R > r crossing square: 8 integral of sqrt(R^2 - x^2) sqrt(r^2 - x^2) from 0 to
    r.
    """
    x = small * np.sin((np.arange(20_000) + 0.5) / 20_000 * pi / 2)
    return 8 * float((np.sqrt(large**2 - x**2) * (small**2 - x**2)).mean()) * pi / 2


def polygon_area(*points: tuple[float, float]) -> float:
    return 0.5 * abs(
        sum(a[0] * b[1] - b[0] * a[1] for a, b in zip(points, points[1:] + points[:1], strict=True))
    )


def test_coat_hook() -> None:
    """Outer face 52 + 22 + 20 long with two square bends of 5 inside: their outer radius is 10, that of the
    middle 7.5.

    Each leg is shorter by 10 at a bend; section 5 x 14; screws 4.5 with a 90 degree head of 9, 2.25 deep,
    twice."""
    result = part("coat-hook")
    middle = (52 - 10) + (22 - 20) + (20 - 10) + 2 * pi / 2 * 7.5
    screw = disc(4.5) * (5 - 2.25) + frustum(4.5, 9.0, 2.25)
    near(result, middle * 5 * 14 - 2 * screw, pi * 15 * 14 + 250)
    assert result.figures.box == pytest.approx((22.0, 52.0, 14.0), abs=1e-3)
    first, second = spot(result, "screw"), spot(result, "screw.2")
    assert (52 - first[1], first[2]) == pytest.approx((8.0, 7.0), abs=1e-5)
    assert first - second == pytest.approx((0.0, 18.0, 0.0), abs=1e-5)


def test_the_coat_hooks_shank_is_nearly_twice_as_stiff_as_it_was() -> None:
    """Second moment of the section between the screws: 14 x 5^3 / 12 = 145.83; of the old 4 thick one
    74.67.
    """
    rings = sound(part("coat-hook")).section(plane_origin=(0, 35.0, 0), plane_normal=(0, 1, 0)).discrete
    assert len(rings) == 1
    x, z = rings[0][:, 0] - (rings[0][:, 0].min() + rings[0][:, 0].max()) / 2, rings[0][:, 2]
    cross = x[:-1] * z[1:] - x[1:] * z[:-1]
    moment = (
        abs(float((cross * (x[:-1] ** 2 + x[:-1] * x[1:] + x[1:] ** 2)).sum())) / 12
    )  # integral of x^2 by Green
    assert moment == pytest.approx(14 * 5**3 / 12, rel=1e-5)
    assert moment / (14 * 4**3 / 12) == pytest.approx(1.953, abs=1e-3)


def test_door_wedge() -> None:
    """110 x 38 at a mean height of 12.25; six grooves 2 x 1 x 38; a hole of 6 where the wedge is 2.5 + 19.5 x
    100 / 110 high; an arrow of 0.89 x 12^2 let in 0.6 square to the slope."""
    result = part("door-wedge")
    hole = disc(6.0) * (2.5 + 19.5 * 100 / 110)
    falls_short(result, 110 * 38 * 12.25 - 6 * 2 * 38 - hole - 0.6 * 0.89 * 144, pi * 6 * 20.3, CHORD)
    assert spot(result, "groove.6")[0] - spot(result, "groove")[0] == pytest.approx(50.0, abs=1e-6)
    floor = normals(corners(result, faces_of(result, "way")))
    assert degrees(acos(floor[:, 2].max())) == pytest.approx(degrees(atan(19.5 / 110)), abs=1e-4)


def test_desk_cable_outlet() -> None:
    """Flange 58 x 42 with corners 5, opening 28 x 20 with corners 6, both 2.4 thick; two walls 20 x 2 x 6;
    two arms.

    An arm: 12 wide, 15.95 + 0.2 = 16.15 up to the nose and 2.0 to 1.4 thick there; the nose 1.0 high, 1.0 (45
    degrees) and 1 / tan 30 long, over a shaft of 1.4; hollows of 1.0 at the root, one in a square corner, one
    in the tapered side's, each r^2 (1 / tan(a / 2) - (pi - a) / 2)."""
    result = part("desk-cable-outlet")
    long, nose = 16.15, 1.0 + 1 / tan(radians(30))
    flange = (58 * 42 - (4 - pi) * 25 - (28 * 20 - (4 - pi) * 36)) * 2.4
    hollows = sum(1 / tan(a / 2) - (pi - a) / 2 for a in (pi / 2, pi / 2 + atan(0.6 / long)))
    arm = 12 * (0.5 * (2.0 + 1.4) * long + (1.4 + 0.5) * nose + hollows)
    near(result, flange + 2 * 20 * 2 * 6 + 2 * arm, 2 * pi * (5 + 6) * 2.4 + 4 * pi / 2 * 12)
    assert result.figures.box == pytest.approx((58.0, 42.0, 2.4 + long + nose), abs=1e-6)


def test_the_outlets_arms_catch_and_can_bend() -> None:
    """The cut-out is 46.1: an arm's face stands 0.2 inside it and its nose 0.8 beyond.  Strain at the root of
    an arm that tapers to a share q: h y / (2 L^2 J), J = integral of x^2 / (q + (1 - q) x)^3 = (-ln q + 2 q -
    q^2 / 2 - 3 / 2) / (1 - q)^3."""
    result = part("desk-cable-outlet")
    reach = corners(result, faces_of(result, "catch")).reshape(-1, 3)
    assert 29.0 - reach[:, 0].min() == pytest.approx(46.1 / 2 - 0.2 + 1.0, abs=1e-6)
    q = 1.4 / 2.0
    share = (-log(q) + 2 * q - q**2 / 2 - 1.5) / (1 - q) ** 3
    strain = 2.0 * 1.0 / (2 * 16.15**2 * share)
    assert strain == pytest.approx(0.00887, abs=1e-5)
    assert f"strain {100 * strain:.1f} %" in result.report().notes[0]
    assert strain < 0.009  # PETG across its layers, again and again
    assert said(result) == []


def test_screen_winder_wheel() -> None:
    """Helical pair, 21 and 48 teeth, normal module 1, 12 degrees: centres 35.27 unshifted, 35.52 as read.

    cos aw = a0 cos at / a; x = (z1 + z2)(inv aw - inv at) / (2 tan an), the sleeve being plain (51.07 over
    its tips, read 51.05).  The tips then reach d + 2 m (1 + x).  (Involute gearing, textbook.)"""
    result = part("screen-winder-wheel")
    lean, normal = radians(12.0), radians(20.0)
    assert 48 / cos(lean) + 2 == pytest.approx(51.05, abs=0.05)
    transverse = atan(tan(normal) / cos(lean))
    working = acos(69 / (2 * cos(lean)) * cos(transverse) / 35.52)
    shift = 69 * ((tan(working) - working) - (tan(transverse) - transverse)) / (2 * tan(normal))
    assert shift == pytest.approx(0.255, abs=5e-4)
    away = result.mesh.points - spot(result, "wheel")
    assert 2 * np.hypot(away[:, 0], away[:, 1]).max() == pytest.approx(
        21 / cos(lean) + 2 * (1 + shift), abs=1e-5
    )
    walls = corners(result, faces_of(result, "crank"))
    gaps = ((walls.mean(axis=1) - spot(result, "crank")) * normals(walls)).sum(axis=1)
    assert 2 * np.abs(gaps) == pytest.approx(np.full(len(gaps), 6.3), abs=1e-5)  # 6.0 slides with 0.3


def test_stool_foot() -> None:
    """A round bar cut off slantwise has the volume of one cut square at its axis, at (2 + 7) / 2 = 4.5.

    Bored 22.025 + 0.2 = 22.225 from 12 up; a round of 2 at the rim (Pappus); the pin's 4.0 slides in 4.3,
    crossing the wall."""
    result = part("stool-foot")
    rim = ROUND * 4 * 2 * pi * (14 - 2 * ROUND_AT)
    pin = crossing(14.0, 2.15) - crossing(22.225 / 2, 2.15)
    falls_short(
        result, disc(28) * (34 - 4.5) - disc(22.225) * 22 - rim - pin, pi * (28 * 34 + 22.3 * 22 + 80), CHORD
    )
    sole = normals(corners(result, faces_of(result, "foot", "trim")))
    tilted = degrees(acos(np.abs(sole[np.abs(sole).sum(axis=1) > 0][:, 2]).min()))
    assert tilted == pytest.approx(degrees(atan(5 / 28)), abs=1e-4)
    assert [one.code for one in result.diagnostics] == ["caution"]  # it carries a person


def test_garden_box_latch() -> None:
    """Barrel of 9 on the base, pin 2.5 + 2 over it; root where it is 29 + 4.5 from the pin: x = sqrt(33.5^2 -
    4.5^2).

    Side: arm 4 high from under the pin to the lip's far side, less what lies in the barrel (half of the disc
    below 0.5 under its middle), the barrel, the lip 4.5 x 4.5; the rounds of 1 at root and lip add and take
    the same.  Out of the middle 6.2 all goes that lies up to 10 - 4.5 right of the pin."""
    result = part("garden-box-latch")
    root = sqrt(33.5**2 - 4.5**2)
    shared = segment(4.5, 0.5) / 2

    def side(to: float) -> float:
        return 4 * to + disc(9) - shared - disc(4)

    exact = 18 * (side(root + 4.5) + 4.5**2) - 6.2 * side(5.5)
    near(result, exact, 18 * pi * (9 + 4 + 1))
    assert spot(result, "pin")[:2] == pytest.approx(
        (4.5, 4.5 + 4.5), abs=1e-5
    )  # the box begins at barrel and lip
    assert passing(result, "pin") == pytest.approx(4.0, abs=1e-4)
    assert result.figures.box == pytest.approx((4.5 + root + 4.5, 13.5, 18.0), abs=1e-5)


def test_cabinet_hinge_leaf() -> None:
    """Leaf 40 x 24 x 2.5 with two corners of 3; the middle 15 of its edge is let in 3.5; two knuckles of 6,
    12.5 long.

    A knuckle's axis is 3.0 up, over the leaf's edge: half of the disc below 0.5 under its middle is leaf
    already.  The pin's hole, 2.5 + 0.3, lies wholly in the knuckles.  Three screws 3.4 with a head of 6.4,
    1.5 deep, over all 27.4: 12 apart."""
    result = part("cabinet-hinge-leaf")
    leaf = (40 * 24 - 15 * 3.5 - 2 * ROUND * 9) * 2.5
    knuckles = 25 * (disc(6) - segment(3, 0.5) / 2 - disc(2.8))
    screw = disc(3.4) * 1.0 + frustum(3.4, 6.4, 1.5)
    near(result, leaf + knuckles - 3 * screw, 25 * pi * 9 + 150)
    assert result.figures.box == pytest.approx((40.0, 27.0, 6.0), abs=1e-4)
    assert passing(result, "pin_hole", axis=0) == pytest.approx(2.8, abs=1e-4)
    # the other hand: the side they were read from, 6.3 + 1.7 away, is now the right one
    assert [spot(result, f"screw{k}")[0] for k in ("", ".2", ".3")] == pytest.approx(
        [32.0, 20.0, 8.0], abs=1e-5
    )
    assert inside(result, (20.0, 22.0, 1.0), (20.0, 20.0, 1.0), (6.0, 22.0, 1.0)) == [False, True, True]


def fillet(side: float, radius: float, small: float) -> float:
    """Area between a line `side` from the middle of a disc, the disc, and a round that touches both from
    outside.
    """
    up = sqrt((radius + small) ** 2 - (side + small) ** 2)
    way = atan2(up, side + small)  # from the disc's middle to the round's
    meets = atan2(sqrt(radius**2 - side**2), side)
    whole = polygon_area((0, 0), (side, sqrt(radius**2 - side**2)), (side, up), (side + small, up))
    return whole - 0.5 * radius**2 * (meets - way) - 0.5 * small**2 * way


def test_curtain_glider() -> None:
    """Head 9 x 2.4 with corners 0.6; the eye (5 + 9) / 2 = 7 below it in a tail of 9; a neck of 3.8 between
    them.

    The neck: 3.8 x 7 less the half disc's part in it; rounds of 0.5 in two square corners and in two at the
    tail."""
    result = part("curtain-glider")
    head = 9 * 2.4 - 4 * ROUND * 0.36
    neck = 3.8 * 7 - (1.9 * sqrt(4.5**2 - 1.9**2) + 4.5**2 * asin(1.9 / 4.5))
    area = head + neck + disc(9) - disc(4) + 2 * ROUND * 0.25 + 2 * fillet(1.9, 4.5, 0.5)
    near(result, area * 5, 5 * pi * (9 + 4 + 2))
    assert result.figures.box == pytest.approx((9.0, 2.4 + 7 + 4.5, 5.0), abs=1e-4)
    assert passing(result, "eye") == pytest.approx(4.0, abs=1e-4)


def test_shelf_pin() -> None:
    """Pin 5.05 - 0.15 = 4.9, 9 long, with a bevel of 0.6; collar 10 x 2 with a round of 0.4; bead 0.15 high
    and 1.6 wide, a segment of a disc (Pappus, centroid of a segment from the textbook); tongue 7 x 2.6 x 9;
    fillet 1.2, 7 long."""
    result = part("shelf-pin")
    bevel = 0.5 * 0.36 * 2 * pi * (2.45 - 0.2)
    rim = ROUND * 0.16 * 2 * pi * (5 - 0.4 * ROUND_AT)
    rho = (0.15**2 + 0.8**2) / 0.3
    half = asin(0.8 / rho)
    bead = rho**2 * (half - sin(half) * cos(half))
    over = 2 * rho * sin(half) ** 3 / (3 * (half - sin(half) * cos(half))) - (rho - 0.15)
    exact = disc(4.9) * 9 - bevel + disc(10) * 2 - rim + 2 * pi * (2.45 + over) * bead
    near(result, exact + 7 * 2.6 * 9 + ROUND * 1.44 * 7, 2 * pi * (2.5 * 11 + 5 * 3) + 20)
    assert result.figures.box == pytest.approx((10.0, 10.0, 20.0), abs=1e-4)
    ledge = corners(result, faces_of(result, "ledge", "top")).reshape(-1, 3)
    assert ledge[:, 1] == pytest.approx(np.full(len(ledge), 4.2 + 2.6), abs=1e-5)


def test_cable_clamp() -> None:
    """Base 38 x 3; an arch of radius 10 over a chord of 38 - 20, sqrt(100 - 81) over its middle; a hollow of
    chord 10 and rise 5, half a disc; slots for M3, coarse (ISO 273: 3.6), 5.6 over their ends."""
    result = part("cable-clamp")
    area = 38 * 3 + segment(10.0, sqrt(19.0)) - disc(10.0) / 2
    slot = 2.0 * 3.6 + disc(3.6)
    near(result, area * 14 - 2 * slot * 3, 14 * (22.4 + 15.8) + 2 * 3 * pi * 3.6)
    assert result.figures.box == pytest.approx((38.0, 3 + 10 - sqrt(19.0), 14.0), abs=CHORD)
    assert [spot(result, name)[0] for name in ("left_slot", "right_slot")] == pytest.approx(
        [5.0, 33.0], abs=1e-5
    )


def belt_moments(large: float, small: float, apart: float) -> tuple[float, float]:
    """Area of the tight belt round two discs, and its moment about the large one's middle, towards the small
    one.

    Two sectors (half-angle a: area a r^2, centroid 2 r sin a / (3 a)) and twice a trapezium with a straight
    side."""
    turn = acos((large - small) / apart)
    corner = [
        (0.0, 0.0),
        (large * cos(turn), large * sin(turn)),
        (apart + small * cos(turn), small * sin(turn)),
        (apart, 0.0),
    ]
    area = (pi - turn) * large**2 + turn * small**2
    moment = -2 / 3 * large**3 * sin(pi - turn) + turn * small**2 * apart + 2 / 3 * small**3 * sin(turn)
    for (ax, ay), (bx, by) in zip(corner, corner[1:] + corner[:1], strict=True):
        area -= ax * by - bx * ay  # walked clockwise: minus; twice: above and below
        moment -= (ax * by - bx * ay) * (ax + bx) / 3
    return area, moment


def test_fan_speed_toggle() -> None:
    """Tip 24.95 - 2.5 + 1.55 = 24 from the pivot, and 28.05 - 2.5 - 1.55 = 24.  A prism under a slope holds
    its area times the height over its centroid: 7.5 at the pivot, 3.5 / 24 less for each mm; the hole (3.0
    turns in 3.2) is 7.5 deep in the mean."""
    result = part("fan-speed-toggle")
    assert spot(result, "tip")[0] - spot(result, "pivot")[0] == pytest.approx(24.0, abs=1e-6)
    area, moment = belt_moments(4.5, 2.5, 24.0)
    driver = disc(2.5) * 3 - 0.5 * 0.16 * 2 * pi * (1.25 - 0.4 / 3)
    near(
        result,
        7.5 * area - 3.5 / 24 * moment - disc(3.2) * 7.5 + driver,
        pi * (9 * 8 + 5 * 4 + 3.2 * 7.5 + 2.5 * 3),
    )
    assert passing(result, "pivot") == pytest.approx(3.2, abs=1e-4)
    assert result.figures.box == pytest.approx((31.0, 9.0, 3.0 + 7.5 + 4.5 * 3.5 / 24), abs=1e-4)


def ball(at: tuple[float, float], across: float) -> shapely.Polygon:
    return shapely.Point(at).buffer(across / 2, quad_segs=400)


def test_broom_clip() -> None:
    """The stick's near edge is 7 off the wall: its middle at 7 + 22.3667 / 2; gripped 2 % tighter than 22.4.

    Outline by shapely (corners of 2 by closing); the screw, 4.5 with a head of 8.4 at 8 off the wall, in thin
    columns, each up to the ring's floor."""
    result = part("broom-clip")
    middle, grip = 7 + (22.3 + 22.4 + 22.4) / 6, 22.4 * 0.98 / 2
    assert spot(result, "stick")[1] == pytest.approx(middle, abs=1e-5)
    assert passing(result, "grip") == pytest.approx(2 * grip, abs=1e-4)
    shape = shapely.union(ball((0, middle), 27.4), shapely.box(-10, 0, 10, 9))
    shape = shape.buffer(2, quad_segs=400).buffer(-2, quad_segs=400)
    mouth = shapely.box(-8.5, middle + 13.7 - 10.0, 8.5, 99)
    area = shape.difference(shapely.union(ball((0, middle), 2 * grip), mouth)).area
    x, z = np.meshgrid(*2 * [(np.arange(1000) + 0.5) / 1000 * 8.4 - 4.2])
    floor, out = middle - np.sqrt(grip**2 - x**2), np.hypot(x, z)
    depth = np.where(out < 2.25, floor, np.clip(floor - (8.0 - 4.2 + out), 0.0, None))
    screw = float(depth[out < 4.2].sum()) * 0.0084**2
    near(result, area * 18 - screw, 18 * pi * 50)
    assert said(result) == []


def test_aquarium_hatch() -> None:
    """Opening 120.025 x 62, 0.4 clear all round: a sheet 2.5 thick; a rim 0.8 in, 1.2 thick, 8.5 - 2.5 = 6
    high; a wedge 12 to 1.5 over 18, 30 wide; six slots 30 x 4."""
    result = part("aquarium-hatch")
    long, wide = 120.025 - 0.8, 62.0 - 0.8
    rim = (long - 1.6) * (wide - 1.6) - (long - 4.0) * (wide - 4.0)
    exact = long * wide * 2.5 + rim * 6 + 18 * 13.5 / 2 * 30 - 6 * (26 * 4 + disc(4)) * 2.5
    falls_short(result, exact, 6 * pi * 4 * 2.5, CHORD)
    assert result.figures.box == pytest.approx((long, wide, 2.5 + 6 + 12), abs=1e-6)
    assert result.figures.genus == 6
    vents = {name: spot(result, name)[0] for name in ("vent", "vent.3", "far_vent", "far_vent.3")}
    assert vents == pytest.approx(
        {"vent": 17, "vent.3": 37, "far_vent": long - 17, "far_vent.3": long - 37}, abs=1e-5
    )
