"""Tooth outlines against a rack that cuts them step by step, the true involute, and each other in mesh."""

from __future__ import annotations

import itertools
import math

import numpy as np
import numpy.typing as npt
import pytest
from hypothesis import given
from hypothesis import strategies as st
from makegood.diagnostics.types import Trouble
from makegood.outlines.gears import foot_curve, gear_ring
from makegood.quantities.gears import DEDENDUM, PRESSURE, ROOT, Gear, centre_distance
from shapely import affinity
from shapely.geometry import MultiPoint, Point, Polygon
from shapely.ops import unary_union

Floats = npt.NDArray[np.float64]


def outline(gear: Gear, chord: float = 0.005) -> Polygon:
    found = Polygon(gear_ring(gear, chord, 0).points)
    assert found.is_valid
    return found


def rack_tooth(gear: Gear) -> Polygon:
    """One tooth of the cutting rack, its reference line on y = 0, the tip down: straight flanks, tip rounded
    with ROOT.
    """
    m, a = gear.module, PRESSURE
    half = 0.25 * math.pi * m + 0.5 * gear.thinner
    y, corner = (DEDENDUM - ROOT) * m, ROOT * m
    x = half - y * math.tan(a) - corner / math.cos(a)
    tip = MultiPoint([(-x, -y), (x, -y)]).convex_hull.buffer(corner, quad_segs=400)
    wide = half + 1.6 * m * math.tan(a)
    low = half - (y + corner * math.sin(a)) * math.tan(a)
    deep = y + corner * math.sin(a)
    flank = Polygon([(-wide, 1.6 * m), (-low, -deep), (low, -deep), (wide, 1.6 * m)])
    return unary_union([tip, flank]).convex_hull


def cut_by_rack(gear: Gear, steps: int) -> Polygon:
    """One space of the wheel, cut into a sector of its blank: the rack rolls past in small steps (independent
    of ours).
    """
    radius, tooth = 0.5 * gear.pitch, rack_tooth(gear)
    reach = 1.6 * math.pi * gear.module
    cuts = []
    for u in np.linspace(-reach, reach, steps):
        # the rack has moved by u, the wheel with it by u / radius clockwise: seen from the wheel the rack
        # turns back
        here = affinity.translate(tooth, u, radius + gear.shift * gear.module)
        cuts.append(affinity.rotate(here, math.degrees(u / radius), origin=(0.0, 0.0)))
    return unary_union(cuts)


SOME = [
    Gear(19, 1.0),
    Gear(43, 1.0),
    Gear(10, 1.0),
    Gear(8, 1.0),
    Gear(8, 1.0, 0.4),
    Gear(60, 0.5, -0.3),
    Gear(12, 2.0, 0.3, thinner=0.15),
]


@pytest.mark.parametrize("gear", SOME, ids=lambda g: f"{g.teeth} at {g.shift:g}")
def test_the_rack_cuts_this_outline(gear: Gear):
    """A space between two teeth against the swept rack: within the chord and the step of the sweep, never
    proud of it.
    """
    chord = 0.002
    space = cut_by_rack(gear, 1200)
    whole = affinity.rotate(outline(gear, chord), 90.0 + 180.0 / gear.teeth, origin=(0.0, 0.0))
    sector = Polygon(
        [
            (0.0, 0.0),
            *(
                (gear.tip * math.sin(t), gear.tip * math.cos(t))
                for t in np.linspace(-math.pi / gear.teeth, math.pi / gear.teeth, 9)
            ),
        ]
    )
    ours, true = (
        whole.intersection(sector),
        Point(0, 0).buffer(0.5 * gear.tip, 2000).intersection(sector).difference(space),
    )
    assert (
        ours.symmetric_difference(true).buffer(-0.75 * chord).is_empty
    )  # nowhere further apart than 1.5 chords
    assert ours.difference(true.buffer(2e-4)).is_empty  # material never stands out of the true outline


def flank_excess(gear: Gear, points: Floats, start: float) -> Floats:
    """How far (mm) points over the foot stand out of the true flank of their tooth."""
    radius = np.hypot(points[:, 0], points[:, 1])
    step = math.tau / gear.teeth
    angle = np.abs((np.arctan2(points[:, 1], points[:, 0]) + 0.5 * step) % step - 0.5 * step)
    over = (radius >= max(start, 0.5 * gear.base) + 1e-9) & (radius <= 0.5 * max(gear.tip, gear.root))
    true = np.array([gear.half_angle(2.0 * float(r)) for r in radius[over]])
    return (angle[over] - true) * radius[over] * (-1.0 if gear.inside else 1.0)


def along_edges(points: Floats, each: int = 9) -> Floats:
    ahead = np.roll(points, -1, axis=0)
    share = np.linspace(0.0, 1.0, each)[:, None, None]
    return (points + share * (ahead - points)).reshape(-1, 2)


CHORDS = st.sampled_from([0.05, 0.01, 0.002])


@given(st.integers(8, 150), st.floats(0.3, 5.0), st.floats(-0.3, 0.6), st.floats(0.0, 0.3), CHORDS)
def test_flanks_are_never_proud_of_the_involute(
    teeth: int, module: float, shift: float, thinner: float, chord: float
):
    gear = Gear(teeth, module, shift, thinner=thinner * module * 0.5)
    try:
        ring = gear_ring(gear, chord, 3)
    except Trouble:
        assert teeth < 14  # undercut to nothing
        return
    excess = flank_excess(gear, along_edges(ring.points), foot_curve(gear)[1])
    assert len(excess) > 100
    assert excess.max() < 1e-6 * module
    assert (ring.labels == 3).all()
    radius = np.hypot(*ring.points.T)
    assert radius.max() == pytest.approx(0.5 * gear.tip, abs=1e-9)
    assert radius.min() >= 0.5 * gear.root - 1e-9


@given(st.integers(34, 150), st.floats(0.3, 5.0), st.floats(0.0, 0.3), CHORDS)
def test_a_rings_flanks_are_never_proud_either(teeth: int, module: float, shift: float, chord: float):
    gear = Gear(teeth, module, shift, inside=True)
    ring = gear_ring(gear, chord, 0)
    points = along_edges(ring.points)
    radius = np.hypot(*points.T)
    assert radius.min() >= 0.5 * gear.tip - 1e-9  # tips stay out of the bore between them
    assert radius.max() <= 0.5 * gear.root + chord + 1e-9
    # As deep as the tip of the rack that would cut it, one module under the pitch line, the flank is a true
    # involute.
    deepest = 0.5 * gear.pitch + (1.0 + shift) * module
    excess = flank_excess(gear, points[radius < deepest], 0.5 * gear.tip)
    assert len(excess) > 100
    assert excess.max() < 1e-6 * module
    assert Polygon(ring.points).exterior.is_ccw is False


@pytest.mark.parametrize(("teeth", "shift"), [(34, 0.0), (60, 0.0), (60, 0.3), (150, 0.0)])
def test_a_rings_feet_are_rounded_as_the_iso_53_rack_is(teeth: int, shift: float):
    """A round of 0.38 modules goes into every corner of the spaces; a larger one of 0.6 does not."""
    inside = Polygon(gear_ring(Gear(teeth, 1.0, shift, inside=True), 0.0005, 0).points)

    def left_out(round_of: float) -> float:
        return float(inside.difference(inside.buffer(-round_of, 64).buffer(round_of, 64)).area) / teeth

    assert left_out(0.37) < 1e-3
    assert left_out(0.6) > 0.02


def turned_through(
    one: Polygon, two: Polygon, teeth: tuple[int, int], distance: float, sense: float
) -> float:
    """Greatest common area while the pair turns through a pitch in 40 steps."""
    worst = 0.0
    for k in range(40):
        turn = k / 40.0 * 360.0 / teeth[0]
        a = affinity.rotate(one, turn, origin=(0.0, 0.0))
        b = affinity.translate(
            affinity.rotate(two, sense * turn * teeth[0] / teeth[1], origin=(0.0, 0.0)), distance, 0.0
        )
        worst = max(worst, a.intersection(b).area)
    return worst


@pytest.mark.parametrize("shifts", [(0.0, 0.0), (0.3, 0.2)])
def test_a_pair_of_19_and_43_turns_through_a_pitch(shifts: tuple[float, float]):
    """With play of 0.02 each they never touch; a tenth too close they do."""
    one, two = Gear(19, 1.0, shifts[0], thinner=0.02), Gear(43, 1.0, shifts[1], thinner=0.02)
    first, second = outline(one), affinity.rotate(outline(two), 180.0 + 180.0 / 43, origin=(0.0, 0.0))
    distance = centre_distance(one, two)
    assert turned_through(first, second, (19, 43), distance, -1.0) == 0.0
    assert turned_through(first, second, (19, 43), distance - 0.1, -1.0) > 1e-3
    wrong = affinity.rotate(second, 0.5 * 360.0 / 43, origin=(0.0, 0.0))
    assert (
        turned_through(first, wrong, (19, 43), distance, -1.0) > 0.1
    )  # tooth on tooth: the test sees something


def test_a_wheel_turns_in_a_ring():
    one, ring = Gear(19, 1.0, thinner=0.02), Gear(60, 1.0, inside=True, thinner=0.02)
    body = Point(0, 0).buffer(40.0, 200).difference(outline(ring))
    distance = centre_distance(one, ring)
    assert distance == pytest.approx(20.5)
    first = outline(one)
    body = affinity.rotate(body, 180.0, origin=(0.0, 0.0))
    assert (
        turned_through(first, affinity.rotate(body, 180.0, origin=(0.0, 0.0)), (19, 60), -distance, 1.0)
        == 0.0
    )
    assert (
        turned_through(first, affinity.rotate(body, 180.0, origin=(0.0, 0.0)), (19, 60), -distance - 0.1, 1.0)
        > 1e-3
    )


def test_finer_chords_come_closer_at_the_right_pace():
    """The area a wheel loses to facets falls with the chord: a quarter of the chord, a quarter of the
    loss.
    """
    areas = [outline(Gear(31, 2.0), chord).area for chord in (0.04, 0.01, 0.0025, 1e-5)]
    losses = [areas[-1] - one for one in areas[:-1]]
    assert losses[2] > 0.0
    for one, finer in itertools.pairwise(losses):
        assert 2.0 < one / finer < 6.5


NONE = [Gear(3, 1.0), Gear(4000, 1.0), Gear(12, 1.0, inside=True), Gear(20, 1.0, 0.9), Gear(6, 1.0, -0.9)]


@pytest.mark.parametrize("gear", NONE, ids=lambda g: f"{g.teeth} at {g.shift:g}")
def test_what_no_rack_can_cut_is_refused(gear: Gear):
    with pytest.raises(Trouble) as seen:
        gear_ring(gear, 0.01, 0)
    assert seen.value.code == "bad-gear"
