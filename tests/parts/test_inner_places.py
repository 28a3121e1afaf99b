"""The report tells where the holes of used parts came to lie: their walls in the mesh lie round the axis that
it gives.
"""

from __future__ import annotations

import json
from pathlib import Path

import makegood
import numpy as np
import pytest
from makegood.outputs.report import report_json, report_text
from makegood.result import Result

LUG = """recipe "lug"
block foot
    long 12
    high 14
    thick 5
bore eye
    across 5
    from foot.left centre 6
    from foot.top centre 6
block toe
    against foot.left
    flush with foot.bottom
    flush with foot.back
    long 4
    high 3
    thick 5
"""
BASE = """block base
    long 70.0
    wide 30.0
    thick 4.0
"""
PLAIN = (
    BASE
    + """use b "lug.mend"
    on base.front
    lies on bottom
    from base.left near 5.0
    from base.bottom near 6.0
"""
)
COPIED = (
    PLAIN
    + """line middle
    midway base.left, base.right
mirror c
    of b
    about middle
"""
)
NESTED = """block sole
    long 100
    wide 60
    thick 3
use n "base.mend"
    on sole.front
    lies on top
    turned 30
    from sole.left near 10
    from sole.bottom near 5
use m "base.mend"
    on sole.top
    from sole.left near 20
    from sole.back near 0
"""


def compiled(folder: Path, text: str) -> Result:
    (folder / "lug.mend").write_text(LUG, encoding="utf-8")
    (folder / "base.mend").write_text('recipe "base"\n' + COPIED, encoding="utf-8")
    return makegood.compile_text('recipe "whole"\n' + text, "whole.mend", folder=folder)


def walls(result: Result, owner: str) -> np.ndarray:
    """The corners of all facets that an eye of a used part left in the finished part."""
    part = result.part
    eyes = [
        label for label, (name, detail) in enumerate(part.faces) if name == owner and detail.endswith("eye")
    ]
    return part.mesh.points[np.unique(part.mesh.triangles[np.isin(part.mesh.labels, eyes)])]


@pytest.mark.parametrize("hand", ["", "    other hand\n"])
@pytest.mark.parametrize(
    ("text", "owner", "eyes"),
    [
        (PLAIN, "b", 1),
        (PLAIN.replace("lies on bottom", "lies on right"), "b", 1),
        (PLAIN.replace("lies on bottom", "turned 20"), "b", 1),
        (COPIED, "b", 2),
        (NESTED, "n", 2),
        (NESTED, "m", 2),
        (
            PLAIN.replace(
                "on base.front\n    lies on bottom", "on base.back\n    lies on left\n    turned 25"
            ),
            "b",
            1,
        ),
    ],
)
def test_the_walls_of_each_hole_lie_round_its_axis(
    text: str, owner: str, eyes: int, hand: str, tmp_path: Path
) -> None:
    result = compiled(tmp_path, hand + text)
    assert result.part is not None
    holes = [
        one for one in result.report().features if one.name.startswith(f"{owner}.") and "eye" in one.name
    ]
    assert len(holes) == eyes
    points = walls(result, owner)
    gaps = []
    for one in holes:
        away = points - np.array([one.x, one.y, one.z])
        gaps.append(np.linalg.norm(np.cross(away, one.axis), axis=1) - 0.5 * one.across)
        assert (one.kind, one.across) == ("bore", 5.0)
    least = np.abs(gaps).min(axis=0)
    assert len(points) > 20
    assert least.max() < 0.011
    assert all((np.abs(gap) < 0.011).sum() >= len(points) // eyes for gap in gaps)


def test_it_is_told_in_the_frame_of_the_finished_part(tmp_path: Path) -> None:
    """The lug lies on its bottom 4 above the bed: its eye is 14 - 6 over that, 4 + 6 from its left side,
    which is at 5.
    """
    result = compiled(tmp_path, PLAIN)
    eye = json.loads(report_json(result.report()))["features"]["b.eye"]
    assert (eye["x"], eye["z"], eye["axis"], eye["kind"]) == (15.0, 12.0, [0.0, 1.0, 0.0], "bore")
    assert 6.0 <= eye["y"] <= 11.0
    row = next(
        line.split() for line in report_text(result.report()).splitlines() if line.split()[:1] == ["b.eye"]
    )
    assert row[:7] == ["b.eye", "bore", "sheet", "15.00", "11.00", "12.00", "y"]


def test_a_place_that_is_read_to_has_its_true_height_too(tmp_path: Path) -> None:
    text = (
        PLAIN
        + "bore below\n    across 2\n    through base\n    plumb with b.eye\n    from base.top centre 5\n"
    )
    result = compiled(tmp_path, text)
    assert [one.z for one in result.report().features if one.name == "b.eye"] == [12.0]
