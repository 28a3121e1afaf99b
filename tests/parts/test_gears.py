"""Gears through whole recipes: what readings they are found from, what their mesh measures, what is said of
them.
"""

from __future__ import annotations

import json
import math

import makegood
import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from makegood.facts import state_tree
from makegood.facts.gears import gear_of
from makegood.outputs.report import report_json
from makegood.quantities.gears import FINE, MODULES, Gear, centre_distance
from makegood.result import Result
from makegood.source import read_text
from makegood.tree import parse_rows
from shapely import affinity
from shapely.geometry import Polygon
from shapely.ops import unary_union

from .making import made, said, spot

HEAD = 'recipe "piece"\n'
WHEEL = "gear wheel\n    teeth 19\n    module 1\n    thick 6\n"


def found(facts: str, mate: str = "") -> Gear:
    """The gear that a recipe's readings come to, without making it."""
    text = f"{HEAD}gear wheel\n    thick 5\n{facts}" + (f"neighbour mate\n{mate}" if mate else "")
    source, _ = read_text(text, "gear.mend")
    claims, messages = state_tree(parse_rows(source)[0])
    assert not messages, [one.headline for one in messages]
    return gear_of(claims.entries["wheel"], claims).gear


def sizes(result: Result, name: str) -> dict[str, float]:
    return json.loads(report_json(result.report()))["features"][name]["sizes"]


def section(result: Result, height: float) -> Polygon:
    """The cut through a part at a height of the finished mesh, from its triangles alone."""
    points = result.mesh.points[result.mesh.triangles]
    rows = points[(points[:, :, 2].min(axis=1) < height) & (points[:, :, 2].max(axis=1) > height)]
    cuts = []
    for a in rows:
        ends = [
            a[i] + (height - a[i, 2]) / (a[j, 2] - a[i, 2]) * (a[j] - a[i])
            for i, j in ((0, 1), (1, 2), (2, 0))
            if (a[i, 2] < height) != (a[j, 2] < height)
        ]
        cuts.append([tuple(np.round(end[:2], 9)) for end in ends])
    from shapely.geometry import LineString
    from shapely.ops import polygonize

    rings = sorted(
        polygonize(unary_union([LineString(one) for one in cuts if one[0] != one[1]])),
        key=lambda one: -one.area,
    )
    return Polygon(rings[0].exterior)


@given(st.sampled_from([*MODULES, *FINE]), st.integers(7, 90), st.floats(-0.03, 0.03))
def test_the_module_is_found_from_the_reading_over_the_tips(module: float, teeth: int, off: float):
    """As callipers read it: tips of an odd wheel do not face each other.  0.03 off is within the usual
    0.05.
    """
    tip = Gear(teeth, module).tip
    if tip < module * (teeth + 2) - 1e-9:
        return  # a pointed tooth: few teeth
    reading = Gear(teeth, module).over_tips + off
    near = sorted(abs(one * (teeth + 2) - tip) for one in (*MODULES, *FINE))
    if near[1] > 0.2:  # no two modules of the series within the give-or-take
        assert found(f"    teeth {teeth}\n    across {reading:.3f}\n").module == module


def test_readings_that_agree_and_their_ways():
    assert found("    teeth 19\n    across 20.96\n").module == 1.0
    assert found("    teeth 20\n    span 15.32 over 3\n").module == 2.0  # the published example
    assert found("    teeth 24\n    across 80.4\n    span 32.83 over 4\n").shift == pytest.approx(
        0.4, abs=0.01
    )
    assert found("    teeth 24\n    across 80.4\n    span 32.83 over 4\n").module == 3.0
    assert found("    teeth 43\n    meshes mate\n", "    teeth 19\n    across 20.96\n").module == 1.0
    by_centres = found("    teeth 43\n    meshes mate, centres 31.03\n", "    teeth 19\n")
    assert (by_centres.module, by_centres.shift) == (1.0, 0.0)
    odd = found("    teeth 24\n    across 27.9\n")
    assert odd.module == pytest.approx(27.9 / 26)
    assert found("    teeth 24\n    across 27.5 wanted\n").module == pytest.approx(27.5 / 26)
    helical = found("    teeth 31\n    module 3.5\n    helix 21.63 left-handed\n")
    assert helical.left
    assert helical.pitch == pytest.approx(31 * 3.5 / math.cos(math.radians(21.63)))


@given(st.integers(12, 60), st.integers(12, 60), st.sampled_from(MODULES), st.floats(-0.3, 0.6))
def test_a_shift_is_found_from_the_centres(one: int, two: int, module: float, shift: float):
    distance = centre_distance(Gear(one, module, shift), Gear(two, module))
    assume(abs(abs(distance - 0.5 * module * (one + two)) - 0.021) > 1e-4)  # written to four digits
    gear = found(
        f"    teeth {one}\n    module {module:g}\n    meshes mate, centres {distance:.4f} +- 0.001\n",
        f"    teeth {two}\n",
    )
    if abs(distance - 0.5 * module * (one + two)) <= 0.02 + 0.001:
        assert gear.shift == 0.0
    else:
        assert gear.shift == pytest.approx(shift, abs=1e-3)


def test_the_mesh_of_a_wheel_is_its_outline_drawn_up():
    """Volume: the section's area times the thickness; section: as wide over the tips and over three teeth as
    reported.
    """
    result = made(WHEEL + "    backlash 0\n", 0.002)
    cut = section(result, 3.0)
    assert result.figures.volume == pytest.approx(6.0 * cut.area, rel=1e-9)
    told = sizes(result, "wheel")
    assert told["span over 3 teeth"] == pytest.approx(7.6464, abs=1e-4)  # m cos a (2.5 pi + 19 inv a)
    x, y, _ = spot(result, "wheel")
    middle = affinity.translate(cut, -x, -y)
    reach = np.array(middle.exterior.coords)
    widths = [np.ptp(reach @ [math.cos(t), math.sin(t)]) for t in np.linspace(0.0, math.pi, 2000)]
    assert max(widths) == pytest.approx(told["over the tips"], abs=0.002)
    assert told["over the tips"] == pytest.approx(20.973, abs=1e-3)  # an even count would read 21
    # flat jaws over three teeth: the widest gap between two lines that hold teeth -1, 0, 1 about the y axis
    turned = affinity.rotate(middle, 90.0, origin=(0.0, 0.0))
    three = np.array(
        [
            p
            for p in turned.exterior.coords
            if abs(math.atan2(p[0], p[1])) < 2.9 * math.pi / 19 and math.hypot(*p) > 9.0
        ]
    )
    assert three[:, 0].max() - three[:, 0].min() == pytest.approx(7.6464, abs=0.004)


def test_wheels_of_two_recipes_turn_together():
    one = section(made(WHEEL + "    backlash 0.05\n", 0.005), 3.0)
    other = "gear wheel\n    teeth 43\n    span 13.89 over 5\n    thick 6\n    backlash 0.05\n"
    two = section(made(other, 0.005), 3.0)
    first, second = (affinity.translate(p, -p.centroid.x, -p.centroid.y) for p in (one, two))
    second = affinity.rotate(second, 180.0 + 180.0 / 43, origin=(0.0, 0.0))
    for k in range(12):
        turn = k / 12.0 * 360.0 / 19
        a = affinity.rotate(first, turn, origin=(0.0, 0.0))
        b = affinity.translate(affinity.rotate(second, -turn * 19 / 43, origin=(0.0, 0.0)), 31.0, 0.0)
        assert a.intersection(b).area < 1e-9
        assert a.distance(b) < 0.06


@pytest.mark.parametrize(("hand", "sense"), [("right-handed", 1.0), ("left-handed", -1.0)])
def test_leaning_teeth_turn_with_the_height(hand: str, sense: float):
    """Section at the top is the section at the bottom turned by thick tan b / (d / 2), and between none is
    larger.
    """
    result = made(f"gear wheel\n    teeth 20\n    module 1\n    thick 10\n    helix 15 {hand}\n", 0.005)
    x, y, _ = spot(result, "wheel")
    low, high = (affinity.translate(section(result, z), -x, -y) for z in (0.5, 9.5))
    turn = sense * math.degrees(9.0 * math.tan(math.radians(15)) / (10.0 / math.cos(math.radians(15))))
    assert affinity.rotate(low, turn, origin=(0.0, 0.0)).symmetric_difference(high).area < 0.02 * math.pi
    assert affinity.rotate(low, -turn, origin=(0.0, 0.0)).symmetric_difference(high).area > 5.0
    assert result.figures.volume == pytest.approx(10.0 * low.area, rel=2e-3)


def test_a_ring_gear_and_its_parts():
    text = "gear ring_gear\n    teeth 48\n    module 1\n    inside\n    rim 58\n    thick 5\n"
    result = made(text)
    assert result.figures.genus == 1
    assert result.figures.box == pytest.approx((58.0, 58.0, 5.0), abs=1e-9)
    told = sizes(result, "ring_gear")
    assert told["between the tips"] == pytest.approx(46.0)
    assert told["feet across"] == pytest.approx(50.5)
    x, y, _ = spot(result, "ring_gear")
    away = np.hypot(*(result.mesh.points[:, :2] - [x, y]).T)
    assert away.min() >= 23.0 - 1e-9


def test_hub_bore_and_flat_are_those_of_every_part():
    """Genus 1, and the volume is that of the wheel, a hub, less a bore with a flat (sector and triangle)."""
    plain = made(WHEEL, 0.002).figures.volume
    hub = "turning hub\n    on wheel.front\n    around wheel\n    across 10 from 0 to 4\n"
    text = (
        WHEEL + hub + "bore shaft\n    around wheel\n    through wheel, hub\n    across 5.0\n    flat 4.4\n"
    )
    result = made(text, 0.002)
    half = math.acos(1.9 / 2.5)
    hole = math.pi * 2.5**2 - (2.5**2 * half - 1.9 * math.sqrt(2.5**2 - 1.9**2))
    assert result.figures.genus == 1
    assert result.figures.volume == pytest.approx(plain + 4.0 * math.pi * 25.0 - 10.0 * hole, rel=2e-3)


@pytest.mark.parametrize(
    ("text", "code"),
    [
        (WHEEL.replace("    module 1\n", ""), "fact-missing"),
        (WHEEL.replace("19", "2.5"), "bad-count"),
        (WHEEL.replace("19", "3"), "bad-gear"),
        (WHEEL.replace("19", "9999"), "bad-gear"),
        (WHEEL + "    across 23.0\n    shift 0.0\n", "module-disagrees"),
        (WHEEL + "    span 7.6 over 30\n", "bad-gear"),
        (WHEEL + "    across 20.97 made 21.5\n", "bad-gear"),
        (WHEEL + "    helix 60 right-handed\n", "bad-gear"),
        (WHEEL + "    meshes wheel\n", "leans-on-itself"),
        (WHEEL + "    meshes mate\nneighbour mate\n    across 9\n", "fact-missing"),
        (WHEEL + "    meshes mate, centres 33.0\nneighbour mate\n    teeth 43\n", "centres-contradict"),
        (WHEEL + "    meshes mate, centres 0\nneighbour mate\n    teeth 43\n", "centres-contradict"),
        (
            WHEEL + "    shift 0\n    meshes mate, centres 30.5\nneighbour mate\n    teeth 43\n",
            "centres-contradict",
        ),
        (WHEEL + "    inside\n", "fact-missing"),
        (WHEEL + "    inside\n    rim 90\n    meshes mate\nneighbour mate\n    teeth 19\n", "bad-gear"),
        (WHEEL.replace("19", "40") + "    inside\n    rim 42\n", "no-wall"),
        (
            "gear a\n    teeth 19\n    thick 5\n    meshes b\n"
            "gear b\n    teeth 19\n    thick 5\n    meshes a\n    at 30, 0 from a\n",
            "fact-missing",
        ),
    ],
)
def test_wrong_gears_are_answered(text: str, code: str):
    result = makegood.compile_text(HEAD + text)
    assert not result.ok
    assert {one.code for one in result.diagnostics if one.is_error} == {code}, said(result)


def test_notes():
    few = makegood.compile_text(HEAD + WHEEL.replace("19", "9"))
    assert [one.code for one in few.diagnostics] == ["teeth-undercut"]
    pointed = makegood.compile_text(HEAD + WHEEL.replace("19", "9") + "    shift 0.7\n")
    assert [one.code for one in pointed.diagnostics] == ["tips-cut-back"]
    odd = makegood.compile_text(HEAD + "gear wheel\n    teeth 24\n    across 27.9\n    thick 5\n")
    assert [one.code for one in odd.diagnostics] == ["module-as-read"]
    bare = makegood.compile_text(HEAD + WHEEL + "bore b\n    around wheel\n    across 15.6\n")
    assert [one.code for one in bare.diagnostics] == ["thin-wall"]
    assert "0.45" in bare.diagnostics[0].headline  # half of 16.5 - 15.6


KEYWAY = """line roof
    level
    from shaft far 13.8
    above shaft
notch key
    long 4
    high 6
    through wheel
    plumb with shaft
    {how} roof
    below roof
"""
SHAFT = (
    "gear wheel\n    teeth 32\n    module 1.5\n    thick 12\nbore shaft\n    across 12\n    around wheel\n"
)


def test_a_keyway_is_read_over_bore_and_key():
    """13.8 from the bore's far side, so 7.8 over its middle: a strip 4 wide, less what the bore took of it
    already.

    Under the circle of radius 6 between x = -2 and 2: 2 sqrt(32) + 36 asin(1 / 3)."""
    plain, keyed = made(HEAD + SHAFT), made(HEAD + SHAFT + KEYWAY.format(how="against"))
    taken = 4 * 7.8 - (2 * math.sqrt(32) + 36 * math.asin(1 / 3))
    assert plain.figures.volume - keyed.figures.volume == pytest.approx(12 * taken, abs=12 * 4 * 0.01)
    assert keyed.figures.genus == 1


def test_what_lies_against_a_line_is_told_apart_and_flush_with_one_is_refused():
    open_side = makegood.compile_text(
        HEAD + SHAFT + KEYWAY.format(how="against").replace("    below roof\n", "")
    )
    assert [one.code for one in open_side.diagnostics] == ["two-places"]
    flush = makegood.compile_text(HEAD + SHAFT + KEYWAY.format(how="flush with"))
    assert [one.code for one in flush.diagnostics] == ["wrong-kind"]
    assert "against roof" in flush.diagnostics[0].advice[0]


@pytest.mark.parametrize(("own", "others"), [(0.0, 0.3), (-0.3, 0.3), (0.3, 0.5), (0.0, 0.0), (0.25, -0.2)])
@pytest.mark.parametrize(("one", "two", "module"), [(46, 14, 1.0), (60, 12, 0.8), (31, 17, 1.25)])
def test_a_pair_of_which_both_are_shifted(own: float, others: float, one: int, two: int, module: float):
    """Tips m (z + 2 + 2 x), and centres where inv aw = inv a + 2 (x1 + x2) tan a / (z1 + z2) (ISO 21771):
    what a small pinion of a kitchen machine mostly is.  Read with callipers, 0.01 mm off."""
    flank = math.tan(math.radians(20.0))

    def involute(angle):
        return math.tan(angle) - angle

    wanted, low, high = involute(math.radians(20.0)) + 2 * (own + others) * flank / (one + two), 0.1, 1.0
    for _ in range(60):
        middle = 0.5 * (low + high)
        low, high = (middle, high) if involute(middle) < wanted else (low, middle)
    apart = 0.5 * module * (one + two) * math.cos(math.radians(20.0)) / math.cos(low)
    tips = [module * (teeth + 2 + 2 * shift) + 0.01 for teeth, shift in ((one, own), (two, others))]
    gear = found(
        (
            f"    teeth {one}\n    across {tips[0]:.3f} +-0.03\n"
            f"    meshes mate, centres {apart - 0.01:.3f} +-0.03\n"
        ),
        f"    teeth {two}\n    across {tips[1]:.3f} +-0.03\n",
    )
    assert gear.module == module
    assert gear.shift == pytest.approx(own, abs=0.03 / module)


def test_the_shift_of_a_mate_is_read_off_its_tips():
    """A module that is said, a pinion of 14 teeth 0.6 larger over the tips than an unshifted one (x 0.3), and
    the centres of x1 + x2 = 0.3: the wheel is not shifted."""
    gear = found(
        "    teeth 46\n    module 1\n    meshes mate, centres 30.29\n", "    teeth 14\n    across 16.6\n"
    )
    assert gear.shift == pytest.approx(0.0, abs=0.01)
