"""Pockets named for a screw, through whole recipes: closed forms of their volumes, and what goes into them by
the mesh.
"""

from __future__ import annotations

import json
from math import asin, cos, pi, radians, sin, sqrt

import makegood
import numpy as np
import pytest
from makegood.outputs.report import report_json
from makegood.result import Result

from .figures import disc, frustum
from .making import RECIPES, corners, faces_of, falls_short, made, normals, sound, spot

SIZES = ("M1.6", "M2", "M2.5", "M3", "M4", "M5", "M6", "M8", "M10", "M12")
HOLE = dict(zip(SIZES, (1.8, 2.4, 2.9, 3.4, 4.5, 5.5, 6.6, 9.0, 11.0, 13.5), strict=True))  # ISO 273 medium
HEAD = dict(
    zip(SIZES, (3.5, 4.4, 5.5, 6.5, 8.0, 10.0, 11.0, 15.0, 18.0, 20.0), strict=True)
)  # after DIN 974-1
DEEP = dict(zip(SIZES, (2.1, 2.5, 3.0, 3.5, 4.5, 5.5, 6.5, 8.5, 10.5, 12.5), strict=True))  # ISO 4762 k + 0.5
NUT = dict(
    zip(SIZES, (3.2, 4.0, 5.0, 5.5, 7.0, 8.0, 10.0, 13.0, 16.0, 18.0), strict=True)
)  # ISO 4032, largest
NUT_DEEP = dict(zip(SIZES, (1.3, 1.6, 2.0, 2.4, 3.2, 4.7, 5.2, 6.8, 8.4, 10.8), strict=True))
SUNK = {
    "M2": 4.4,
    "M2.5": 5.5,
    "M3": 6.72,
    "M3.5": 8.2,
    "M4": 9.4,
    "M5": 11.2,
    "M6": 13.44,
    "M8": 17.92,
    "M10": 22.4,
    "M12": 26.88,
}

BLOCK = "block b\n    long 40.0\n    wide 30.0\n    thick 16.0\n\n"
FULL = 40.0 * 30.0 * 16.0


def hexagon(flats: float) -> float:
    return sqrt(3.0) / 2.0 * flats**2


def band(across: float, wide: float) -> float:
    """Area of a disc between two lines that lie as far from its middle on either side."""
    return wide / 2 * sqrt(across**2 - wide**2) + across**2 / 2 * asin(wide / across)


def bore(screw: str, *facts: str) -> str:
    return "\n    ".join(["bore h", f"clears {screw}", "around b", *facts]) + "\n"


@pytest.mark.parametrize("screw", SIZES)
def test_a_counterbore_for_a_head(screw: str) -> None:
    result = made(BLOCK + bore(screw, f"counterbore {screw} at front"))
    hole, head, deep = HOLE[screw], HEAD[screw], DEEP[screw]
    falls_short(
        result, FULL - disc(hole) * (16 - deep) - disc(head) * deep, pi * (hole * (16 - deep) + head * deep)
    )
    assert head <= goes_in(result, "counterbore") <= head + 1e-5


@pytest.mark.parametrize("screw", SIZES)
@pytest.mark.parametrize("flat", ["front", "back"])
def test_a_pocket_for_a_nut(screw: str, flat: str) -> None:
    result = made(BLOCK + bore(screw, f"counterbore {screw} nut at b.{flat}", "turned 17"))
    hole, flats, deep = HOLE[screw], NUT[screw] + 0.2, NUT_DEEP[screw]
    falls_short(result, FULL - disc(hole) * (16 - deep) - hexagon(flats) * deep, pi * hole * (16 - deep))
    wall = np.abs(normals(corners(result, faces_of(result, "h", "counterbore")))[:, 2]) < 1e-6
    points = corners(result, faces_of(result, "h", "counterbore"))[wall].reshape(-1, 3)
    high = np.sort(np.unique(np.round(points[:, 2], 6)))
    assert list(high) == pytest.approx([16 - deep, 16] if flat == "front" else [0, deep], abs=1e-6)
    # the sharp corners of the largest nut, turned by 17 degrees, lie in the pocket: inside every one of its
    # six flats
    way = normals(corners(result, faces_of(result, "h", "counterbore")))[wall]
    at = corners(result, faces_of(result, "h", "counterbore"))[wall].mean(axis=1) - spot(result, "h")
    for k in range(6):
        angle = radians(17 + 30 + 60 * k)
        corner = np.array([cos(angle), sin(angle), 0.0]) * NUT[screw] / sqrt(3.0)
        room = ((at - corner) * way).sum(axis=1)
        assert (room < 0).all()
        assert np.abs(room).min() == pytest.approx(0.1, abs=1e-6)  # half of the play of 0.2


@pytest.mark.parametrize("screw", SIZES)
def test_a_bare_hexagon_for_a_nut(screw: str) -> None:
    result = made(BLOCK + f"bore h\n    hex {screw} nut\n    deep 3.0 from front\n    around b\n")
    falls_short(result, FULL - hexagon(NUT[screw] + 0.2) * 3.0, 0.0)


@pytest.mark.parametrize("screw", SUNK)
def test_a_countersink_for_a_sunk_head(screw: str) -> None:
    hole = HOLE.get(screw, 3.9)  # M3.5, ISO 273 medium
    result = made(BLOCK + bore(screw, f"countersink {screw} at front"))
    deep = 0.5 * (SUNK[screw] - hole)
    falls_short(
        result,
        FULL - disc(hole) * (16 - deep) - frustum(hole, SUNK[screw], deep),
        pi * (hole * (16 - deep) + 0.5 * (hole + SUNK[screw]) * deep * sqrt(2)),
    )


CASES = {
    "its own depth": (
        bore("M4", "counterbore M4 deep 6.0 at front"),
        disc(4.5) * 10 + disc(8) * 6,
        4.5 * 10 + 8 * 6,
    ),
    "a nut deeper": (
        bore("M4", "counterbore M4 nut deep 5.0 at back"),
        disc(4.5) * 11 + hexagon(7.2) * 5,
        4.5 * 11,
    ),
    "a washer": (
        bore("M4", "counterbore M4 washer at front"),
        disc(4.5) * 15.2 + disc(9.2) * 0.8,
        4.5 * 15.2 + 9.2 * 0.8,
    ),
    "in small letters": (
        bore("m4", "counterbore m4 at front"),
        disc(4.5) * 11.5 + disc(8) * 4.5,
        4.5 * 11.5 + 8 * 4.5,
    ),
    "on a flat": (
        bore("M4", "counterbore M4", "on b.back"),
        disc(4.5) * 11.5 + disc(8) * 4.5,
        4.5 * 11.5 + 8 * 4.5,
    ),
    "a slot": (
        "slot h\n    clears M4\n    long 20.0\n    around b\n    counterbore M4 at front\n",
        (disc(4.5) + 4.5 * 15.5) * 16 + (disc(8) - band(8.0, 4.5)) * 4.5,
        4.5 * 16 + 8 * 4.5,
    ),
    "a ring of six": (
        "bore h\n    clears M3\n    counterbore M3 nut at back\n"
        "    at 9.0, 0 from b\n\nring all\n    of h\n    count 6\n"
        "    about b\n",
        6 * (disc(3.4) * 13.6 + hexagon(5.7) * 2.4),
        6 * 3.4 * 13.6,
    ),
    "from a side": (
        "bore h\n    on b.top\n    clears M4\n    counterbore M4\n    deep 20.0\n"
        "    midway b.left, b.right\n    midway b.front, b.back\n",
        disc(4.5) * 15.5 + disc(8) * 4.5,
        4.5 * 15.5 + 8 * 4.5,
    ),
}


@pytest.mark.parametrize("name", CASES)
@pytest.mark.parametrize("hand", ["", "    other hand\n"])
def test_other_pockets(name: str, hand: str) -> None:
    text, taken, curved = CASES[name]
    result = made(f'recipe "test piece"\n{hand}\n' + BLOCK + text)
    falls_short(result, FULL - taken, pi * curved)


def test_the_gate_clamp() -> None:
    """Two M5 heads 7 deep, sunk M4 and M2.5, an M6 nut 5.2 deep, an M3 washer 0.5 deep, an M3 nut 2.4
    deep.
    """
    result = makegood.compile_file(RECIPES / "garden-gate-clamp.mend")
    assert [one.code for one in result.diagnostics] == []
    sound(result)
    sunk, small = (9.4 - 4.5) / 2, (5.5 - 2.9) / 2
    taken = (
        2 * (disc(5.5) * 7 + disc(10) * 7)
        + disc(4.5) * (14 - sunk)
        + frustum(4.5, 9.4, sunk)
        + disc(2.9) * (14 - small)
        + frustum(2.9, 5.5, small)
        + disc(6.6) * 8.8
        + hexagon(10.2) * 5.2
        + disc(3.4) * 13.5
        + disc(7.2) * 0.5
        + hexagon(5.7) * 2.4
    )
    curved = pi * (
        2 * (5.5 + 10) * 7 + 4.5 * 14 + 9 * sunk + 2.9 * 14 + 6 * small + 6.6 * 8.8 + 3.4 * 13.5 + 7.2 * 0.5
    )
    falls_short(result, 90.0 * 24.0 * 14.0 - taken, curved)
    said = json.loads(report_json(result.report()))["features"]
    assert said["bolt.2"]["sizes"] == {"counterbore M5 (ISO 4762) across": 10.0, "counterbore M5 deep": 7.0}
    assert said["tie"]["sizes"] == {
        "counterbore M6 nut (ISO 4032) across": 10.2,
        "counterbore M6 nut deep": 5.2,
    }
    assert said["post"]["sizes"] == {"countersink M4 (ISO 7046) across": 9.4}
    assert said["eye"]["sizes"] == {"countersink M2.5 (ISO 7046) across": 5.5}
    assert said["stop"]["across"] == 5.7


@pytest.mark.parametrize(
    ("lets", "line", "same"),
    [
        ("let M4 = 9.0", "counterbore M4 deep 3.0 at front", "counterbore 9.0 deep 3.0 at front"),
        ("let m3_head = 7.0", "counterbore m3_head deep 3.0 at front", "counterbore 7.0 deep 3.0 at front"),
        ("let M4 = 9.0", "countersink M4 at front", "countersink 9.0 at front"),
        ("let M4 = 9.0", "counterbore M4 + 1 deep 3.0 at front", "counterbore 10.0 deep 3.0 at front"),
        ("let M4 = 9.0", "counterbore M4 nut deep M4 / 3 at front", "counterbore M4 nut deep 3.0 at front"),
    ],
)
def test_a_name_of_the_recipes_own_goes_before_the_screws(lets: str, line: str, same: str) -> None:
    text = BLOCK + "bore h\n    across 3.0\n    around b\n    {}\n"
    one, two = made(lets + "\n\n" + text.format(line)), made(text.format(same))
    assert one.mesh.points.tobytes() == two.mesh.points.tobytes()


def goes_in(result: Result, detail: str) -> float:
    """Diameter (mm) of the largest true pin that goes into a round pocket."""
    triangles = corners(result, faces_of(result, "h", detail))
    way = normals(triangles)
    walls = np.abs(way[:, 2]) < 1e-6
    gaps = np.abs(((triangles[walls].mean(axis=1) - spot(result, "h")) * way[walls]).sum(axis=1))
    assert len(gaps) >= 8
    return 2.0 * float(gaps.min()) + 1e-6
