"""Beads, coves, vees, rounds, hollows, teeth and grips of turnings: volumes in closed form, true gauges, and
what is answered.

Volumes of rings of a section of area A whose centroid runs round at radius R: 2 pi R A (Pappus; textbook).
"""

from __future__ import annotations

import math

import makegood
import numpy as np
import pytest

from .making import corners, faces_of, falls_short, made, normals

BAR = "turning bar\n    across 20.0 from 0 to 20.0\n"
PLAIN = math.pi * 100 * 20


def segment(wide, high):
    """Area of a circular segment and the height of its centroid over its chord (from the circle's,
    textbook).
    """
    rho = (high**2 + wide**2 / 4) / (2 * high)
    half = math.asin(wide / (2 * rho)) if high <= rho else math.pi - math.asin(wide / (2 * rho))
    area = rho**2 * (half - math.sin(half) * math.cos(half))
    centre = 2 * rho * math.sin(half) ** 3 / (3 * (half - math.sin(half) * math.cos(half)))
    return area, centre - (rho - high)


@pytest.mark.parametrize(("wide", "high"), [(4.0, 0.6), (4.0, 2.0), (2.0, 0.99)])
def test_bead_by_pappus(wide, high):
    area, up = segment(wide, high)
    result = made(BAR + f"    bead {20 + 2 * high} at 8.0 wide {wide}\n", 0.003)
    falls_short(result, PLAIN + 2 * math.pi * (10 + up) * area, 2 * math.pi * 12 * (20 + 2 * wide), 0.003)
    assert result.figures.box[0] == pytest.approx(20 + 2 * high, abs=2e-6)


@pytest.mark.parametrize(("wide", "high"), [(4.0, 0.6), (4.0, 2.0)])
def test_cove_by_pappus(wide, high):
    area, up = segment(wide, high)
    result = made(BAR + f"    cove {20 - 2 * high} at 8.0 wide {wide}\n", 0.003)
    falls_short(result, PLAIN - 2 * math.pi * (10 - up) * area, 2 * math.pi * 10 * (20 + 2 * wide), 0.003)


def test_a_deep_cove_is_half_round_with_straight_sides():
    """3 deep and 4 wide: a strip of 1 x 4, then half a round of radius 2."""
    exact = PLAIN - math.pi * (100 - 81) * 4 - 2 * math.pi * (9 - 4 * 2 / (3 * math.pi)) * (math.pi * 4 / 2)
    falls_short(made(BAR + "    cove 14.0 at 8.0 wide 4.0\n", 0.003), exact, 2 * math.pi * 10 * 30, 0.003)


def test_vee_by_pappus():
    exact = PLAIN - 2 * math.pi * (10 - 1.5 / 3) * (0.5 * 2.0 * 1.5)
    falls_short(made(BAR + "    vee 17.0 at 8.0 wide 2.0\n", 0.003), exact, 2 * math.pi * 10 * 25, 0.003)


def test_bead_in_a_bore():
    area, up = segment(2.0, 0.5)
    exact = PLAIN - math.pi * 36 * 20 + 2 * math.pi * (6 - up) * area
    result = made(BAR + "    bored 12.0 from 0 to 20.0\n    bead inside 11.0 at 10.0 wide 2.0\n", 0.003)
    falls_short(result, exact, 2 * math.pi * 16 * 25, 0.003)


def test_a_true_ring_passes_over_the_facets_of_a_bead_and_a_true_ball_sits_in_a_cove():
    """Corners of a bead lie on its arc, facets of a cove touch theirs: told from the finished mesh."""
    for line, free in (("bead 22.0 at 8.0 wide 4.0", False), ("cove 18.0 at 8.0 wide 4.0", True)):
        result = made(BAR + f"    {line}\n")
        rho, middle = (1 + 4) / 2, (10 - 1 + 2.5 if free else 11 - 2.5, 8.0)
        seen = corners(result, faces_of(result, "bar", line.split()[0])).reshape(-1, 3)
        r = np.hypot(seen[:, 0] - result.figures.box[0] / 2, seen[:, 1] - result.figures.box[1] / 2)
        away = np.hypot(r - middle[0], seen[:, 2] - middle[1])
        assert len(away) > 100
        if free:
            assert away.min() >= rho - 2e-6
        else:
            assert away.max() <= rho + 2e-6


def test_round_and_hollow_by_pappus():
    """A round takes (1 - pi / 4) R^2 off an edge, a hollow adds as much in a step; its centroid lies at
    0.2234 R.
    """
    text = BAR + "    across 30.0 from 20.0 to 26.0\n    round 2.0 at 26.0\n    hollow 3.0 at 20.0\n"
    share, off = 1 - math.pi / 4, (10 - 3 * math.pi) / (3 * (4 - math.pi))
    exact = (
        PLAIN
        + math.pi * 225 * 6
        - 2 * math.pi * (15 - 2 * off) * share * 4
        + 2 * math.pi * (10 + 3 * off) * share * 9
    )
    falls_short(made(text, 0.003), exact, 2 * math.pi * 15 * 45, 0.003)


def test_round_at_the_mouth_of_a_bore():
    text = BAR + "    bored 12.0 from 0 to 20.0\n    round inside 1.5 at 0\n"
    share, off = 1 - math.pi / 4, (10 - 3 * math.pi) / (3 * (4 - math.pi))
    exact = PLAIN - math.pi * 36 * 20 - 2 * math.pi * (6 + 1.5 * off) * share * 1.5**2
    falls_short(made(text, 0.003), exact, 2 * math.pi * 16 * 22, 0.003)


def test_bevel_still_is_what_it_was():
    exact = PLAIN - 2 * math.pi * (10 - 2 / 3) * 0.5 * 4
    falls_short(made(BAR + "    bevel 2.0 at 20.0\n", 0.003), exact, 2 * math.pi * 10 * 25, 0.003)


@pytest.mark.parametrize("count", [3, 18, 90])
def test_serrations_of_a_bore_and_a_turning(count):
    """Area of the star: n r (r - d) sin(pi / n); straight edges, so exact in a bore."""
    star = count * 5 * 4.5 * math.sin(math.pi / count)
    block = "block b\n    long 20.0\n    wide 20.0\n    thick 5.0\n"
    bore = block + f"bore h\n    across 10.0\n    serrated {count} deep 0.5\n    at 0, 0 from b\n"
    assert made(bore).figures.volume == pytest.approx(20 * 20 * 5 - star * 5, rel=1e-7)
    star = count * 10 * 9.5 * math.sin(math.pi / count)
    result = made(BAR + f"    serrated {count} deep 0.5 from 5.0 to 20.0\n", 0.002)
    falls_short(result, math.pi * 100 * 5 + star * 15, 2 * math.pi * 10 * 20, 0.002)


@pytest.mark.parametrize("kind", ["bore", "peg"])
def test_splines_fit_a_gauge(kind):
    """Area pi (r^2 + (r - d)^2) / 2; a true round of the floors passes the bore, a peg stays inside its
    crown.
    """
    area = math.pi * (25 + 16) / 2
    base = "block b\n    long 20.0\n    wide 20.0\n    thick 5.0\n"
    if kind == "bore":
        result = made(base + "bore h\n    across 10.0\n    splines 6 deep 1.0\n    at 0, 0 from b\n", 0.002)
        falls_short(result, 20 * 20 * 5 - area * 5, 60 * 5, 0.002)
        seen = corners(result, faces_of(result, "h"))
        gaps = np.abs(((seen.mean(axis=1) - [10, 10, 0]) * normals(seen))[:, :2].sum(axis=1))
        assert gaps[gaps > 3].min() >= 4.0 - 1e-6
    else:
        peg = (
            "peg h\n    on b.front\n    across 10.0\n    high 5.0\n"
            "    splines 6 deep 1.0\n    at 0, 0 from b\n"
        )
        result = made(base + peg, 0.002)
        falls_short(result, 20 * 20 * 5 + area * 5, 60 * 5, 0.002)


def test_splines_of_a_turning_keep_its_round():
    result = made(BAR + "    splines 8 deep 1.0 from 0 to 20.0\n", 0.002)
    falls_short(result, math.pi * (100 + 81) / 2 * 20, 2 * math.pi * 10 * 30, 0.002)
    assert result.figures.box[0] == pytest.approx(20.0, abs=1e-3)


def test_hex_square_and_flat_of_a_turning():
    rounds = "    across 20.0 from 20.0 to 50.0\n"
    cuts = (
        "    hex 15.0 from 20.0 to 30.0\n    square 12.0 from 30.0 to 40.0\n"
        "    flat 17.0 from 40.0 to 50.0 facing right\n"
    )
    half = math.acos(7 / 10)
    cap = 100 * (half - math.sin(half) * math.cos(half))
    exact = PLAIN + 15**2 * math.sqrt(3) / 2 * 10 + 144 * 10 + (100 * math.pi - cap) * 10
    falls_short(made(BAR + rounds + cuts, 0.002), exact, 2 * math.pi * 10 * 50, 0.002)


def test_a_diamond_grip_stays_within_its_round_and_leaves_the_core():
    """Two sets of serrations: less than one set leaves, more than the core; as many teeth on every height."""
    result = made(BAR + "    diamond 36 deep 0.6 from 2.0 to 18.0\n")
    one = made(BAR + "    serrated 36 deep 0.6 from 2.0 to 18.0\n")
    assert math.pi * 9.4**2 * 16 + math.pi * 400 < result.figures.volume < one.figures.volume
    r = np.hypot(*(result.mesh.points[:, :2] - 10.0).T)
    assert r.max() <= 10 + 1e-6
    # its facets across a flank lie deeper than the floor by no more than the sagitta of one step of the climb
    assert r[result.mesh.points[:, 2] > 3].min() == pytest.approx(9.4, abs=0.02) or r.min() < 1e-6


@pytest.mark.parametrize(
    ("line", "code"),
    [
        ("bead 19.0 at 5.0 wide 2.0", "bad-station"),
        ("cove 21.0 at 5.0 wide 2.0", "bad-station"),
        ("vee 18.0 at 50.0 wide 2.0", "bad-station"),
        ("bead inside 5.0 at 5.0 wide 2.0", "bad-station"),
        ("bead 21.0 at 5.0 wide 0", "bad-size"),
        ("round 30 at 20.0", "bevel-too-large"),
        ("hollow 1 at 20.0", "bad-station"),
        ("serrated 2 deep 0.5 from 0 to 5.0", "bad-count"),
        ("serrated 9999 deep 0.5 from 0 to 5.0", "bad-count"),
        ("splines 6 deep 12 from 0 to 5.0", "bad-size"),
        ("diamond 36 deep 0.5 from 5 to 5", "bad-station"),
        ("hex 25 from 0 to 5", "flat-misses"),
        ("flat 25 from 0 to 5", "flat-misses"),
        ("flat 15 from 0 to 5 facing inwards", "no-such-side"),
        ("square 12 from 30 to 40", "bad-station"),
        ("cove 18 at 5 wide 99999", "number-too-big"),
    ],
)
def test_what_can_not_be_made_is_answered(line, code):
    found = [
        one.code
        for one in makegood.compile_text('recipe "b"\n' + BAR + f"    {line}\n").diagnostics
        if one.is_error
    ]
    assert found == [code]


@pytest.mark.parametrize(
    "lines",
    [
        "    diamond 360 deep 0.5 from 0 to 20\n",
        "".join(f"    serrated 360 deep 0.5 from {i} to {i + 1}\n" for i in range(20)),
        "".join(f"    hex 15 from {0.1 * i:.1f} to 20\n" for i in range(80)),
    ],
)
def test_more_teeth_than_can_be_cut_in_good_time_are_refused(lines):
    found = [one.code for one in makegood.compile_text('recipe "b"\n' + BAR + lines).diagnostics]
    assert found == ["too-many-facets"]


def test_too_many_beads_are_refused():
    lines = "".join(f"    bead 22.0 at {1 + 0.2 * i:.1f} wide 0.2\n" for i in range(80))
    found = [one.code for one in makegood.compile_text('recipe "b"\n' + BAR + lines).diagnostics]
    assert found == ["bad-count"]


def test_a_bead_through_a_mouth_is_judged_by_its_ring():
    """20.6 through 20.0: 3 %.  TPU takes it, PLA does not."""
    text = (
        BAR.replace("20.0\n", "20.0\n    bored 16.0 from 0 to 20.0\n")
        + "    bead 20.6 at 5.0 wide 1.0 through 20.1\n"
    )
    for plastic, codes in (("TPU", []), ("PLA", ["over-strained"]), ("PC", ["snaps-once"])):
        result = makegood.compile_text(f'recipe "b"\n    plastic {plastic}\n' + text)
        assert [one.code for one in result.diagnostics] == codes
