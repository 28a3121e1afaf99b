"""Threads through whole recipes: hands, holes, turnings and pegs, by figures worked out by hand."""

from __future__ import annotations

import json
import math

import makegood
import numpy as np
import pytest
from makegood.outputs.report import report_json
from makegood.result import Result

from .making import corners, faces_of, inside, made, said, spot

BOLT = (
    "turning bolt\n    across 14.0 from 0 to 5.0\n"
    "    across 8.0 from 5.0 to 30.0\n    thread M8 from 6.0 to 30.0\n"
)


def hand(result: Result, name: str, axis: int = 2) -> float:
    """Sense in which the flanks of a thread climb, +1 right-handed: the sign of z-by-angle along its ridge.

    On a flank facing along the axis the normal leans round the axis: for z = lead / 2 pi x angle it is, but
    for its length, (axis - lead / 2 pi r x round), so axis part and round part of the normal have opposite
    signs."""
    triangles = corners(result, faces_of(result, name, "thread"))
    normal = np.cross(triangles[:, 1] - triangles[:, 0], triangles[:, 2] - triangles[:, 0])
    away = triangles.mean(axis=1) - spot(result, name)
    way = np.zeros(3)
    way[axis] = 1.0
    round_ = np.cross(way, away)
    leaning = np.einsum("ij,ij->i", normal, round_) / np.linalg.norm(round_, axis=1) * normal[:, axis]
    return -math.copysign(1.0, float(leaning.sum()))


def test_a_bolt_keeps_to_its_sizes() -> None:
    """Over the crests it is 8.0, between d3 and d there is material only in the ridges; 5 ridges pass any
    line along it.
    """
    result = made(BOLT)
    triangles = corners(result, faces_of(result, "bolt", "thread")) - spot(result, "bolt")
    reach = np.hypot(triangles[..., 0], triangles[..., 1])
    assert reach.max() == pytest.approx(4.0, abs=1e-9)
    assert reach.min() == pytest.approx(6.4664 / 2, abs=0.02)  # d3 of M8, ISO 68-1
    x, y, _ = spot(result, "bolt")
    heights = np.linspace(10.0, 20.0, 400, endpoint=False)  # eight pitches
    found = inside(result, *((x + 3.6, y, float(z)) for z in heights))
    starts = sum(1 for a, b in zip(found, found[1:] + found[:1], strict=True) if b and not a)
    assert starts == 8
    # at radius 3.6 the ridge is P/8 + 2 (4 - 3.6) tan 30 wide
    assert sum(found) / 400 * 10.0 / 8 == pytest.approx(1.25 / 8 + 2 * 0.4 * math.tan(math.pi / 6), abs=0.03)


@pytest.mark.parametrize("eased", ["bevel 1.0", "round 1.0"])
def test_a_thread_keeps_off_the_eased_end_of_its_core(eased: str) -> None:
    """Its ridges end a millimetre before the tip, where the core is still whole: none of them hangs in the
    air.
    """
    result = made(f"{BOLT}    {eased} at 30\n")
    found = corners(result, faces_of(result, "bolt", "thread"))
    reach = np.hypot(*(found - spot(result, "bolt"))[..., :2].reshape(-1, 2).T)
    height = found[..., 2].reshape(-1)
    assert reach[height > 29.0 + 1e-9].max(initial=0.0) <= 6.4664 / 2 + 1e-9
    assert 27.0 < height[reach > 3.9].max() < 29.0


def test_a_flat_is_cut_through_the_ridges_too() -> None:
    """5.6 from the flat to the round behind it (4.0): nothing of the bolt stands higher than 1.6 along it."""
    result = made(BOLT + "    flat 5.6 from 10 to 30\n")
    found = corners(result, faces_of(result, "bolt", "thread")) - spot(result, "bolt")
    along = found[(found[..., 2] > 10.0).all(axis=1)]
    assert along[..., 1].max() == pytest.approx(1.6, abs=1e-6)
    assert along[..., 1].min() == pytest.approx(-4.0, abs=0.01)


def test_volume_of_a_bolt_is_that_of_its_mean_section() -> None:
    """Longer by eight pitches, more by eight pitches of the true profile (to the chord): ridges over a core
    of d3.
    """
    long = made(BOLT.replace("30.0", "40.0"), 0.002).figures.volume
    short = made(BOLT, 0.002).figures.volume
    p, third = 1.25, math.tan(math.pi / 6)
    rings = 0.0
    for k in range(
        2000
    ):  # the area of the profile turned about the axis: integral of the width over r, by steps
        r = 6.4664 / 2 + (k + 0.5) * (8.0 - 6.4664) / 4000
        rings += (
            min(p, p / 8 + 2 * (4.0 - r) * third) * 2 * math.pi * r * (8.0 - 6.4664) / 4000
            if r > 6.6468 / 2
            else (
                (
                    p
                    - 2
                    * math.sqrt(
                        max(0.0, (p * math.sqrt(3) / 12) ** 2 - (r - 6.4664 / 2 - p * math.sqrt(3) / 12) ** 2)
                    )
                )
                * 2
                * math.pi
                * r
                * (8.0 - 6.4664)
                / 4000
            )
        )
    exact = 10.0 * math.pi * (6.4664 / 2) ** 2 + 8 * rings
    assert long - short == pytest.approx(exact, rel=2e-3)
    assert long - short < exact


@pytest.mark.parametrize("facts", ["", "    other hand\n"])
def test_a_right_hand_thread_stays_right_handed(facts: str) -> None:
    head = f'recipe "piece"\n{facts}'
    result = made(head + BOLT)
    assert result.part.mirrored == bool(facts)
    assert hand(result, "bolt") == 1.0
    nut = "block nut\n    long 20\n    wide 20\n    thick 9\nbore hole\n    thread M8\n    around nut\n"
    assert hand(made(head + nut), "hole") == 1.0
    stem = (
        "neighbour stem\n    across 20\n    core 18\n"
        "    pitch 3\n    crest 1\n    foot 1.6\n    left-handed\n"
    )
    cap = made(head + stem + "turning cap\n    across 26 from 0 to 14\n    screws on stem from 0 to 12\n")
    assert hand(cap, "cap") == -1.0


def test_mirrored_copies_keep_the_hand_of_their_threads() -> None:
    """The right half of a bar with a threaded hole and a threaded peg, and its mirror image: both stay
    right-handed.
    """
    text = (
        "line middle\n    upright\n    midway bar.left, bar.right\n"
        "block bar\n    long 60\n    wide 14\n    thick 8\n"
        "bore hole\n    thread M6\n    from bar.left centre 10\n    midway bar.top, bar.bottom\n"
        "peg stud\n    on bar.front\n    thread M6\n    high 9\n"
        "    from bar.left centre 22\n    midway bar.top, bar.bottom\n"
        "mirror twins\n    of hole, stud\n    about middle\n"
    )
    result = made(text)
    for name, copy in (("hole", "hole.2"), ("stud", "stud.2")):
        triangles = corners(result, faces_of(result, name, "thread"))
        for at in (spot(result, name), spot(result, copy)):
            own = triangles[np.hypot(*(triangles.mean(axis=1) - at)[:, :2].T) < 5.0]
            assert len(own) > 1000
            normal = np.cross(own[:, 1] - own[:, 0], own[:, 2] - own[:, 0])
            round_ = np.cross([0.0, 0.0, 1.0], own.mean(axis=1) - at)
            assert (np.einsum("ij,ij->i", normal, round_) * normal[:, 2]).sum() < 0.0


@pytest.mark.parametrize("deep", ["", "    deep 8.0 from body.front\n"])
def test_a_threaded_hole_stays_open_and_lets_the_bolt_pass(deep: str) -> None:
    """Through the core of D1 a rod passes the whole length; beyond D there is no cut; the hole is a hole."""
    text = (
        "block body\n    long 24\n    wide 24\n    thick 12\n"
        f"bore hole\n    thread M8\n{deep}    around body\n"
    )
    result = made(text)
    assert result.figures.genus == (0 if deep else 1)
    x, y, _ = spot(result, "hole")
    bottom = 4.1 if deep else -0.5
    core = 6.6468 / 2
    for angle in np.linspace(0.0, math.tau, 24, endpoint=False):
        c, s = math.cos(angle), math.sin(angle)
        line = [(x + (core - 0.002) * c, y + (core - 0.002) * s, z) for z in np.linspace(bottom, 12.1, 30)]
        assert not any(inside(result, *line))
        assert all(inside(result, *((x + 4.012 * c, y + 4.012 * s, z) for z in np.linspace(0.5, 11.5, 20))))


def test_the_report_says_pitch_and_core() -> None:
    text = (
        "neighbour neck\n    core 24.0\n    deep 1.1\n"
        "    pitch 12.0 over 4\n    crest 1.2\n    foot 2.0\n    starts 2\n"
    )
    result = made(
        text + "turning cap\n    across 34 from 0 to 15\n    screws on neck from 0 to 12, 0.4 clear\n"
    )
    found = json.loads(report_json(result.report()))["features"]["cap"]["sizes"]
    assert found == {
        "inside thread across": 26.6,
        "inside thread core": 24.4,
        "inside thread pitch": 3.0,
        "inside thread lead": 6.0,
    }


HEAD = 'recipe "piece"\n'
BAR = HEAD + "block bar\n    long 20\n    wide 20\n    thick 8\n"


@pytest.mark.parametrize(
    ("text", "codes"),
    [
        (BAR + "bore b\n    thread neck\n    around bar\n", {"unknown-thread"}),
        (BAR + "bore b\n    thread bar\n    around bar\n", {"wrong-kind"}),
        (BAR + "bore b\n    thread 8\n    around bar\n", {"unknown-thread"}),
        (BAR + "bore b\n    thread M8\n    hex 8\n    around bar\n", {"said-twice"}),
        (BAR + "bore b\n    thread M8\n    screws on M8\n    around bar\n", {"said-twice"}),
        (BAR + "neighbour n\n    across 9\nbore b\n    screws on n\n    around bar\n", {"fact-missing"}),
        (
            BAR + "neighbour n\n    core 9\n    pitch 2\nbore b\n    screws on n\n    around bar\n",
            {"fact-missing"},
        ),
        (
            BAR
            + (
                "neighbour n\n    core 9\n    deep 1\n    pitch 2 over 1.5\n"
                "bore b\n    screws on n\n    around bar\n"
            ),
            {"bad-count"},
        ),
        (HEAD + "turning t\n    across 8 from 0 to 12\n    thread M8 from 0 to 20\n", {"bad-station"}),
        (
            HEAD
            + (
                "turning t\n    across 8 from 0 to 12\n"
                "    bored 6.4 from 0 to 12\n    thread M8 from 0 to 12\n"
            ),
            {"no-wall"},
        ),
        (
            HEAD
            + (
                "turning t\n    across 12 from 0 to 12\n"
                "    bored 9 from 0 to 12\n    thread inside M8 from 0 to 12\n"
            ),
            {"thread-misses"},
        ),
        (
            HEAD
            + (
                "turning t\n    across 12 from 0 to 12\n"
                "    thread M12 from 0 to 8\n    thread M10 from 6 to 12\n"
            ),
            {"bad-thread"},
        ),
        (
            HEAD
            + "neighbour n\n    core 9\n    deep 1\n    pitch 2\n    crest 0.5\n    foot 1\n    starts 9999\n"
            "turning t\n    across 12 from 0 to 9000\n    thread n from 0 to 8000\n",
            {"bad-thread"},
        ),
        (
            HEAD + "turning t\n    across 64 from 0 to 9000\n    thread M64x0.2 from 0 to 9000\n",
            {"too-many-facets"},
        ),
    ],
)
def test_wrong_threads_are_answered(text: str, codes: set[str]) -> None:
    result = makegood.compile_text(text)
    assert not result.ok
    assert {one.code for one in result.diagnostics if one.is_error} == codes, said(result)
