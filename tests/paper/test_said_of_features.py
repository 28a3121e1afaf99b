"""Pitch circles, beads, grips, slopes, letters and gears on a drawing: what is written is what the mesh
measures.
"""

from __future__ import annotations

import math
import re
from pathlib import Path

import makegood
import numpy as np
import numpy.typing as npt
import pytest
from makegood.facts import Measure
from makegood.outputs.paper import checks, drawing_sheet
from makegood.outputs.paper.amounts import shown
from makegood.outputs.paper.marks import Arc, Role, Sheet, Text
from makegood.quantities import Quantity

from .reading import EXAMPLES, RECIPES

Floats = npt.NDArray[np.float64]
FLANGE = """recipe "flange"
    readings +-0.05
{hand}turning flange
    across 60.0 from 0 to 3.0
bore hub
    around flange
    across 6.0
bore hole
    across 5.0
ring holes
    of hole
    about hub
    count {count}
{read}"""


def built(text: str) -> makegood.Result:
    result = makegood.compile_text(text)
    assert result.ok, [one.headline for one in result.diagnostics]
    return result


def sheet_of(result: makegood.Result) -> Sheet:
    return drawing_sheet(result._scene())


def said(sheet: Sheet) -> str:
    """All that is written on a sheet, the lines of a note one after the other."""
    return " ".join(one.text for one in sheet.marks if isinstance(one, Text))


def faces(result: makegood.Result, name: str, detail: str | None = None) -> Floats:
    part = result.part
    labels = [
        i for i, face in enumerate(part.faces) if face[0] == name and (detail is None or face[1] == detail)
    ]
    return part.mesh.points[np.unique(part.mesh.triangles[np.isin(part.mesh.labels, labels)].ravel())]


@pytest.mark.parametrize("hand", ["", "    other hand\n"])
@pytest.mark.parametrize(
    ("count", "read", "diameter", "words"),
    [
        (5, "    from next near-near 10.63\n", 15.63 / math.sin(math.pi / 5), "±0.12"),
        (6, "    from next far-far 20.0\n", 30.0, "±0.14"),
        (4, "    pitch circle 36.0 +- 0.2\n", 36.0, "±0.2"),
        (4, "    over 120\n    pitch circle 36.0 wanted\n", 36.0, "±0.3, over 120°"),
    ],
)
def test_a_pitch_circle_runs_through_the_copies_and_says_its_diameter(
    hand: str, count: int, read: str, diameter: float, words: str
):
    """Chord theorem; give-or-take of reading and hole together (0.05 each): 0.0707 / sin(pi / n) of the
    diameter.
    """
    result = built(FLANGE.format(count=count, read=read, hand=hand))
    sheet = sheet_of(result)
    (arc,) = [one for one in sheet.marks if isinstance(one, Arc) and one.role is Role.CENTRE]
    scale = next(
        float(a) / float(b)
        for one in sheet.marks
        if isinstance(one, Text)
        for a, b in re.findall(r"^(\d+):(\d+)$", one.text)
    )
    assert 2.0 * arc.radius / scale == pytest.approx(diameter, abs=1e-4)
    assert f"pitch circle Ø{shown(diameter)} {words}" in said(sheet).replace("holes ", "")
    # every hole of the mesh is centred on the line, and nothing of an `over` runs where there is none
    holes = [(one.x, one.y) for one in result.report().features if one.name.startswith("hole")]
    assert len(holes) == count
    points = faces(result, "hole")[:, :2]
    for x, y in holes:
        near = points[np.hypot(points[:, 0] - x, points[:, 1] - y) < 2.6]
        assert float(np.hypot(near[:, 0] - x, near[:, 1] - y).min()) == pytest.approx(2.5, abs=0.02)
        away = (x - 30.0, y - 30.0)
        assert math.hypot(*away) == pytest.approx(0.5 * diameter, abs=1e-4)
        turned = (
            (math.atan2(away[1], away[0]) - arc.start) * (1.0 if arc.sweep > 0 else -1.0) % (2.0 * math.pi)
        )
        assert min(turned, 2.0 * math.pi - turned) < 1e-5 or turned <= abs(arc.sweep) + 1e-5
    assert abs(arc.sweep) == pytest.approx(math.radians(120.0) if "over" in read else 2.0 * math.pi)


def test_a_ring_that_was_placed_otherwise_has_its_circle_and_no_second_size():
    result = built(
        FLANGE.format(count=3, read="", hand="").replace(
            "bore hole\n    across 5.0\n",
            "bore hole\n    across 5.0\n    from hub centres 20.0\n    level with hub\n    right of hub\n",
        )
    )
    sheet = sheet_of(result)
    assert len([one for one in sheet.marks if isinstance(one, Arc) and one.role is Role.CENTRE]) == 1
    assert "pitch circle" not in said(sheet)


TURNED = 'recipe "plug"\nturning plug\n    across 30.0 from 0 to 40.0\n    bored 20.0 from 20.0 to 40.0\n'


@pytest.mark.parametrize(
    ("line", "words", "off"),
    [
        ("bead 31.0 at 10.0 wide 3.0", "bead Ø31 ±0.05 at 10 wide 3", 15.5),
        ("cove 26.0 at 10.0 wide 5.0", "cove Ø26 ±0.05 at 10 wide 5", 13.0),
        ("vee 27.0 at 10.0 wide 3.0", "vee Ø27 ±0.05 at 10 wide 3", 13.5),
        ("bead inside 19.2 at 30.0 wide 2.0", "bead inside Ø19.2 ±0.05 at 30 wide 2", 9.6),
    ],
)
def test_what_is_shaped_into_a_turning_is_told_with_its_crown_or_floor(line: str, words: str, off: float):
    result = built(TURNED + f"    {line}\n")
    assert words in said(sheet_of(result))
    points = faces(result, "plug", line.split()[0])
    away = np.hypot(*(points[:, :2] - 0.5 * np.array(result.figures.box[:2])).T)
    assert float(away.max() if line.startswith("bead 3") else away.min()) == pytest.approx(off, abs=0.05)
    assert 0.5 * float(points[:, 2].max() + points[:, 2].min()) == pytest.approx(
        30.0 if "30.0" in line else 10.0, abs=0.01
    )
    wide = float(re.search(r"wide ([\d.]+)", line)[1])
    assert float(np.ptp(points[:, 2])) == pytest.approx(wide, abs=0.02)


@pytest.mark.parametrize(
    ("line", "words"),
    [
        ("serrated 60 deep 0.6 from 2.0 to 16.0", "serrated 60 deep 0.6, from 2 to 16"),
        ("diamond 48 deep 0.6 from 6.0 to 17.0", "diamond 48 deep 0.6, from 6 to 17"),
        ("hex 27.0 from 6.0 to 17.0", "hex 27 ±0.05, from 6 to 17"),
        ("flat 28.0 from 6.0 to 17.0 facing right", "flat 28 ±0.05, from 6 to 17"),
    ],
)
def test_grips_are_told_with_their_stretch(line: str, words: str):
    assert words in said(sheet_of(built(TURNED + f"    {line}\n")))


def test_two_heights_of_a_sole_and_their_angle():
    """atan(5 / 30) = 9.46 degrees, in brackets: it follows from the two heights."""
    text = (
        TURNED + "    trim sole\nplane sole\n    leans 2.0 at plug.left, 7.0 at plug.right from plug.back\n"
    )
    result = built(text)
    told = said(sheet_of(result))
    assert f"sole leans ({shown(math.degrees(math.atan2(5, 30)))}°)" in told
    assert {"2 ±0.1", "7 ±0.2"} <= {one.text for one in sheet_of(result).marks if isinstance(one, Text)}


def test_letters_are_told_with_their_height_and_depth_as_in_the_mesh():
    text = (
        'recipe "lid"\nblock lid\n    long 40.0\n    wide 20.0\n    thick 3.0\nmark name\n    on lid.front\n'
    )
    text += (
        '    says "TEE"\n    high 7.0\n    sunk 0.6\n'
        "    midway lid.left, lid.right\n    midway lid.top, lid.bottom\n"
    )
    result = built(text)
    assert "name “TEE”, high 7 ±0.05, sunk 0.6" in said(sheet_of(result))
    cut = faces(result, "name")
    assert float(np.ptp(cut[:, 1])) == pytest.approx(7.0, abs=0.05)
    assert float(np.ptp(cut[:, 2])) == pytest.approx(0.6, abs=1e-6)


def test_a_gear_is_told_as_it_is_made():
    text = 'recipe "pinion"\n    readings +-0.05\ngear wheel\n    teeth 13\n    thick 8.0\n    across 18.7\n'
    result = built(text + "    span 5.72 over 2\n")
    report = {one.word: one.made for one in result.report().sizes}
    told = said(sheet_of(result))
    for words in (
        "teeth 13",
        "module 1.25",
        f"across {shown(report['across'])}",
        f"span {shown(report['span'])} over 2",
    ):
        assert words in told
    assert "5.72" not in told


@pytest.mark.parametrize(("fit", "size"), [("pushes on", 4.6), ("turns on", 4.7)])
def test_a_flat_on_the_drawing_and_on_the_inspection_sheet_is_the_made_one(fit: str, size: float):
    """A fit may use up half its play, on the flat as on the round."""
    text = (
        'recipe "hub"\nneighbour shaft\n    across 5.0\n'
        "turning hub\n    across 12.0 from 0 to 8.0\nbore hole\n"
    )
    result = built(text + f"    around hub\n    {fit} shaft\n    flat 4.5 facing top\n")
    assert f"flat {size:g} ±{(size - 4.5) / 2:g}" in said(sheet_of(result))
    (check,) = [one for one in checks(result._scene()) if one.key == "hole flat"]
    assert check.value == pytest.approx(size)
    assert float(np.ptp(faces(result, "hole")[:, 1])) == pytest.approx(size, abs=1e-6)


# kind and word of facts whose every number stands on the drawing as it was written
_WRITTEN = {
    "turning": {"bead", "cove", "vee", "serrated", "splines", "diamond", "hex", "square", "flat"},
    "bore": {"serrated", "splines", "deep"},
    "peg": {"serrated", "splines", "high"},
    "mark": {"high", "raised", "sunk"},
    "arm": {"long", "wide", "thick", "tip", "nose", "lead", "return", "fillet"},
    "rim": {"thick", "high", "inset"},
    "plate": {"taper", "thick"},
    "block": {"taper", "long", "wide", "high", "thick"},
    "plane": {"leans"},
    "thicken": {"along"},
    "relieve": {"along"},
    "ring": {"pitch circle"},
}


@pytest.mark.parametrize("path", [*EXAMPLES, *RECIPES], ids=lambda path: path.stem)
def test_no_size_of_a_feature_is_left_out(path: Path):
    result = makegood.compile_file(path)
    told = said(sheet_of(result))
    assert not re.search(r"\band \d+ more\b", told), "more sizes than fit on the sheet"
    numbers = set(re.findall(r"\d+(?:\.\d+)?", told))
    for entry in result.claims.entries.values():
        for claim in entry.claims:
            for _, value in claim.values if claim.word in _WRITTEN.get(entry.kind, ()) else ():
                size = value.made if isinstance(value, Measure) else value
                if isinstance(size, Quantity):
                    assert shown(abs(size.value)) in numbers, f"{entry.name} {claim.text}"
