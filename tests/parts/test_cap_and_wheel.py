"""The cap and the crank wheel of `examples/`, by figures worked out by hand."""

from __future__ import annotations

import itertools
import math

import makegood
import numpy as np
import pytest

from .making import EXAMPLES, corners, faces_of, inside, passing, said, sound, spot


@pytest.fixture(scope="module")
def cap() -> makegood.Result:
    result = makegood.compile_file(EXAMPLES / "soap-bottle-cap.mend")
    assert result.ok, said(result)
    sound(result)
    return result


@pytest.fixture(scope="module")
def wheel() -> makegood.Result:
    result = makegood.compile_file(EXAMPLES / "salad-spinner-wheel.mend")
    assert result.ok, said(result)
    sound(result)
    return result


# Neck: 38.1 over the ridges, 35.4 between, 12.2 over 3, ridge 1.3 at the crest and 2.4 at the foot; the cap
# is 0.4 clear.
PITCH, GROUND, CREST_DEPTH = 12.2 / 3, 0.5 * 38.5, 1.35
SLOPE = math.atan2(0.55, 1.35)
GAP = 0.4 * (1.0 - math.sin(SLOPE)) / math.cos(SLOPE)
CREST, FOOT = PITCH - 2.4 - GAP, PITCH - 1.3 - GAP


def test_the_cap_holds_what_its_solids_hold(cap: makegood.Result) -> None:
    """Disc and rim, less bore, bevel and eight flutes, and the ridge by Pappus, faded over half a turn at
    both ends.
    """
    turns = (13.0 - FOOT) / PITCH
    area = CREST_DEPTH * 0.5 * (CREST + FOOT)
    middle = CREST_DEPTH / 3.0 * (FOOT + 2.0 * CREST) / (FOOT + CREST)
    ridge = math.tau * area * ((turns - 1.0) * (GROUND - middle) + 0.5 * GROUND - middle / 3.0)
    x = (22.0**2 - 2.0**2 + 22.6**2) / (2.0 * 22.6)  # where a flute's round meets the rim
    rim, flute = math.acos(x / 22.0), math.acos((22.6 - x) / 2.0)
    lens = 22.0**2 * (rim - 0.5 * math.sin(2 * rim)) + 2.0**2 * (flute - 0.5 * math.sin(2 * flute))
    left = 1.0 - 8.0 * 2.0 * rim / math.tau  # share of the rim that the flutes leave
    bevel = math.tau * (22.0 - 0.8 / 3.0) * 0.5 * 0.8**2 * left
    exact = 16.0 * (math.pi * 22.0**2 - 8.0 * lens) - 13.0 * math.pi * GROUND**2 + ridge - bevel
    assert cap.figures.volume == pytest.approx(exact, rel=4e-3)
    assert cap.figures.volume < exact + 2.0
    assert cap.figures.box == pytest.approx((2 * x, 2 * x, 16.0), abs=0.03)


def test_the_caps_ridge_stands_where_the_necks_does_not(cap: makegood.Result) -> None:
    """Between 35.8 and 38.5 across there is a ridge as wide as worked out, three of them along the bore."""
    away = corners(cap, faces_of(cap, "cap", "thread")) - spot(cap, "cap")
    reach = np.hypot(away[..., 0], away[..., 1])
    assert reach[reach > 1.0].min() == pytest.approx(
        17.9, abs=0.01
    )  # the middle of the floor belongs to the thread too
    x, y, _ = spot(cap, "cap")
    radius, heights = 18.6, np.arange(0.0, 13.0, 0.01)
    found = np.array(inside(cap, *((x, y + radius, float(z)) for z in heights[400:900])))
    wide = CREST + (FOOT - CREST) * (radius - 17.9) / CREST_DEPTH
    edges = np.flatnonzero(np.diff(found.astype(int)))
    assert len(edges) >= 2
    whole = [int(b - a) for a, b in itertools.pairwise(edges) if found[a + 1]]
    assert whole == [pytest.approx(100 * wide, abs=3)]


def test_a_true_neck_goes_into_the_cap(cap: makegood.Result) -> None:
    """The neck without ridges (35.4) and its ridge on a helix of the same pitch: 0.2 clear on all sides, by
    points.
    """
    x, y, _ = spot(cap, "cap")
    low = 0.5 * FOOT + 0.5 * PITCH  # half a pitch beside the cap's own ridge
    points = []
    for turn in np.linspace(0.55, 1.9, 60):
        c, s, z = math.cos(math.tau * turn), math.sin(math.tau * turn), low + PITCH * turn
        for radius, half in ((19.05, 0.65), (17.8, 1.2 - 0.02), (18.4, 0.65 + 0.55 * 0.65 / 1.35)):
            for side in (-half, half):
                points.append((x + radius * c, y + radius * s, z + side))
    assert not any(inside(cap, *points))
    assert any(inside(cap, *((a, b, c + 0.5) for a, b, c in points)))  # half a millimetre along it would foul


def test_the_wheel_is_found_from_its_readings(wheel: makegood.Result) -> None:
    """Module 1 by tips and span; over five of 43 teeth m cos 20 (4.5 pi + 43 inv 20) = 13.887, less 0.15 cos
    20.
    """
    sizes = dict(next(one for one in wheel.report().features if one.name == "wheel").sizes)
    assert sizes["module"] == 1.0
    assert sizes["feet across"] == pytest.approx(40.5)
    assert sizes["span over 5 teeth"] == pytest.approx(13.8868 - 0.15 * math.cos(math.radians(20)), abs=1e-4)
    assert not [one for one in wheel.diagnostics if one.code in ("shift-found", "module-as-read")]
    away = wheel.mesh.points - spot(wheel, "wheel")
    reach = np.hypot(away[:, 0], away[:, 1])
    assert 2.0 * reach.max() == pytest.approx(45.0, abs=1e-6)


def test_the_wheels_shaft_and_key(wheel: makegood.Result) -> None:
    """6.0 pushed on: 6.1; its flat 2.2 + 0.1 from the middle upwards; the key goes through the hub and leaves
    the wheel.
    """
    x, y, _ = spot(wheel, "wheel")
    assert wheel.figures.box[2] == pytest.approx(11.0, abs=1e-9)
    assert inside(wheel, (x, y + 2.1, 3.0), (x, y + 2.4, 3.0), (x, y - 2.9, 3.0)) == [False, True, False]
    assert inside(wheel, (x + 5.0, y, 8.0), (x + 5.0, y, 3.0), (x + 5.0, y + 0.9, 8.0)) == [False, True, True]
    assert passing(wheel, "shaft") <= 2 * 2.25 + 0.1  # the flat is the nearest wall
