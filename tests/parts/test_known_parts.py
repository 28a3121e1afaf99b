"""Five broken parts with known answers, derived by hand: the files of `examples/` measured on their meshes.

All values are those of the part as read (no printing allowance).  Pass bands: hole spacing +-0.10 mm, box
+-0.20 mm, volume +-1 %.  The derivations stand beside the values."""

from __future__ import annotations

from functools import cache
from math import acos, atan2, degrees, hypot, pi, sqrt

import makegood
import numpy as np
import pytest
from makegood.result import Result

from .making import EXAMPLES, Floats, corners, faces_of, inside, normals, passing, said, sound, spot, widest

SPACING, BOX, VOLUME = 0.10, 0.20, 0.01


@cache
def example(name: str) -> Result:
    result = makegood.compile_file(EXAMPLES / f"{name}.mend")
    assert result.ok, said(result)
    sound(result)
    return result


# name: box (any order: a part may lie as it was drawn), volume, pieces it may fall into, openings right
# through
KNOWN = {
    # 46*24*3 + 35*24*3 = 5832; fillet (1 - pi/4) 2^2 24 = 20.60; ribs 2 (20*20/2 - 0.858) 3 = 1194.85, the
    # fillet's section 0.858 being there already; holes 2 pi 2.1^2 3 = 83.13; slot (8*5 + pi 2.5^2) 3 = 178.90
    "wardrobe-rail-bracket": ((38.0, 46.0, 24.0), 6785.4, 3),
    # pi/4 (34^2 3 + 26^2 15 - 20^2 2) - 22.747 * 11 - 10*1*0.6; D of 6.0 with its flat 1.5 from the axis:
    # pi 9 - (9 acos 0.5 - 1.5 sqrt 6.75) = 22.747; the bore counts only above the recess, 13 - 2 = 11
    "humidity-dial": ((34.0, 34.0, 18.0), 9803.2, 0),
    # pi/4 (22^2 2 + 14^2 9 - 8.2^2 11) less the chamfer, by Pappus 0.125 * 2 pi (7 - 0.5/3) = 5.37
    "mower-handle-bush": ((22.0, 22.0, 11.0), 1559.4, 1),
    # 62*31*1.8 - (4 - pi) 2^2 1.8 - 2*1*12*1.8 + 2*6*3*1.2 + 10*1*0.9 + 2*45*1.2*3
    "scale-battery-cover": ((66.0, 31.0, 4.8), 3786.4, 0),
    # boss r 8 with tangents to heel and notch corner: polygon and sector 414.94; nose triangle 60.0; hole
    # 29.22; all times 8, less the blind spring hole pi 1^2 4 = 12.57
    "hose-reel-pawl": ((36.0, 18.0, 8.0), 3553.1, 1),
}


@pytest.mark.parametrize("name", KNOWN)
def test_box_volume_and_openings(name: str) -> None:
    box, volume, openings = KNOWN[name]
    figures = example(name).figures
    assert sorted(figures.box) == pytest.approx(sorted(box), abs=BOX)
    assert figures.volume == pytest.approx(volume, rel=VOLUME)
    assert (figures.pieces, figures.genus) == (1, openings)


def extent(result: Result, name: str, *details: str) -> tuple[Floats, Floats]:
    """Lowest and highest corner of the faces that a statement made."""
    points = corners(result, faces_of(result, name, *details)).reshape(-1, 3)
    return points.min(axis=0), points.max(axis=0)


# -- bracket: x across, y up the wall, z out from the cupboard -------------------------------------

BRACKET = "wardrobe-rail-bracket"


def test_bracket_holes_and_where_they_are() -> None:
    """Spacing (34.2 + 25.8) / 2 = 30; from the top (5.9 + 10.1) / 2 = 8; from the side 9.9 + 2.1 = 12."""
    result = example(BRACKET)
    upper, lower = spot(result, "upper"), spot(result, "lower")
    assert np.linalg.norm(upper - lower) == pytest.approx(30.0, abs=SPACING)
    assert 46.0 - upper[1] == pytest.approx(8.0, abs=SPACING)
    assert 46.0 - lower[1] == pytest.approx(38.0, abs=SPACING)
    assert (upper[0], lower[0]) == pytest.approx((12.0, 12.0), abs=SPACING)
    for name in ("upper", "lower"):
        assert passing(result, name) == pytest.approx(4.2, abs=2e-3)
        low, high = extent(result, name)
        assert (low[2], high[2]) == pytest.approx((0.0, 3.0), abs=1e-6)


def test_bracket_slot_ends_from_the_front_edge_and_the_wall() -> None:
    """End centres 6.0 + 2.5 = 8.5 and 6.0 + 13.0 - 2.5 = 16.5 from the front edge; 29.5 and 21.5 from the
    wall face.
    """
    low, high = extent(example(BRACKET), "slide")
    assert 38.0 - high[2] == pytest.approx(6.0, abs=0.02)
    assert 38.0 - low[2] == pytest.approx(19.0, abs=0.02)
    assert (high[2] - 2.5, low[2] + 2.5) == pytest.approx((29.5, 21.5), abs=0.02)
    assert (low[0], high[0]) == pytest.approx((9.5, 14.5), abs=1e-3)
    assert (low[1], high[1]) == pytest.approx((0.0, 3.0), abs=1e-6)


def test_bracket_ribs_stand_flush_and_leave_the_washers_strip_flat() -> None:
    """Ribs 3 thick at either side: the strip 12 +- 6 from the middle is clear by 3; slot to rib (24 - 5)/2 -
    3 = 6.5.
    """
    result = example(BRACKET)
    ribs = [(3.0, "left_rib"), (24.0, "right_rib")]
    for face, name in ribs:
        low, high = extent(result, name)
        assert high[0] == pytest.approx(face, abs=1e-6)
        assert low[0] == pytest.approx(face - 3.0, abs=1e-6)
        assert (high[1] - 3.0, high[2] - 3.0) == pytest.approx((20.0, 20.0), abs=1e-6)
    for x in (6.1, 9.0, 15.0, 17.9):
        for z in np.arange(5.2, 37.9, 0.9):
            assert inside(result, (x, 3.2, float(z))) == [False]
    slot = extent(result, "slide")
    assert slot[0][0] - 3.0 == pytest.approx(6.5, abs=0.01)


def test_bracket_material_is_where_it_should_be() -> None:
    result = example(BRACKET)
    points = {
        (12.0, 30.0, 1.5): True,  # wall leaf
        (2.5, 1.5, 37.0): True,  # rail leaf
        (1.5, 10.0, 10.0): True,  # left rib, inside its triangle
        (1.5, 14.0, 14.0): False,  # and beyond it
        (12.0, 3.4, 3.4): True,  # the fillet
        (12.0, 4.5, 4.5): False,
        (12.0, 38.0, 1.5): False,  # upper hole
        (12.0, 1.5, 25.0): False,  # slot
    }
    assert inside(result, *points) == list(points.values())


# -- dial: skirt down, z up ------------------------------------------------------------------------

DIAL = "humidity-dial"


def test_dial_pointer_lies_on_the_side_away_from_the_flat() -> None:
    """Flat towards +y, groove at -y, from 11 to 1 off the axis, 1.0 wide, 0.6 deep."""
    result = example(DIAL)
    axis = spot(result, "dial")
    low, high = extent(result, "pointer")
    assert (low - axis)[1] == pytest.approx(-11.0, abs=0.01)
    assert (high - axis)[1] == pytest.approx(-1.0, abs=0.01)
    assert (high[0] - low[0], high[2] - low[2]) == pytest.approx((1.0, 0.6), abs=1e-6)
    assert (low[0] + high[0]) / 2 == pytest.approx(axis[0], abs=1e-6)
    flat = corners(result, faces_of(result, "socket", "flat"))
    assert len(flat)
    assert np.allclose(
        normals(flat), (0.0, -1.0, 0.0), atol=1e-9
    )  # out of the material: back towards the axis
    assert (flat[..., 1] - axis[1]).min() > 0


def test_dial_bore_is_a_d_made_from_the_shaft_and_its_flat_moves_too() -> None:
    """Nominal shaft 6.0 and 4.5: the flat 1.5 from the axis; pushed on, both the round and the flat are 0.1
    to 0.2 wider.

    The bore stands on 13 deep from the underside; only 11 of it above the recess."""
    result = example(DIAL)
    axis = spot(result, "dial")
    round_, flat = (
        passing_round(result),
        corners(result, faces_of(result, "socket", "flat"))[..., 1].mean() - axis[1],
    )
    assert 6.1 - 1e-3 <= round_ <= 6.2
    assert 4.6 - 1e-3 <= flat + round_ / 2 <= 4.65
    low, high = extent(result, "socket")
    assert (low[2], high[2]) == pytest.approx((2.0, 13.0), abs=1e-6)
    area = bore_area(result, 6.0)
    r, d = round_ / 2, flat
    exact = pi * r * r - (r * r * acos(d / r) - d * sqrt(r * r - d * d))
    assert area == pytest.approx(exact, rel=2e-3)
    nominal = 9 * pi - (9 * acos(0.5) - 1.5 * sqrt(6.75))
    assert nominal == pytest.approx(22.747, abs=1e-3)
    assert nominal < area < nominal * 1.06


def passing_round(result: Result) -> float:
    """Twice the least gap from the axis to the round wall of the dial's socket."""
    flats = set(faces_of(result, "socket", "flat", "bottom").tolist())
    rounds = np.array([one for one in faces_of(result, "socket") if one not in flats])
    triangles = corners(result, rounds)
    way = normals(triangles)
    return 2.0 * float(np.abs(((triangles.mean(axis=1) - spot(result, "dial")) * way).sum(axis=1)).min())


def bore_area(result: Result, height: float) -> float:
    """Area of the hollow in the dial's section at a height, by trimesh and shapely."""
    import shapely

    section = sound(result).section(plane_origin=(0, 0, height), plane_normal=(0, 0, 1))
    rings = [shapely.Polygon(loop[:, :2]) for loop in section.discrete]
    return float(min(ring.area for ring in rings))


# -- bush ------------------------------------------------------------------------------------------

BUSH = "mower-handle-bush"


def test_bush_is_bored_to_the_wanted_size_not_to_the_worn_one() -> None:
    """8.2 turns freely on the bolt of 7.85; wall (14 - 8.2) / 2 = 2.9."""
    result = example(BUSH)
    assert passing(result, "shank") == pytest.approx(8.2, abs=2e-3)
    body = corners(result, faces_of(result, "bush", "side")).reshape(-1, 3)
    above = body[body[:, 2] > 3.0] - spot(result, "bush")
    outer = np.hypot(above[:, 0], above[:, 1]).max()
    assert outer == pytest.approx(7.0, abs=1e-3)
    assert outer - widest(result, "shank") / 2 == pytest.approx(2.9, abs=0.02)
    flange = body[body[:, 2] < 1.9] - spot(result, "bush")
    assert np.hypot(flange[:, 0], flange[:, 1]).max() == pytest.approx(11.0, abs=1e-3)


def test_bush_bevel_is_at_the_end_of_the_body() -> None:
    low, high = extent(example(BUSH), "bush", "bevel")
    assert (low[2], high[2]) == pytest.approx((10.5, 11.0), abs=1e-6)


# -- cover: x from the tabs to the tongue, y across, z into the scale ------------------------------

COVER = "scale-battery-cover"


def test_cover_leaves_its_clearance_all_round() -> None:
    """62.6 - 0.6 = 62.0 by 31.6 - 0.6 = 31.0: 0.3 clear on every side; corners 2."""
    result = example(COVER)
    low, high = extent(result, "cover", "front", "back")
    assert (high - low)[:2] == pytest.approx((62.0, 31.0), abs=1e-6)
    assert ((62.6 - (high - low)[0]) / 2, (31.6 - (high - low)[1]) / 2) == pytest.approx((0.3, 0.3), abs=1e-6)
    assert inside(result, (low[0] + 0.5, low[1] + 0.5, 0.9), (low[0] + 0.7, low[1] + 0.7, 0.9)) == [
        False,
        True,
    ]


def test_cover_tabs_slits_catch_and_ribs_lie_where_they_were_asked_for() -> None:
    result = example(COVER)
    low, _ = extent(result, "cover", "front", "back")
    x, y = low[:2]
    points = {
        # tabs 6.0 wide, 3.0 long, 5.0 in from each long edge, level with the inner face (z 0.6 to 1.8)
        (x - 1.5, y + 5.1, 1.2): True,
        (x - 1.5, y + 10.9, 1.2): True,
        (x - 1.5, y + 4.9, 1.2): False,
        (x - 1.5, y + 11.1, 1.2): False,
        (x - 1.5, y + 20.1, 1.2): True,
        (x - 1.5, y + 25.9, 1.2): True,
        (x - 1.5, y + 8.0, 0.5): False,
        (x - 1.5, y + 8.0, 1.9): False,
        (x - 2.9, y + 8.0, 1.2): True,
        # slits at 9.5 to 10.5 and 20.5 to 21.5, 12 long from the tongue's end
        (x + 56.0, y + 10.0, 0.9): False,
        (x + 56.0, y + 21.0, 0.9): False,
        (x + 56.0, y + 9.4, 0.9): True,
        (x + 56.0, y + 10.6, 0.9): True,
        (x + 50.1, y + 10.0, 0.9): False,
        (x + 49.9, y + 10.0, 0.9): True,
        # catch 10 wide, 1.0 proud, level with the inner face (z 0.9 to 1.8)
        (x + 62.9, y + 10.6, 1.4): True,
        (x + 62.9, y + 20.4, 1.4): True,
        (x + 62.9, y + 15.5, 0.8): False,
        (x + 62.9, y + 10.4, 1.4): False,
        # ribs 8.0 to 9.2 and 21.8 to 23.0, 45 long from 4.0, 3.0 high
        (x + 4.1, y + 8.6, 4.7): True,
        (x + 48.9, y + 8.1, 4.7): True,
        (x + 48.9, y + 9.1, 4.7): True,
        (x + 3.9, y + 8.6, 4.7): False,
        (x + 49.1, y + 8.6, 4.7): False,
        (x + 20.0, y + 9.3, 4.0): False,
        (x + 20.0, y + 21.9, 4.0): True,
        (x + 20.0, y + 22.9, 4.0): True,
        (x + 20.0, y + 21.7, 4.0): False,
    }
    assert inside(result, *points) == list(points.values())


def test_cover_ribs_and_slits_stay_clear_of_each_other() -> None:
    """Slits begin at 9.5, ribs end at 9.2: 0.3 clear across, whatever their lengths."""
    result = example(COVER)
    slit, rib = spot(result, "slit"), spot(result, "press")
    assert (slit[1] - 0.5) - (rib[1] + 0.6) == pytest.approx(0.3, abs=1e-6)
    tongue = spot(result, "slit.2")[1] - spot(result, "slit")[1] - 1.0
    assert tongue == pytest.approx(10.0, abs=1e-6)


# -- pawl ------------------------------------------------------------------------------------------

PAWL = "hose-reel-pawl"


def test_pawl_is_the_left_hand_one() -> None:
    """Spring hole up, back edge towards the reader: the boss is on the right, the nose points left."""
    result = example(PAWL)
    pivot, tip, heel, relief = (spot(result, name) for name in ("pivot", "tip", "heel", "relief"))
    assert pivot[0] > tip[0]
    assert heel[1] == pytest.approx(0.0, abs=0.01)
    assert (pivot[1], tip[1], relief[1]) == pytest.approx((8.0, 18.0, 14.0), abs=0.05)
    assert pivot[0] - heel[0] == pytest.approx(22.0, abs=SPACING)
    assert pivot[0] - tip[0] == pytest.approx(28.0, abs=SPACING)
    assert pivot[0] - relief[0] == pytest.approx(20.0, abs=SPACING)
    bottom = corners(result, faces_of(result, "spring", "bottom"))
    assert np.allclose(bottom[..., 2], 4.0, atol=1e-6)  # blind from the front, which is up
    assert np.allclose(normals(bottom)[:, 2], 1.0, atol=1e-9)


def test_pawl_spring_hole_and_its_distance() -> None:
    """(16.20 + 8.10) / 2 = 12.15 from the pivot, 6.0 above the back edge: (12, 6)."""
    result = example(PAWL)
    pivot, spring = spot(result, "pivot"), spot(result, "spring")
    assert hypot(*(pivot - spring)[:2]) == pytest.approx(12.15, abs=SPACING)
    assert spring[1] == pytest.approx(6.0, abs=SPACING)
    assert pivot[0] - spring[0] == pytest.approx(12.0, abs=SPACING)
    assert passing(result, "spring") == pytest.approx(2.0, abs=2e-3)
    assert passing(result, "pivot") == pytest.approx(6.1, abs=2e-3)


def test_pawl_tip_fits_the_tooth_space() -> None:
    """Between heel and notch corner seen from the tip: cos = 120 / (18.97 * 8.94), 45 degrees, the ratchet's
    tooth.
    """
    result = example(PAWL)
    tip, heel, relief = (spot(result, name)[:2] for name in ("tip", "heel", "relief"))
    (ax, ay), (bx, by) = heel - tip, relief - tip
    angle = degrees(abs(atan2(ax * by - ay * bx, ax * bx + ay * by)))
    assert angle == pytest.approx(45.0, abs=0.5)
    points = result.mesh.points
    assert np.abs(points[:, :2] - tip).sum(axis=1).min() < 1e-4  # the mesh has that corner
