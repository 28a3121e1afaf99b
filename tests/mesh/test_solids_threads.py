"""Threads by answer: sizes of ISO 68-1, true profile never crossed, volumes by Pappus, bolt and nut that go
together.
"""

from __future__ import annotations

import itertools
import math

import numpy as np
import numpy.typing as npt
import pytest
import trimesh
from hypothesis import given
from hypothesis import strategies as st
from makegood.diagnostics.types import Trouble
from makegood.kinds.thread.form import ThreadForm, mate, metric_form
from makegood.kinds.thread.ridges import OFF_ENDS, Wound, steps_a_turn, strip
from makegood.kinds.thread.ridges import threaded as turned
from makegood.kinds.thread.section import ridge_section
from makegood.mesh import Solid, remove
from makegood.mesh.tools import round_tool
from makegood.mesh.turnings import unit_circle
from makegood.quantities.tables.threads import COARSE, metric_thread

from .thread_bodies import FORMS, threaded

Floats = npt.NDArray[np.float64]

# size: pitch, d2, d3, D1.  Tables read: a tool maker's tapping guide (UNI 4535-64) and further ones, which
# agree with the formulas of ISO 68-1 (d2 = d - 0.649519 P, d3 = d - 1.226869 P, D1 = d - 1.082532 P) to
# 0.001.
ISO = {
    "M1.6": (0.35, 1.373, 1.171, 1.221),
    "M1.8": (0.35, 1.573, 1.371, 1.421),
    "M2": (0.4, 1.740, 1.509, 1.567),
    "M2.5": (0.45, 2.208, 1.948, 2.013),
    "M3": (0.5, 2.675, 2.387, 2.459),
    "M3.5": (0.6, 3.110, 2.764, 2.850),
    "M4": (0.7, 3.545, 3.141, 3.242),
    "M5": (0.8, 4.480, 4.019, 4.134),
    "M6": (1.0, 5.350, 4.773, 4.917),
    "M7": (1.0, 6.350, 5.773, 5.917),
    "M8": (1.25, 7.188, 6.466, 6.647),
    "M10": (1.5, 9.026, 8.160, 8.376),
    "M12": (1.75, 10.863, 9.853, 10.106),
}


@pytest.mark.parametrize("name", ISO)
def test_sizes_are_those_of_published_tables(name: str):
    pitch, _, d3, core = ISO[name]
    one = metric_thread(name)
    assert one.pitch == pitch
    assert (one.root, one.core) == pytest.approx((d3, core), abs=0.00101)
    bolt = metric_form(name, False, True)
    assert bolt.ground == pytest.approx(one.root, abs=1e-9)  # the rounded root ends at d3
    assert bolt.root_radius == pytest.approx(0.144338 * pitch, abs=1e-6 * pitch)  # H / 6


def test_names():
    assert metric_thread("M8", fine=True).pitch == 1.0
    assert metric_thread("M8x0.75").name == "M8x0.75"
    assert metric_thread("m8x1.25").name == "M8"
    for name, fine, code in (
        ("M12", True, "which-pitch"),
        ("M11", False, "unknown-thread"),
        ("M8x6", False, "unknown-thread"),
        ("8", False, "unknown-thread"),
        ("M8x1x1", False, "unknown-thread"),
    ):
        with pytest.raises(Trouble) as seen:
            metric_thread(name, fine)
        assert seen.value.code == code


def test_the_rounded_root_is_tangent_and_inside_the_arc():
    """Corners of the root lie outside its arc by no more than the chord, and the flank ends on the line of 30
    degrees.
    """
    form = metric_form("M60", False, True)
    section = ridge_section(form, 0.01)
    radius, half_pitch = form.root_radius, 0.5 * form.pitch
    assert len(section) > 3
    for half, height in section[1:-1]:
        away = math.hypot(half - half_pitch, height - radius)
        assert radius - 1e-9 < away <= radius + 0.01 + 1e-9
    (top, tall), (low, short) = section[0], section[1]
    assert (low - top) / (tall - short) == pytest.approx(math.tan(math.radians(30.0)), abs=1e-9)


def surface_points(solid: Solid, each: int = 12) -> Floats:
    raw = solid.to_mesh64()
    corners = np.asarray(raw.vert_properties)[:, :3][np.asarray(raw.tri_verts).astype(np.int64)]
    weights = np.random.default_rng(7).dirichlet([1.0, 1.0, 1.0], (len(corners), each))
    middles = np.array([[0.5, 0.5, 0.0], [0.0, 0.5, 0.5], [0.5, 0.0, 0.5], [1.0, 0.0, 0.0]])
    found = [np.einsum("tkc,tcd->tkd", weights, corners), np.einsum("kc,tcd->tkd", middles, corners)]
    return np.concatenate([one.reshape(-1, 3) for one in found])


def excess(form: ThreadForm, points: Floats, start: float) -> Floats:
    """How far points above the ground lie outside the nearest of the true ridges that wind from `start` (mm
    along the axis).
    """
    r = np.hypot(points[:, 0], points[:, 1])
    turn = np.arctan2(points[:, 1], points[:, 0]) / math.tau * (-1.0 if form.left else 1.0)
    height = (r - 0.5 * form.ground) * (1.0 if form.outside else -1.0)
    off = (points[:, 2] - start - form.lead * turn + 0.5 * form.pitch) % form.pitch - 0.5 * form.pitch
    depth = 0.5 * (form.across - form.core)
    low = 0.5 * (form.core - form.ground) if form.outside else 0.0
    flank = 0.5 * form.crest + (depth + low - height) * math.tan(form.slope)
    if form.rounded:
        radius = form.root_radius
        inside_arc = np.clip(radius**2 - (height - radius) ** 2, 0.0, None)
        flank = np.where(height < low, 0.5 * form.pitch - np.sqrt(inside_arc), flank)
    beyond = np.maximum(np.abs(off) - flank, height - depth - low)
    return beyond[height > 1e-9]


@pytest.mark.parametrize("name", FORMS)
@pytest.mark.parametrize("chord", [0.05, 0.01])
def test_a_ridge_lies_within_the_true_one(name: str, chord: float):
    form = FORMS[name]
    points = surface_points(threaded(form, 0.0, 4.0 * form.lead, chord))
    assert points[:, 2].min() >= -1e-9
    assert points[:, 2].max() <= 4.0 * form.lead + 1e-9
    start = ridge_section(form, chord)[-1][0] + OFF_ENDS
    assert excess(form, points, start).max() < 1e-9


ANY_FORM = st.tuples(
    st.floats(0.3, 8.0),
    st.floats(0.05, 0.5),
    st.floats(0.0, 0.4),
    st.floats(0.1, 0.5),
    st.integers(1, 6),
    st.booleans(),
    st.booleans(),
    st.floats(2.0, 60.0),
).map(
    lambda t: ThreadForm(
        t[7] + 2 * t[3] * t[0], t[7], t[0], t[1] * t[0], (t[1] + t[2]) * t[0], t[5], t[4], t[6]
    )
)


@given(ANY_FORM, st.floats(0.3, 6.0))
def test_any_pitch_starts_and_hand_is_watertight_and_within_the_true_ridge(form: ThreadForm, turns: float):
    high = form.foot + turns * form.lead
    solid = threaded(form, 0.0, high, 0.02)
    raw = solid.to_mesh64()
    points, triangles = np.asarray(raw.vert_properties)[:, :3], np.asarray(raw.tri_verts).astype(np.int64)
    mesh = trimesh.Trimesh(points, triangles, process=False)
    assert mesh.is_watertight
    assert mesh.is_winding_consistent
    assert mesh.volume > 0
    assert solid.genus() == (0 if form.outside else 1)
    assert len(solid.decompose()) == 1
    assert excess(form, surface_points(solid, 2), 0.5 * form.foot + OFF_ENDS).max(initial=0.0) < 1e-9


@given(ANY_FORM, st.floats(0.11, 6.0))
def test_unrolled_a_thread_covers_its_cylinder_just_once(form: ThreadForm, turns: float):
    """So it can't cross itself: over the angle and the height no facet lies the wrong way, and areas add
    up.
    """
    low, high = -1.0, -1.0 + form.foot + 2 * OFF_ENDS + turns * form.lead
    one = Wound(form, low, high, form.left, 1)
    count = steps_a_turn([one], 0.02)
    try:
        made = strip(one, count, 0.02)
    except Trouble:  # a deep, steep ridge has no room to fade in and out on a part of a turn
        if turns >= 0.3:
            raise
        return
    circle = unit_circle(count)
    flat = np.concatenate([circle, circle, made.points[:, :2]])
    height = np.concatenate([np.full(count, low), np.full(count, high), made.points[:, 2]])
    corner = np.column_stack([np.arctan2(flat[:, 1], flat[:, 0]), height])[made.triangles]
    turn = corner[..., 0] - corner[:, :1, 0]  # less than half a turn away from the first corner
    a, b, c = (
        np.column_stack([(turn[:, k] + math.pi) % math.tau - math.pi, corner[:, k, 1]]) for k in range(3)
    )
    area = 0.5 * ((b - a)[:, 0] * (c - a)[:, 1] - (b - a)[:, 1] * (c - a)[:, 0])
    assert area.min() > -1e-12
    assert area.sum() == pytest.approx(math.tau * (high - low), rel=1e-9)
    # and every edge inside it is shared by two facets, once each way; the two circles bound it
    edges = {(int(i), int(j)) for row in made.triangles for i, j in zip(row, np.roll(row, -1), strict=True)}
    assert len(edges) == 3 * len(made.triangles)
    rim = {(k, (k + 1) % count) for k in range(count)} | {
        (count + (k + 1) % count, count + k) for k in range(count)
    }
    assert {edge for edge in edges if edge[::-1] not in edges} == rim


def section_area(section: tuple[tuple[float, float], ...]) -> tuple[float, float]:
    """Area (mm2) of the whole section over the ground, and the height (mm) of its centroid (trapezia one on
    another).
    """
    area = moment = 0.0
    for (a, top), (b, bottom) in itertools.pairwise(section):
        tall = top - bottom
        area += (a + b) * tall
        moment += tall * ((a + b) * bottom + tall * (2.0 * a + b) / 3.0)
    return area, moment / area if area else 0.0


def wound_volume(form: ThreadForm, turns: float, chord: float) -> float:
    """Volume over the ground of a faded ridge: the integral over the turn of the area's first moment
    (Pappus), by steps.
    """
    ground, total, steps = 0.5 * form.ground, 0.0, 4000
    fade = min(0.5, 0.25 * turns)
    for k in range(steps):
        turn = (k + 0.5) / steps * turns
        share = min(1.0, turn / fade, (turns - turn) / fade)
        area, middle = section_area(tuple((half, share * tall) for half, tall in ridge_section(form, chord)))
        total += area * (ground + middle * (1.0 if form.outside else -1.0))
    return total * math.tau * turns / steps


@pytest.mark.parametrize("name", ["neck", "lid", "square"])
def test_the_volume_is_that_of_pappus_and_a_quarter_of_the_chord_leaves_a_quarter_of_the_error(name: str):
    form, turns = FORMS[name], 3.0
    high = form.foot + 2 * OFF_ENDS + turns * form.lead
    errors = []
    for chord in (0.04, 0.01, 0.0025):
        one = threaded(form, 0.0, high, chord)
        ground = round_tool(form.ground, -1.0, high + 1.0, 1e-4, 1)
        standing = remove(one, [ground]) if form.outside else one ^ ground
        errors.append(form.starts * wound_volume(form, turns, chord) - standing.volume())
    assert all(error > 0 for error in errors)  # never more than the true ridge
    assert errors[0] < 0.04 * form.starts * wound_volume(form, turns, 0.04)
    for one, finer in itertools.pairwise(errors):
        assert 2.8 < one / finer < 5.6


@pytest.mark.parametrize("size", COARSE)
@pytest.mark.parametrize("outside", [True, False])
def test_every_size_of_the_table_is_one_closed_piece(size: str, outside: bool):
    form = metric_form(size, False, outside)
    one = threaded(form, 0.0, 6.0 * form.pitch, 0.01)
    assert one.genus() == (0 if outside else 1)
    assert len(one.decompose()) == 1
    plain = math.pi * (
        0.25 * form.ground**2 if outside else (0.5 * form.ground + 3.0) ** 2 - 0.25 * form.ground**2
    )
    assert one.volume() > 6.0 * form.pitch * plain


def circles(one: Solid, z: float) -> int:
    """How many points of a mesh lie at a height off the axis."""
    points = np.asarray(one.to_mesh64().vert_properties)[:, :3]
    return int(((np.abs(points[:, 2] - z) < 1e-9) & (np.hypot(points[:, 0], points[:, 1]) > 1e-6)).sum())


def test_a_thin_thread_on_a_wide_knob_keeps_its_own_facets():
    """48 columns for M8 and 124 for a knob of 60 at the same chord (0.02); the flat between them is closed
    all the same.
    """
    form = metric_form("M8", False, True)
    profile = np.array(
        [
            (0.0, 0.0),
            (30.0, 0.0),
            (30.0, 8.0),
            (0.5 * form.ground, 8.0),
            (0.5 * form.ground, 28.0),
            (0.0, 28.0),
        ]
    )
    one = turned(
        profile,
        np.arange(6, dtype=np.int32),
        np.ones(6, dtype=np.bool_),
        0.02,
        [Wound(form, 8.0, 28.0, False, 9)],
    )
    wide, narrow = circles(one, 0.0), circles(one, 28.0)
    assert wide > 2 * narrow
    assert circles(one, 8.0) == wide + narrow
    assert one.genus() == 0
    ridge = one.volume() - 8.0 * math.pi * 900.0 - 20.0 * 0.25 * math.pi * form.ground**2
    assert ridge > -8.0 * 2.0 * math.pi * 30.0 * 0.02  # less at most the chord all round the knob
    labels = np.asarray(one.to_mesh64().face_id)
    assert {int(label) for label in labels} == {0, 1, 2, 3, 4, 9}


def test_beside_a_circle_of_nearly_its_ground_a_thread_takes_the_facets_of_the_rest():
    """A step of 0.004 between core and shank, less than facets of different counts part by."""
    form = metric_form("M8", False, True)
    r = 0.5 * form.ground
    corners = [
        (0.0, 0.0),
        (30.0, 0.0),
        (30.0, 8.0),
        (r + 0.004, 8.0),
        (r + 0.004, 20.0),
        (r, 20.0),
        (r, 40.0),
        (0.0, 40.0),
    ]
    profile = np.array(corners)
    one = turned(
        profile,
        np.arange(8, dtype=np.int32),
        np.ones(8, dtype=np.bool_),
        0.02,
        [Wound(form, 20.0, 40.0, False, 9)],
    )
    assert circles(one, 0.0) == circles(one, 40.0)
    raw = one.to_mesh64()
    mesh = trimesh.Trimesh(
        np.asarray(raw.vert_properties)[:, :3], np.asarray(raw.tri_verts).astype(np.int64), process=False
    )
    step = mesh.triangles_center[:, 2] == 20.0
    assert (mesh.face_normals[step][:, 2] > 0.99).all()  # the ring of 0.004 looks up all round


def test_a_thread_takes_what_is_straight_of_its_stretch_and_two_may_meet():
    right, left = metric_form("M8", False, True), ThreadForm(8.0, 6.6, 1.25, 0.2, 0.9, True, 1, True)
    r = 0.5 * right.ground
    other = ThreadForm(8.0, right.ground, 1.25, 0.2, 0.9, True, 1, True)
    profile = np.array([(0.0, 0.0), (r - 1.0, 0.0), (r, 1.0), (r, 40.0), (0.0, 40.0)])
    some = [Wound(right, 0.0, 20.0, False, 8), Wound(other, 20.0, 38.0, True, 9)]
    one = turned(profile, np.arange(5, dtype=np.int32), np.ones(5, dtype=np.bool_), 0.02, some)
    assert one.genus() == 0
    raw = one.to_mesh64()
    corner = np.asarray(raw.vert_properties)[:, 2][np.asarray(raw.tri_verts).astype(np.int64)]
    label = np.asarray(raw.face_id)
    assert corner[label == 8].min() == pytest.approx(1.0 + OFF_ENDS, abs=1e-3)  # off the bevel
    assert corner[label == 8].max() < 20.0
    assert corner[label == 9].min() > 20.0
    assert corner[label == 9].max() < 38.0
    with pytest.raises(Trouble) as seen:
        turned(
            profile,
            np.arange(5, dtype=np.int32),
            np.ones(5, dtype=np.bool_),
            0.02,
            [Wound(left, 0.0, 20.0, True, 8)],
        )
    assert seen.value.code == "thread-too-short"  # its ground is nowhere in this profile


def test_too_short_and_too_much_are_refused():
    with pytest.raises(Trouble) as short:
        threaded(metric_form("M8", False, True), 0.0, 1.2, 0.01)
    assert short.value.code == "thread-too-short"
    with pytest.raises(Trouble) as endless:
        threaded(metric_form("M64x0.2", False, True), 0.0, 9000.0, 0.01)
    assert endless.value.code == "too-many-facets"
    with pytest.raises(Trouble) as starts:
        threaded(ThreadForm(20.0, 18.0, 0.2, 0.05, 0.1, True, 10_000), 0.0, 9000.0, 0.01)
    assert starts.value.code == "bad-thread"
    with pytest.raises(Trouble) as primes:
        steps_a_turn(
            [Wound(ThreadForm(20.0, 18.0, 0.2, 0.05, 0.1, True, k), 0.0, 9.0, False, 1) for k in (53, 59)],
            0.01,
        )
    assert primes.value.code == "too-many-facets"
    with pytest.raises(Trouble) as tight:
        mate(metric_form("M2", False, True), 0.4)
    assert tight.value.code == "bad-thread"
