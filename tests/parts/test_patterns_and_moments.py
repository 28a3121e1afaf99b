"""Rows, rings, grids and mirrors; second moments against closed forms; how the error falls with the chord."""

from __future__ import annotations

from math import cos, pi, radians, sin

import makegood
import numpy as np
import pytest
import trimesh

from .making import falls_short, inertia, made, sound, spot

SHEET = """
block sheet
    long 80.0
    wide 60.0
    thick 4.0
bore eye
    across 4.0
    from sheet.left centre 10.0
    from sheet.bottom centre 12.0
"""
FULL, EYE = 80.0 * 60.0 * 4.0, pi * 4.0 * 4.0


def places(result: makegood.Result, name: str, count: int) -> np.ndarray:
    return np.array([spot(result, name if i == 1 else f"{name}.{i}")[:2] for i in range(1, count + 1)])


@pytest.mark.parametrize(
    ("facts", "step"),
    [
        ("", (9.0, 0.0)),
        ("    level\n", (9.0, 0.0)),
        ("    upright\n", (0.0, 9.0)),
        ("    angle 30\n", (9 * cos(radians(30)), 9 * sin(radians(30)))),
        ("    along sheet.left\n", (0.0, 9.0)),
        ("    along sheet.top\n", (9.0, 0.0)),
    ],
)
def test_a_row_of_holes(facts: str, step: tuple[float, float]) -> None:
    result = made(SHEET + f"row eyes\n    of eye\n    count 5\n    pitch 9.0\n{facts}")
    found = places(result, "eye", 5)
    assert found == pytest.approx(
        np.array([(10 + i * step[0], 12 + i * step[1]) for i in range(5)]), abs=1e-6
    )
    assert result.figures.genus == 5
    falls_short(result, FULL - 5 * EYE, 5 * pi * 16)


def test_a_row_that_runs_the_other_way() -> None:
    """To the left from 10, over a pitch of -1.5 and -3: the reference allows it; none at all is refused."""
    text = SHEET.replace("across 4.0", "across 1.0") + "row eyes\n    of eye\n    count 3\n    pitch {}\n"
    assert places(made(text.format("-3.0")), "eye", 3)[:, 0] == pytest.approx([10.0, 7.0, 4.0], abs=1e-6)
    assert places(made(text.format("-1.5") + "    upright\n"), "eye", 3)[:, 1] == pytest.approx(
        [12.0, 10.5, 9.0], abs=1e-6
    )
    none = makegood.compile_text('recipe "none"\n' + text.format("0"))
    assert [one.code for one in none.diagnostics if one.is_error] == ["bad-size"]


def test_a_grid_of_holes() -> None:
    result = made(SHEET + "grid eyes\n    of eye\n    count 4, 3\n    pitch 12.0, 15.0\n")
    assert result.figures.genus == 12
    found = places(result, "eye", 12)
    assert found == pytest.approx(
        np.array([(10 + 12 * i, 12 + 15 * j) for j in range(3) for i in range(4)]), abs=1e-6
    )
    falls_short(result, FULL - 12 * EYE, 12 * pi * 16)


@pytest.mark.parametrize(("over", "step"), [("", 60.0), ("    over 100\n", 20.0)])
def test_a_ring_of_holes(over: str, step: float) -> None:
    result = made(
        f"turning hub\n    across 60.0 from 0 to 4.0\nbore eye\n    across 4.0\n    through hub\n"
        f"    at 20.0, 0 from hub\nring eyes\n    of eye\n    count 6\n    about hub\n{over}"
    )
    found = places(result, "eye", 6) - spot(result, "hub")[:2]
    ways = np.radians(step * np.arange(6))
    assert found == pytest.approx(20 * np.stack([np.cos(ways), np.sin(ways)], axis=1), abs=1e-6)
    assert result.figures.genus == 6
    falls_short(result, pi * 900 * 4 - 6 * EYE, 6 * pi * 16 + pi * 60 * 4)


def test_a_row_of_blocks_and_a_mirror_of_a_body_with_a_hole() -> None:
    text = """
block base
    long 80.0
    wide 30.0
    thick 3.0
block lug
    on base.front
    long 6.0
    wide 10.0
    high 8.0
    from base.left near 4.0
    from base.bottom near 2.0
bore pin
    on lug.right
    across 3.0
    from lug.front near 2.0
    midway lug.top, lug.bottom
    through lug
line centre
    midway base.left, base.right
mirror lugs
    of lug
    about centre
"""
    result = made(text)
    one = 6 * 10 * 8 - pi / 4 * 9 * 6
    falls_short(result, 80 * 30 * 3 + 2 * one, 2 * pi * 3 * 6)
    assert result.figures.genus == 2
    assert spot(result, "lug.2")[:2] == pytest.approx((80.0 - 4.0 - 3.0, 7.0), abs=1e-6)
    row = text.replace(
        "mirror lugs\n    of lug\n    about centre", "row lugs\n    of lug\n    count 4\n    pitch 15.0"
    ).replace("line centre\n    midway base.left, base.right\n", "")
    result = made(row)
    falls_short(result, 80 * 30 * 3 + 4 * one, 4 * pi * 3 * 6)
    assert result.figures.genus == 4


def test_mirror_about_a_side_doubles_the_body() -> None:
    text = (
        "block half\n    long 20.0\n    wide 30.0\n    thick 3.0\nbore eye\n    across 4.0\n"
        "    from half.left centre 6.0\n    from half.bottom centre 8.0\n"
        "mirror whole\n    of half\n    about half.right\n"
    )
    result = made(text)
    falls_short(result, 40 * 30 * 3 - 2 * pi * 4 * 3, 2 * pi * 4 * 3)
    assert result.figures.box == pytest.approx((40.0, 30.0, 3.0), abs=1e-6)


# -- second moments: closed forms of elementary mechanics ------------------------------------------


def about_centre(result: makegood.Result) -> np.ndarray:
    volume, centre, second = inertia(result)
    return second - volume * np.outer(centre, centre)


def test_second_moments_of_a_block_with_a_hole() -> None:
    """b h^3 / 12 for the block less the hole's own and its share by the parallel axis rule (Steiner)."""
    result = made(SHEET, 0.001)
    at = np.array([10.0 - 40.0, 12.0 - 30.0])
    block = np.diag([80.0**2 / 12, 60.0**2 / 12, 4.0**2 / 12]) * FULL
    hole = np.diag([4.0**2 / 16, 4.0**2 / 16, 4.0**2 / 12]) * EYE
    hole[:2, :2] += EYE * np.outer(at, at)
    centre = -EYE * np.array([*at, 0.0]) / (FULL - EYE)
    exact = block - hole - (FULL - EYE) * np.outer(centre, centre)
    assert about_centre(result) == pytest.approx(exact, rel=2e-5, abs=1e-3 * abs(hole[0, 1]))


def test_second_moments_of_a_cone_and_a_pipe() -> None:
    """Cone r, h: 3/20 r^2 V across the axis, 3/80 h^2 V along it; pipe: (R^2 + r^2) / 4 V and h^2 / 12 V."""
    cone = about_centre(made("turning t\n    taper 20.0 at 0, 0 at 12.0\n", 0.0005))
    volume = pi * 100 * 4.0
    assert cone == pytest.approx(np.diag([0.15 * 100, 0.15 * 100, 0.0375 * 144]) * volume, rel=4e-4, abs=1e-2)
    pipe = about_centre(
        made("turning t\n    across 20.0 from 0 to 30.0\n    bored 16.0 from 0 to 30.0\n", 0.0005)
    )
    volume = pi * (100 - 64) * 30.0
    assert pipe == pytest.approx(np.diag([41.0, 41.0, 75.0]) * volume, rel=1e-3, abs=1e-2)


def test_moments_agree_with_trimesh() -> None:
    for text in (SHEET, "turning t\n    taper 20.0 at 0, 8.0 at 12.0\n    bored 6.0 from 0 to 12.0\n"):
        result = made(text)
        mesh = sound(result)
        second = about_centre(result)
        tensor = np.eye(3) * np.trace(second) - second
        assert mesh.moment_inertia == pytest.approx(tensor, rel=1e-6, abs=1e-3)
        assert isinstance(mesh, trimesh.Trimesh)


# -- convergence -----------------------------------------------------------------------------------

ROUND = {
    "bore": (
        "block b\n    long 80.0\n    wide 60.0\n    thick 4.0\nbore h\n    around b\n    across 20.0\n",
        FULL - pi * 400,
    ),
    "pipe": (
        "turning t\n    across 40.0 from 0 to 10.0\n    bored 24.0 from 0 to 10.0\n",
        pi * (400 - 144) * 10,
    ),
    "cone": ("turning t\n    taper 40.0 at 0, 10.0 at 10.0\n", pi * 10 / 12 * (1600 + 400 + 100)),
    "belt": (
        "round a\n    across 20.0\n    at 0, 0\nround b\n    across 20.0\n    at 25.0, 0 from a\nplate p\n"
        "    thick 3.0\n    belt a, b\n",
        (500 + pi * 100) * 3,
    ),
    "countersink": (
        "block b\n    long 40.0\n    wide 40.0\n    thick 10.0\nbore h\n    around b\n    across 10.0\n"
        "    countersink 24.0 at front\n",
        16000 - pi * 25 * 3 - pi * 7 / 12 * (100 + 240 + 576),
    ),
}


@pytest.mark.parametrize("name", ROUND)
def test_error_is_linear_in_the_chord_and_quarters_when_facets_double(name: str) -> None:
    """An n-gon misses its disc by 2/3 of the sagitta round the rim: linear in the chord error, and chord ~ 1
    / n^2.
    """
    text, exact = ROUND[name]
    chords = (0.08, 0.04, 0.02, 0.01, 0.005)
    errors = [exact - made(text, chord).figures.volume for chord in chords]
    assert min(errors) > 0
    assert errors == sorted(errors, reverse=True)
    # facet counts come in steps of four, so one halving gives 1.6 to 2.5; over four of them the mean must be
    # near 2
    mean = (errors[0] / errors[-1]) ** 0.25
    assert 1.85 < mean < 2.15, errors


def test_mesh_is_the_same_for_the_same_text_and_for_lines_in_any_order() -> None:
    blocks = SHEET.strip().split("\nbore")
    turned = "bore" + blocks[1] + "\n" + blocks[0] + "\n"
    one, two, three = made(SHEET), made(SHEET), made(turned)
    for other in (two, three):
        assert one.mesh.points.tobytes() == other.mesh.points.tobytes()
        assert one.mesh.triangles.tobytes() == other.mesh.triangles.tobytes()
