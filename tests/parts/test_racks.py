"""Racks through whole recipes: how many teeth stand where, what is reported of them, and how a wheel runs
along them.
"""

from __future__ import annotations

import json
import math

import makegood
import manifold3d
import pytest
from hypothesis import given
from hypothesis import strategies as st
from makegood.outputs.report import report_json
from makegood.quantities.gears import Gear, contact_ratio
from makegood.quantities.rack_rows import rack_row
from makegood.quantities.racks import Rack, rack_contact
from makegood.result import Result
from shapely import affinity
from shapely.geometry import LineString, Point, Polygon

from .making import made, said
from .test_gears import found, section

HEAD = 'recipe "piece"\n'
LEAN = math.tan(math.radians(20.0))


def bar(line: str, chord: float = 0.002, long: float = 47.2, before: str = "") -> Result:
    """A bar 10 high and 8 thick with one rack, its lower left corner at the origin of the mesh."""
    return made(f"{before}block bar\n    long {long}\n    high 10\n    thick 8\n    rack {line}\n", chord)


def teeth_at(outline: Polygon, depth: float) -> list[tuple[float, float]]:
    """From where to where material stands along a line `depth` under the tips of a rack at the top."""
    low, _, high, top = outline.bounds
    met = outline.intersection(LineString([(low - 1, top - depth), (high + 1, top - depth)]))
    return sorted((part.bounds[0], part.bounds[2]) for part in getattr(met, "geoms", [met]))


def sizes(result: Result, name: str) -> dict[str, float]:
    return json.loads(report_json(result.report()))["features"][name]["sizes"]


def test_twelve_whole_teeth_in_the_middle_of_a_bar():
    """A bar of 47.2 holds 12 pitches of module 1.25 and 0.04 at either end: twelve teeth, none of them in the
    middle.
    """
    outline = section(bar("top module 1.25 teeth 12"), 4.0)
    pitch = 1.25 * math.pi
    for depth in (0.3, 1.25, 2.4):
        stood = teeth_at(outline, depth)
        assert len(stood) == 12
        wide = 0.5 * pitch - 0.1 + 2.0 * (depth - 1.25) * LEAN
        for k, (low, high) in enumerate(stood):
            assert high - low == pytest.approx(wide, abs=0.003)
            assert 0.5 * (low + high) == pytest.approx(23.6 + (k - 5.5) * pitch, abs=0.003)


@pytest.mark.parametrize("side", ["top", "bottom", "left", "right"])
def test_the_first_tooth_stands_where_it_is_told(side: str):
    """Nine teeth from 8.0 on, counted from the left or bottom end, whichever side it is; either end stays
    plain.
    """
    shape = "long 60\n    high 12" if side in ("top", "bottom") else "long 12\n    high 60"
    result = made(
        f"block bar\n    {shape}\n    thick 8\n    rack {side} module 1.25 teeth 9 first at 8.0\n", 0.002
    )
    outline = section(result, 4.0)
    # turned so that the teeth are at the top and places still count from the left
    if side in ("left", "right"):
        outline = affinity.affine_transform(outline, [0, 1, 1, 0, 0, 0])  # x and y change places
    if side in ("bottom", "left"):
        outline = affinity.scale(outline, 1.0, -1.0, origin=(0, 0))
    start, _, end, _ = outline.bounds
    stood = teeth_at(outline, 1.25)
    pitch = 1.25 * math.pi
    assert len(stood) == 11  # with what is left of the side before and behind them
    assert stood[0][0] == pytest.approx(start)
    assert stood[-1][1] == pytest.approx(end)
    middles = [0.5 * (low + high) - start for low, high in stood[1:-1]]
    assert middles == pytest.approx([8.0 + k * pitch for k in range(9)], abs=0.003)
    for gap in (middles[0] - 0.5 * pitch, middles[-1] + 0.5 * pitch):  # a whole gap beside either outer tooth
        box = Polygon(
            [
                (start + gap - 0.2, 99),
                (start + gap + 0.2, 99),
                (start + gap + 0.2, -99),
                (start + gap - 0.2, -99),
            ]
        )
        assert outline.intersection(box).bounds[3] == pytest.approx(outline.bounds[3] - 2.8125, abs=0.003)


@given(st.floats(8.0, 300.0), st.sampled_from([0.5, 1.0, 1.25, 2.0]), st.floats(0.0, 0.2), st.data())
def test_a_row_is_of_whole_teeth_and_one_more_has_no_room(
    long: float, module: float, play: float, data: st.DataObject
):
    """As many teeth as have room, told or not: each a pitch from the next, the outer flanks on the side a
    module down.
    """
    rack = Rack(module, play)
    if long < 2.0 * rack.pitch:
        with pytest.raises(makegood.diagnostics.types.Trouble):
            rack_row(long, rack, None, None)
        return
    half = 0.25 * rack.pitch - 0.5 * play + module * LEAN
    most = math.floor((long - 2.0 * half) / rack.pitch + 1e-9) + 1
    told = data.draw(st.integers(1, most))
    row = rack_row(long, rack, told, None)
    assert row.whole == told
    assert len(row.gaps) == told + 1
    assert sum(row.gaps) == pytest.approx(0.0, abs=1e-6)
    assert row.gaps[-1] - row.gaps[0] == pytest.approx(told * rack.pitch)
    with pytest.raises(makegood.diagnostics.types.Trouble) as caught:
        rack_row(long, rack, most + 1, None)
    assert f"{most} have room" in caught.value.advice
    plain = rack_row(long, rack, None, None)
    assert plain.whole % 2 == 1
    assert most - 2 < plain.whole <= most


def test_what_is_reported_of_a_rack_is_what_its_section_measures():
    """The pin is laid into a gap of the finished mesh: a round that touches both flanks and whose top is as
    high as told.
    """
    result = bar("top module 1.25 teeth 12 backlash 0.2")
    outline, told = section(result, 4.0), sizes(result, "bar")
    assert told["rack top, 12 whole teeth, module"] == 1.25
    assert told["rack top, pitch"] == pytest.approx(3.926991, abs=1e-6)
    assert told["rack top, pitch over 10 teeth"] == pytest.approx(39.269908, abs=1e-6)
    top = outline.bounds[3]
    line = told["rack top, pitch line over bottom"]
    assert line == pytest.approx(8.75)
    stood = teeth_at(outline, top - line)
    assert stood[10][0] - stood[0][0] == pytest.approx(told["rack top, pitch over 10 teeth"], abs=0.002)
    assert stood[3][1] - stood[3][0] == pytest.approx(told["rack top, tooth on the pitch line"], abs=0.002)
    assert told["rack top, tooth on the pitch line"] == pytest.approx(0.625 * math.pi - 0.2, abs=1e-6)
    gap = outline.intersection(
        Polygon([(stood[3][1], 99), (stood[4][0], 99), (stood[4][0], -9), (stood[3][1], -9)])
    )
    ground = min(y for x, y in gap.exterior.coords if y > 1.0)
    assert top - ground == pytest.approx(told["rack top, depth"], abs=0.002)
    over = told["rack top, a pin of 2.2 over bottom"]
    pin = Point(0.5 * (stood[3][1] + stood[4][0]), over - 1.1)
    for tooth in (3, 4):
        low, high = stood[tooth]
        beside = outline.intersection(
            Polygon([(low - 0.4, 5), (high + 0.4, 5), (high + 0.4, 99), (low - 0.4, 99)])
        )
        assert beside.distance(pin) == pytest.approx(1.1, abs=0.003)


@pytest.mark.parametrize(
    ("module", "pin", "play"), [(1.0, 1.728, 0.0), (3.0, 5.0, 0.1), (0.5, 0.8, 0.05), (2.0, 3.3, 0.4)]
)
def test_a_pin_touches_both_flanks(module: float, pin: float, play: float):
    """By distance: the flank through half a gap on the pitch line, leaning by 20 degrees, is a pin's radius
    from its middle.
    """
    rack = Rack(module, play)
    top = rack.over_pin(pin)
    assert top is not None
    half = 0.25 * math.pi * module + 0.5 * play
    deep, tip = 1.25 * module, module
    for way in (-1.0, 1.0):
        flank = LineString([(way * (half - deep * LEAN), -deep), (way * (half + tip * LEAN), tip)])
        assert flank.distance(Point(0.0, top - 0.5 * pin)) == pytest.approx(0.5 * pin, abs=1e-9)


def test_no_size_over_a_pin_that_lies_on_no_flank():
    assert Rack(1.0).over_pin(0.5) is None  # falls to the ground
    assert Rack(1.0).over_pin(9.0) is None  # lies on the tips


def test_the_tooth_of_a_published_rack():
    """Chordal thickness 4.7124 and height 3 of a rack of module 3 (Elements of Metric Gear Technology,
    section 10).
    """
    assert Rack(3.0).thickness == pytest.approx(4.7124, abs=5e-5)
    outline = section(bar("top module 3 backlash 0", long=60.0, chord=0.001), 4.0)
    low, high = teeth_at(outline, 3.0)[1]
    assert high - low == pytest.approx(4.7124, abs=1e-3)


def test_a_long_wheel_holds_a_rack_as_a_rack_does():
    """The limit of a pair's contact ratio as the other wheel grows (no undercut: 18 teeth and more)."""
    for teeth in (18, 25, 60):
        one = Gear(teeth, 1.5)
        wheel = Gear(2_000_000, 1.5)
        assert rack_contact(one) == pytest.approx(
            contact_ratio(one, wheel, 0.75 * (teeth + 2_000_000)), abs=1e-4
        )


WHEEL = (
    "gear wheel\n    teeth {teeth}\n    module 1.25\n    shift {shift}\n    thick 8\n    backlash {play}\n"
)


def solid(result: Result) -> manifold3d.Manifold:
    mesh = manifold3d.Mesh64(result.mesh.points, result.mesh.triangles.astype("uint64"))
    return manifold3d.Manifold(mesh)


@pytest.mark.parametrize(("teeth", "shift"), [(13, 0.24), (20, 0.0)])
def test_a_pinion_runs_along_twelve_teeth_without_overlap(teeth: int, shift: float):
    """The wheel turned by s / r while it is pushed by s along the rack, through a pitch in the middle and
    past the first tooth: nothing is in two places.  Turned back and forth it moves by the play of both, told
    on the pitch line, and no more."""
    wheel = made(WHEEL.format(teeth=teeth, shift=shift, play=0.1), 0.002)
    rack = solid(bar("top module 1.25 teeth 12 backlash 0.2"))
    low, high = rack.bounding_box()[:3], rack.bounding_box()[3:]
    rack = rack.translate([-0.5 * (low[0] + high[0]), -high[1], -low[2]])  # tips on y = 0, a gap at x = 0
    one = solid(wheel)
    place = makegood_centre(wheel)
    one = one.translate([-place[0], -place[1], 0.0]).rotate([0.0, 0.0, -90.0])  # a tooth points down
    radius = 0.625 * teeth

    def overlap(along: float, turned: float) -> float:
        here = one.rotate([0.0, 0.0, -math.degrees(along / radius + turned / radius)])
        return (here.translate([along, radius - 1.25 + 1.25 * shift, 0.0]) ^ rack).volume()

    pitch = 1.25 * math.pi
    for start in (-0.5 * pitch, -6.0 * pitch):
        for k in range(13):
            assert overlap(start + pitch * k / 12, 0.0) == pytest.approx(0.0, abs=1e-6)
    for way in (-1.0, 1.0):
        assert overlap(0.3, way * (0.5 * 0.3 - 0.005)) < 1e-6  # play of 0.1 and 0.2: half of both either way
        assert overlap(0.3, way * (0.5 * 0.3 + 0.01)) > 1e-3


def makegood_centre(wheel: Result) -> tuple[float, float]:
    feature = json.loads(report_json(wheel.report()))["features"]["wheel"]
    return feature["x"], feature["y"]


@pytest.mark.parametrize(
    ("line", "module", "codes"),
    [
        ("pitch 39.25 over 10", 1.25, []),
        ("pitch 38.2 over 10", 38.2 / (10 * math.pi), ["module-as-read"]),
        ("pitch 38.2 +-1.1 over 10", 1.25, []),
        ("pitch 3.9 over 1", 1.25, []),
        ("module 1.1", 1.1, []),
    ],
)
def test_a_pitch_is_taken_to_the_series_within_its_give_or_take_or_told_of(
    line: str, module: float, codes: list[str]
):
    block = f"block bar\n    long 47.2\n    high 10\n    thick 8\n    rack top {line}\n"
    result = makegood.compile_text(f"{HEAD}    readings +-0.05\n{block}")
    assert [one.code for one in result.diagnostics] == codes
    (told,) = (value for key, value in sizes(result, "bar").items() if key.endswith("module"))
    assert told == pytest.approx(module, abs=1e-6)


def test_the_note_on_a_wheel_that_is_as_read_comes_once():
    wheel = "gear wheel\n    teeth 24\n    across 27.9\n    thick 5\n"
    wheel += "block bar\n    long 60\n    high 14\n    thick 5\n    at 0, -19 from wheel\n"
    result = makegood.compile_text(f"{HEAD}{wheel}    rack top meshes wheel\n")
    assert [one.code for one in result.diagnostics if one.code == "module-as-read"] == ["module-as-read"]
    neighbour = (
        "neighbour wheel\n    teeth 24\n    across 27.9\nblock bar\n    long 60\n    high 14\n    thick 5\n"
    )
    result = makegood.compile_text(f"{HEAD}{neighbour}    rack top meshes wheel\n")
    assert [one.code for one in result.diagnostics] == ["module-as-read"]
    assert "rack at the top of `bar`" in result.diagnostics[0].headline


@pytest.mark.parametrize(
    ("mine", "rail", "module", "shift"),
    [
        ("teeth 13", "pitch 39.25 over 10", 1.25, 0.0),
        ("teeth 13", "module 1.25", 1.25, 0.0),
        ("teeth 13", "pitch 3.93 +-0.03", 1.25, 0.0),
        # tips 0.6 wider than (z + 2) m: x = 0.6 / 2 m
        ("teeth 14\n    across 20.6 +-0.02", "pitch 39.25 over 10", 1.25, 0.24),
        # leaning teeth: along the rack a pitch is pi m / cos b
        (
            "teeth 13\n    helix 20 right-handed",
            f"pitch {12.5 * math.pi / math.cos(math.radians(20)):.2f} over 10",
            1.25,
            0.0,
        ),
        ("teeth 13", "pitch 38.2 over 10", 38.2 / (10 * math.pi), 0.0),
    ],
)
def test_a_gear_meshes_a_rack_that_is_a_neighbour(mine: str, rail: str, module: float, shift: float):
    gear = found(f"    {mine}\n    meshes mate\n", f"    {rail}\n")
    assert gear.module == pytest.approx(module, abs=1e-9)
    assert gear.shift == pytest.approx(shift, abs=0.02)


@pytest.mark.parametrize(
    ("mine", "rail", "code"),
    [
        ("meshes rail", "pitch 38.2 over 10", "module-as-read"),
        ("meshes rail, centres 20", "pitch 39.25 over 10", "bad-gear"),
        ("meshes rail\n    inside\n    rim 80", "module 1.25", "bad-gear"),
        ("meshes rail", "wide 9", "fact-missing"),
        ("meshes rail\n    across 30.0", "pitch 39.25 over 10", "module-disagrees"),
    ],
)
def test_what_is_said_of_a_gear_and_a_rack(mine: str, rail: str, code: str):
    text = (
        f"{HEAD}    readings +-0.05\nneighbour rail\n    {rail}\n"
        f"gear wheel\n    teeth 40\n    thick 8\n    {mine}\n"
    )
    result = makegood.compile_text(text.replace("teeth 40", "teeth 20") if "across" in mine else text)
    assert [one.code for one in result.diagnostics] == [code], said(result)


def test_a_pinion_of_few_teeth_on_a_rack_is_told_of():
    text = f"{HEAD}neighbour rail\n    module 1\ngear wheel\n    teeth 8\n    thick 6\n    meshes rail\n"
    assert {one.code for one in makegood.compile_text(text).diagnostics} == {"teeth-undercut", "mesh-poor"}


def test_the_three_ways_to_say_a_rack_are_shown_as_three():
    text = f"{HEAD}neighbour mate\n    teeth 9\nblock bar\n    long 80\n    high 14\n    thick 4\n"
    (both,) = makegood.compile_text(text + "    rack top pitch 39 over 10 meshes mate\n").diagnostics
    assert [one.split()[4] for one in both.advice if one.startswith("it reads: rack")] == [
        "module",
        "pitch",
        "meshes",
    ]
    assert "say one of `module`, `pitch` and `meshes`, not two" in both.advice[-1]
    (leaning,) = makegood.compile_text(text + "    rack top module 1 helix 15 left-handed\n").diagnostics
    assert "without `helix`" in leaning.advice[-1]


def test_a_rack_and_its_wheel_roll_on_each_other():
    """Cut from one recipe's words each: the wheel's pitch circle rolls on the line a module below the rack's
    tips.
    """
    wheel = section(
        made("gear wheel\n    teeth 16\n    module 1.5\n    shift 0.2\n    thick 4\n", 0.005), 2.0
    )
    wheel = affinity.translate(wheel, -wheel.centroid.x, -wheel.centroid.y)
    mate = "neighbour mate\n    teeth 16\n    module 1.5\n"
    rack = section(
        made(mate + "block bar\n    long 60\n    high 14\n    thick 4\n    rack top meshes mate\n", 0.005),
        2.0,
    )
    middle, top = 0.5 * (rack.bounds[0] + rack.bounds[2]), rack.bounds[3]
    rack = affinity.translate(rack, -middle, -top)
    # shifted by 0.2 modules the wheel stands 0.3 further off; its teeth point along x, so a quarter turn back
    # faces the rack
    height = -1.5 + 12.0 + 0.2 * 1.5
    first = affinity.rotate(wheel, -90.0 + 180.0 / 16, origin=(0.0, 0.0))
    gaps = []
    for k in range(24):
        turn = (k - 12) / 12.0 * 360.0 / 16
        here = affinity.translate(
            affinity.rotate(first, turn, origin=(0.0, 0.0)), -math.radians(turn) * 12.0, height
        )
        assert here.intersection(rack).area < 1e-9
        gaps.append(here.distance(rack))
    assert max(gaps) < 0.11  # play of 0.1 each, seen square to the flank: cos 20 x 0.2 / 2 on either side
    low = affinity.translate(first, 0.0, height - 0.5)
    assert low.intersection(rack).area > 0.01
