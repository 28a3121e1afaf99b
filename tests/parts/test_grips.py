"""Grips on tapers, steps and beads: volumes derived here, depth at every height, and no grip line that
changes nothing.

Section of serrations n r (r - d) sin(pi / n), of splines pi (r^2 + (r - d)^2) / 2 (`profiles.teeth`); over a
taper from r to s of height h the integral of r^2 is h (r^2 + r s + s^2) / 3, that of r h (r + s) / 2."""

from __future__ import annotations

import itertools
import math

import makegood
import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from .making import corners, faces_of, falls_short, made, said, sound

FINE = 0.003
TAPER = "turning knob\n    taper 30.0 at 0, 38.0 at 20.0\n"
STEP = "turning knob\n    across 34.0 from 0 to 10.0\n    across 30.0 from 10.0 to 20.0\n"
BAR = "turning knob\n    across 34.0 from 0 to 20.0\n"


def squares(h, r, s):
    return h * (r * r + r * s + s * s) / 3


def toothed(word, count, deep, h, r, s):
    """Volume of a toothed taper."""
    whole, first = squares(h, r, s), h * (r + s) / 2
    if word == "serrated":
        return count * math.sin(math.pi / count) * (whole - deep * first)
    return math.pi / 2 * (2 * whole - 2 * deep * first + deep * deep * h)


def away(result):
    """Distance of each corner of the mesh from the axis, and its height."""
    points = result.mesh.points + np.array(result.part.low)
    return np.hypot(points[:, 0], points[:, 1]), points[:, 2]


@pytest.mark.parametrize("word", ["serrated", "splines"])
@pytest.mark.parametrize("count", [5, 48])
@pytest.mark.parametrize("shape", ["taper", "step"])
def test_teeth_follow_their_surface(word, count, shape):
    if shape == "taper":
        exact = math.pi * (squares(3, 15, 15.6) + squares(3, 18.4, 19)) + toothed(
            word, count, 0.6, 14, 15.6, 18.4
        )
    else:
        exact = (
            math.pi * 3 * (17**2 + 15**2)
            + toothed(word, count, 0.6, 7, 17, 17)
            + toothed(word, count, 0.6, 7, 15, 15)
        )
    text = (TAPER if shape == "taper" else STEP) + f"    {word} {count} deep 0.6 from 3.0 to 17.0\n"
    result = made(text, FINE)
    falls_short(result, exact, 2 * math.pi * 19 * 20 + count * 0.6 * 20, FINE)
    assert result.figures.genus == 0
    assert result.figures.pieces == 1


def test_teeth_are_cut_into_a_bead_too():
    """Over a bead of section area A, its centroid up above the round r: integral of (r + h)^2 is r^2 w + 2 r
    A + 2 A up.
    """
    rho = (1.0 + 1.5**2) / 2
    half = math.asin(1.5 / rho)
    area = rho**2 * (half - math.sin(half) * math.cos(half))
    up = 2 * rho * math.sin(half) ** 3 / (3 * (half - math.sin(half) * math.cos(half))) - (rho - 1)
    whole, first = 17**2 * 14 + 2 * 17 * area + 2 * area * up, 17 * 14 + area
    exact = math.pi * 17**2 * 6 + 48 * math.sin(math.pi / 48) * (whole - 0.6 * first)
    result = made(BAR + "    bead 36.0 at 10.0 wide 3.0\n    serrated 48 deep 0.6 from 3.0 to 17.0\n", FINE)
    falls_short(result, exact, 2 * math.pi * 18 * 22, FINE)
    assert result.figures.box[0] == pytest.approx(36.0, abs=0.001)


def test_a_groove_deeper_than_the_teeth_stays_and_a_shallow_one_is_cut():
    """Floors lie 0.6 under the round: a groove 1.0 deep keeps its volume, one 0.2 deep holds what is left of
    the teeth.
    """
    line = "    serrated 48 deep 0.6 from 3.0 to 17.0\n"
    deep = made(BAR + "    groove 32.0 from 8.0 to 12.0\n" + line, FINE)
    exact = math.pi * (17**2 * 6 + 16**2 * 4) + toothed("serrated", 48, 0.6, 10, 17, 17)
    falls_short(deep, exact, 2 * math.pi * 17 * 22, FINE)
    shallow = made(BAR + "    groove 33.6 from 8.0 to 12.0\n" + line, FINE)
    assert deep.figures.volume < shallow.figures.volume < made(BAR + line, FINE).figures.volume


@pytest.mark.parametrize(("low", "high"), [(30.0, 38.0), (34.0, 34.0), (38.0, 31.0)])
def test_a_diamond_grip_by_its_sections(low, high):
    """At each height two stars, turned one against the other: half the integral round of the lesser radius
    squared.

    Radius of a flank at the angle u from a crown: r (r - d) sin a / (r sin u + (r - d) sin(a - u)), a from
    crown to floor."""
    count, deep, start, stop = 24, 0.8, 3.0, 17.0
    half, widest = math.pi / count, max(low + (high - low) * z / 20 for z in (start, stop)) / 2
    z = start + (np.arange(700) + 0.5) * (stop - start) / 700
    radius = (low + (high - low) * z / 20)[:, None] / 2
    turn = math.tan(math.radians(30)) / widest * (z - start)[:, None]
    round_ = (np.arange(720) + 0.5) * 2 * half / 720

    def star(angle):
        u = np.abs((angle + half) % (2 * half) - half)
        return (
            radius
            * (radius - deep)
            * math.sin(half)
            / (radius * np.sin(u) + (radius - deep) * np.sin(half - u))
        )

    sections = math.pi * (np.minimum(star(round_ - turn), star(round_ + turn)) ** 2).mean(axis=1)
    ends = [low / 2 + (high - low) * one / 40 for one in (0, start, stop, 20)]
    exact = sections.mean() * (stop - start) + math.pi * (squares(3, *ends[:2]) + squares(3, *ends[2:]))
    result = made(
        f"turning knob\n    taper {low} at 0, {high} at 20\n    diamond {count} deep {deep} from 3 to 17\n",
        FINE,
    )
    falls_short(result, exact + 0.1, 2 * math.pi * 19 * 22 * 1.3, FINE)
    r, height = away(result)
    floors = r - (low + (high - low) * height / 20) / 2
    for a, b in itertools.pairwise(np.linspace(start + 0.01, stop - 0.01, 6)):
        assert floors[(height > a) & (height < b)].min() == pytest.approx(-deep, abs=0.01)


def test_ends_that_a_sum_puts_a_rounding_error_off_leave_no_skin():
    """2 x (0.1 + 0.2) and 3 x 0.3 are not quite 0.6 and 0.9 in binary: a skin would be a disc of the whole
    round there.
    """
    lines = "    hex 15 from 0.3 to 0.6\n    splines 8 deep 1 from 2 * (0.1 + 0.2) to 3 * 0.3\n"
    result = made("turning knob\n    across 20 from 0.3 to 0.9\n" + lines, FINE)
    exact = 15**2 * math.sqrt(3) / 2 * 0.3 + math.pi * (100 + 81) / 2 * 0.3
    falls_short(result, exact, 2 * math.pi * 10 * 0.6 + 40, FINE)
    way = np.cross(*np.diff(corners(result, slice(None)), axis=1).transpose(1, 0, 2))[:, 2]
    # faces up are the top alone: the hexagon (8.66 at its corners) lies under the floors of the splines (9)
    assert way[way > 0].sum() / 2 == pytest.approx(math.pi * (100 + 81) / 2, rel=0.003)


@st.composite
def grips(draw):
    """A turning of two tapers with a step between them, and teeth somewhere on it."""
    ends = [draw(st.integers(24, 40)) for _ in range(4)]
    word, deep = (
        draw(st.sampled_from(("serrated", "splines", "diamond"))),
        draw(st.sampled_from((0.4, 0.6, 1.0))),
    )
    start = draw(st.sampled_from((0.0, 2.0, 5.0, 9.5)))
    stop = draw(st.sampled_from((10.0, 12.0, 17.0, 20.0)))
    return ends, word, draw(st.sampled_from((24, 30, 36))), deep, start, stop


@given(grips())
@settings(max_examples=25)
def test_teeth_stand_within_their_surface_and_are_nowhere_deeper_than_asked(case):
    """Read off the corners of the mesh; a facet across a hollow lies lower by no more than the chord
    error.
    """
    (a, b, c, d), word, count, deep, start, stop = case
    bare = f"turning knob\n    taper {a} at 0, {b} at 10\n    taper {c} at 10, {d} at 20\n"
    result = made(bare + f"    {word} {count} deep {deep} from {start} to {stop}\n")
    assert result.figures.pieces == 1
    r, z = away(result)
    surface = np.where(z < 10, a + (b - a) * z / 10, c + (d - c) * (z - 10) / 10) / 2
    one = np.abs(z - 10) > 1e-6
    assert (r - surface)[one].max() <= 1e-6
    side = one & (r > 10)
    assert (r - surface)[side].min() >= -deep - 0.01
    seen = corners(result, faces_of(result, "knob", word))[..., 2]
    assert (seen.min(), seen.max()) == pytest.approx((start, stop), abs=1e-6)
    lost = made(bare).figures.volume - result.figures.volume
    assert 0 < lost < 2 * math.pi * 20 * (stop - start) * deep


LINES = (
    "serrated 30 deep 0.6",
    "splines 20 deep 0.8",
    "diamond 24 deep 0.5",
    "hex 26",
    "square 27",
    "flat 27",
)


@given(
    st.sampled_from(LINES),
    st.integers(20, 34),
    st.integers(20, 34),
    st.integers(18, 33),
    st.sampled_from((2, 6, 8)),
    st.sampled_from((9, 12, 14, 18)),
)
@settings(max_examples=40)
def test_no_grip_changes_nothing_without_a_message(line, low, high, groove, start, stop):
    bare = f'recipe "t"\nturning knob\n    taper {low} at 0, {high} at 20\n    groove {groove} from 6 to 14\n'
    plain = makegood.compile_text(bare)
    if not plain.ok:
        return
    result = makegood.compile_text(bare + f"    {line} from {start} to {stop}\n")
    if result.ok:
        sound(result)
        assert result.figures.volume < plain.figures.volume - 1e-4
    else:
        assert next(one.code for one in result.diagnostics if one.is_error) in (
            "grip-misses",
            "flat-misses",
        ), said(result)
        assert next(one.span.line for one in result.diagnostics if one.is_error) == 5


@pytest.mark.parametrize("up", [True, False])
def test_a_turning_that_hangs_from_a_back_has_the_same_teeth(up):
    """Its stations are counted downwards there."""
    stand = "block base\n    long 60.0\n    wide 60.0\n    thick 4.0\n"
    place = f"    on base.{'front' if up else 'back'}\n    at 0, 0 from base\n"
    result = made(stand + TAPER + place + "    serrated 48 deep 0.6 from 3.0 to 17.0\n", FINE)
    exact = math.pi * (squares(3, 15, 15.6) + squares(3, 18.4, 19)) + toothed(
        "serrated", 48, 0.6, 14, 15.6, 18.4
    )
    falls_short(result, 60 * 60 * 4 + exact, 2 * math.pi * 19 * 20, FINE)


@pytest.mark.parametrize(
    ("text", "code", "line", "stops"),
    [
        (
            BAR + "    groove 30.0 from 4.0 to 16.0\n    serrated 48 deep 0.6 from 5.0 to 15.0\n",
            "grip-misses",
            5,
            True,
        ),
        (BAR + "    diamond 24 deep 0.6 from 5 to 15\n    hex 28 from 0 to 20\n", "grip-misses", 4, True),
        (BAR + "    hex 28 from 0 to 20\n    serrated 48 deep 0.4 from 5 to 15\n", "grip-misses", 5, True),
        (BAR + "    hex 31 from 0 to 20\n    serrated 48 deep 0.4 from 5 to 15\n", None, 0, False),
        (BAR + "    serrated 48 deep 0.4 from 5 to 50\n", "grip-misses", 4, False),
        (BAR + "    diamond 24 deep 0.4 from 25 to 50\n", "bad-station", 4, True),
        (STEP + "    hex 32 from 0 to 20\n", "grip-misses", 5, False),
        (STEP + "    hex 32 from 0 to 10\n", None, 0, False),
        (STEP + "    square 32 from 10 to 20\n    hex 28 from 0 to 5\n", "flat-misses", 5, True),
        (TAPER + "    flat 31 from 3 to 17\n    hex 36 from 0 to 20\n", "grip-misses", 5, False),
        (STEP.replace("30.0", "10.0") + "    flat 8 from 0 to 20\n", "bad-size", 5, True),
        (BAR + "    bored 33 from 0 to 20\n    splines 24 deep 0.6 from 3 to 17\n", "no-wall", 5, True),
        (
            "turning knob\n    taper 20 at 0, 1 at 20\n    serrated 24 deep 0.6 from 0 to 20\n",
            "bad-size",
            4,
            True,
        ),
    ],
)
def test_what_a_grip_can_not_do_is_answered_at_its_line(text, code, line, stops):
    result = makegood.compile_text('recipe "t"\n' + text)
    found = [(one.code, one.span.line, one.is_error) for one in result.diagnostics if one.code != "thin-wall"]
    assert found == ([(code, line, stops)] if code else []), said(result)


def test_a_warning_says_where_the_stretch_is_too_thin():
    """30 to 38 over 20 mm is 33 at 7.5."""
    result = makegood.compile_text('recipe "t"\n' + TAPER + "    hex 33 from 2.0 to 18.0\n")
    assert result.ok
    assert ["from 2 to 7.5" in one.headline for one in result.diagnostics] == [True]


def test_a_wall_behind_teeth_is_measured_to_their_floors():
    """34 less two teeth of 0.6 leaves 32.8 over a bore of 31.6: a wall of 0.6."""
    lines = "    bored 31.6 from 0 to 20\n    serrated 48 deep 0.6 from 3 to 17\n"
    result = makegood.compile_text('recipe "t"\n' + BAR + lines)
    assert [one.code for one in result.diagnostics] == ["thin-wall"]
    assert "0.60" in result.diagnostics[0].headline


LAYERS = "".join(f"    serrated 48 deep {0.5 + 0.01 * i:.2f} from 0 to 20\n" for i in range(30))


def test_beads_and_fine_teeth_without_end_are_refused():
    beads = "".join(f"    bead 35.0 at {1 + 0.29 * i:.2f} wide 0.25\n" for i in range(64))
    for lines in (
        beads + "    splines 360 deep 0.5 from 0 to 20\n",
        beads + "    diamond 60 deep 0.5 from 0 to 20\n",
        LAYERS,
    ):
        result = makegood.compile_text('recipe "t"\n' + BAR + lines)
        assert [one.code for one in result.diagnostics] == ["too-many-facets"]
