"""What the report and the readings say of threads, standings, and readings that are neither a size nor a
place.
"""

from __future__ import annotations

import json
import math

import makegood
import pytest
from makegood.outputs.readings import readings_json
from makegood.outputs.report import report_json

from .making import faces_of, made

PEG = """recipe "p"
block base
    long 36.0
    wide 18.0
    thick 8.0
peg pin
    on base.front
    across 5.1
    high 6.0
    from base.left near 5.5
    from base.bottom near 2.5
    {more}
"""


@pytest.mark.parametrize(
    ("more", "standing"),
    [
        ("", "read"),
        ("bevel 0.5 at tip", "read"),
        ("serrated 18 deep 0.4", "read"),
        ("across 5.1 made 5.2", "wanted"),
    ],
)
def test_a_trimming_does_not_change_what_a_place_rests_on(more, standing):
    text = PEG.replace("    across 5.1\n", "") if more.startswith("across") else PEG
    features = json.loads(report_json(made(text.format(more=more)).report()))["features"]
    assert features["pin"]["standing"] == standing


def test_the_ground_of_a_rounded_root_is_told_beside_the_core():
    """ISO 68-1 with the root rounded by H / 6: the ground lies H / 12 below the core, H = 0.866 P: 8.773 for
    M10x1.
    """
    result = made('recipe "t"\nturning pin\n    across 10.0 from 0 to 30\n    thread M10x1 from 5 to 25\n')
    sizes = json.loads(report_json(result.report()))["features"]["pin"]["sizes"]
    height = 0.5 * math.sqrt(3.0)
    assert sizes["thread core"] == pytest.approx(10.0 - 1.25 * height, abs=1e-6)
    assert sizes["thread ground, in its rounded root"] == pytest.approx(
        10.0 - 1.25 * height - height / 6.0, abs=1e-6
    )
    points = result.mesh.points[result.mesh.triangles[faces_of(result, "pin", "thread")]].reshape(-1, 3)
    middle = points[(points[:, 2] > 8) & (points[:, 2] < 22)][:, :2] - 5.0
    root = 2.0 * min(math.hypot(*one) for one in middle.tolist())
    assert root == pytest.approx(sizes["thread ground, in its rounded root"], abs=0.02)


def test_a_nut_has_no_rounded_root():
    result = made(
        'recipe "t"\nblock b\n    long 20\n    wide 20\n    thick 8\nbore h\n    thread M8\n    around b\n'
    )
    sizes = json.loads(report_json(result.report()))["features"]["h"]["sizes"]
    assert [name for name in sizes if "ground" in name] == []


def test_the_readings_hold_what_is_read_between_centres_and_over_a_row():
    gears = (
        'recipe "g"\nneighbour pinion\n    teeth 16\n    across 18.0\ngear ring\n    inside\n    teeth 48\n'
    )
    gears += "    meshes pinion, centres 16.0\n    thick 6.0\n    rim 58.0\n"
    row = (
        'recipe "r"\nblock base\n    long 60.0\n    wide 20.0\n'
        "    thick 3.0\npeg p\n    on base.front\n    across 3.0\n"
    )
    row += "    high 4.0\n    from base.left near 3.0\n    midway base.top, base.bottom\n"
    row += "row ps\n    of p\n    count 6\n    over 44.9\n"
    for text, key, value in ((gears, "ring.centres", 16.0), (row, "ps.over", 44.9)):
        result = makegood.compile_text(text)
        assert result.ok
        said = json.loads(readings_json(result.readings(), "x"))["sizes"][key]
        assert (said["made"], said["read"], said["standing"]) == (value, value, "read")
        assert said["U"] == pytest.approx(2 * 0.05 / math.sqrt(3.0), abs=1e-6)
    wanted = makegood.compile_text(gears.replace("centres 16.0", "centres 16.0 wanted"))
    assert json.loads(readings_json(wanted.readings(), "x"))["sizes"]["ring.centres"]["read"] is None
