"""What the report says a size is made is what the mesh measures, and what `readings` calls a reading was
read.
"""

from __future__ import annotations

import json
import math
from pathlib import Path

import makegood
import numpy as np
import numpy.typing as npt
import pytest
import trimesh
from makegood.outputs import report_json, report_text
from makegood.quantities import Quantity

ROOT = Path(__file__).parents[2]
RECIPES = [
    *sorted((ROOT / "examples").glob("*.mend")),
    *sorted((ROOT / "tests/parts/recipes").glob("*.mend")),
]
Floats = npt.NDArray[np.float64]
HUB = 'recipe "hub"\nneighbour shaft\n    {shaft}\nturning hub\n    across 30.0 from 0 to 8.0\n'
PIN = (
    'recipe "pin"\nneighbour socket\n    across 8.0\nplate base\n'
    "    thick 2\n    outline rim\nround rim\n    across 20\n"
)
FITS = {"turns on": 0.2, "slides on": 0.3, "pushes on": 0.1, "press on": -0.1}  # the table of the reference


def built(text: str) -> makegood.Result:
    result = makegood.compile_text(text)
    assert result.ok, [one.headline for one in result.diagnostics]
    return result


def faces(result: makegood.Result, name: str, detail: str | None = None) -> Floats:
    """The corners of the faces of a statement (all of them, or those of one kind)."""
    part = result.part
    labels = [
        i for i, face in enumerate(part.faces) if face[0] == name and (detail is None or face[1] == detail)
    ]
    return part.mesh.points[np.unique(part.mesh.triangles[np.isin(part.mesh.labels, labels)].ravel())]


def made(result: makegood.Result, key: str) -> float:
    return json.loads(report_json(result.report()))["sizes"][key]["made"]


@pytest.mark.parametrize(("fit", "play"), FITS.items())
def test_a_flat_is_reported_as_it_is_in_the_mesh(fit: str, play: float):
    """From the flat, which faces up, to the far side of the round."""
    result = built(
        HUB.format(shaft="across 5.0")
        + f"bore hole\n    around hub\n    {fit} shaft\n    flat 4.5 facing top\n"
    )
    y = faces(result, "hole")[:, 1]
    assert made(result, "hole.flat") == pytest.approx(4.5 + play)
    assert float(np.ptp(y)) == pytest.approx(made(result, "hole.flat"), abs=1e-6)


@pytest.mark.parametrize(("fit", "play"), FITS.items())
def test_two_flats_and_those_of_a_peg_are_too(fit: str, play: float):
    result = built(
        HUB.format(shaft="across 5.0")
        + f"bore hole\n    around hub\n    {fit} shaft\n    flats 4.0 facing top\n"
    )
    flats = faces(result, "hole", "flat")
    assert float(np.ptp(flats[:, 1])) == pytest.approx(made(result, "hole.flats"), abs=1e-6)
    assert made(result, "hole.flats") == pytest.approx(4.0 + play)
    peg = built(
        PIN
        + (
            "peg pin\n    on base.front\n    around rim\n"
            f"    {fit} socket\n    flat 7.0 facing top\n    high 5\n"
        )
    )
    tip = faces(peg, "pin")
    assert made(peg, "pin.flat") == pytest.approx(7.0 - play)
    assert float(np.ptp(tip[tip[:, 2] > 6.9][:, 1])) == pytest.approx(made(peg, "pin.flat"), abs=1e-6)


@pytest.mark.parametrize(
    ("shaft", "sides", "key"),
    [
        ("hex 9.0", "hex 8.9", "hole.hex"),
        ("square 9.0", "square 8.9", "hole.square"),
        ("across 9.0", "across 8.8", "hole.across"),
        ("across 9.0", "drill 8.8 not 8.9", "hole.drill"),
        ("across 9.0", "same as twin", "hole.same as"),
    ],
)
def test_what_a_fit_makes_of_a_size_across_is_too(shaft: str, sides: str, key: str):
    """Two flats, or sides of a facet count that four divides, lie square to y."""
    result = built(
        HUB.format(shaft=shaft) + f"bore hole\n    around hub\n    slides on shaft\n    {sides}\n"
        "bore twin\n    across 2.0\n    at 0, 10 from hub\n"
    )
    corners = faces(result, "hole") - np.array([15.0, 15.0, 0.0])
    ends = [float(np.ptp(corners[:, axis])) for axis in (0, 1)]
    assert made(result, key) == pytest.approx(9.3)
    assert min(ends) == pytest.approx(
        made(result, key), abs=2e-2 if key in ("hole.across", "hole.drill") else 1e-2
    )


def test_the_width_of_a_slot_is_too():
    result = built(
        HUB.format(shaft="across 5.0")
        + "slot way\n    around hub\n    slides on shaft\n    wide 5.1\n    long 12\n"
        "    level\n"
    )
    assert float(np.ptp(faces(result, "way")[:, 1])) == pytest.approx(made(result, "way.wide"), abs=1e-2)
    assert made(result, "way.wide") == pytest.approx(5.3)


PINION = 'recipe "pinion"\n    readings +-0.05\ngear wheel\n    teeth 13\n    thick 8.0\n    across 18.7\n'
PINION += "    span 5.72 over 2\n"


@pytest.mark.parametrize("backlash", [0.0, 0.1, 0.25])
def test_a_gear_is_reported_as_it_is_in_the_mesh(backlash: float):
    """Over the tips: the two corners farthest apart.  Over two teeth: the least distance of jaws that hold
    their flanks.
    """
    result = built(PINION + f"    backlash {backlash}\n")
    sizes = json.loads(report_json(result.report()))["sizes"]
    points = faces(result, "wheel", "teeth")
    points = points[points[:, 2] < 1e-6][:, :2]
    middle = next((one.x, one.y) for one in result.report().features if one.name == "wheel")
    points = points - np.array(middle)
    far = np.hypot(*(points[:, None] - points[None]).transpose(2, 0, 1)).max()
    assert far == pytest.approx(sizes["wheel.across"]["made"], abs=0.02)
    assert sizes["wheel.across"]["read"] == pytest.approx(18.7)
    assert _over_two_teeth(points) == pytest.approx(sizes["wheel.span"]["made"], abs=0.02)
    assert (sizes["wheel.span"]["read"], sizes["wheel.span"]["over"]) == (pytest.approx(5.72), 2)
    # DIN 3960: the base tangent length gets shorter by the play along the base circle
    unworn = (
        1.25
        * math.cos(math.radians(20))
        * (1.5 * math.pi + 13 * (math.tan(math.radians(20)) - math.radians(20)))
    )
    assert sizes["wheel.span"]["made"] == pytest.approx(
        unworn - backlash * math.cos(math.radians(20)), abs=1e-6
    )


def _over_two_teeth(points: Floats) -> float:
    """Jaws square to the x axis about two neighbouring teeth, moved to where they are nearest."""
    turns = np.arctan2(points[:, 1], points[:, 0])
    radius = np.hypot(*points.T)
    tip = turns[int(np.argmax(radius))]
    pitch = 2 * math.pi / 13
    best = math.inf
    # the two teeth lie about the middle of a space: half a pitch from a tooth, whose middle is that of its
    # land
    land = np.sort(turns[(radius > radius.max() - 1e-3) & (np.abs(turns - tip) < 0.4 * pitch)])
    middle = 0.5 * (land[0] + land[-1]) + 0.5 * pitch
    for lean in np.radians(np.linspace(-6.0, 6.0, 241)):
        at = (turns - middle + math.pi) % (2 * math.pi) - math.pi
        mine = (np.abs(at) < pitch) & (
            radius > 7.66
        )  # over the base circle: there is the flank that jaws touch
        across = points[mine] @ np.array([-math.sin(middle + lean), math.cos(middle + lean)])
        best = min(best, float(np.ptp(across)))
    return best


def test_a_pitch_read_over_several_is_made_as_one():
    text = (
        'recipe "cap"\nneighbour neck\n    across 38.05\n    core 35.6\n'
        "    pitch 12.0 over 4\n    crest 0.9\n    foot 1.8\n"
    )
    text += "turning cap\n    across 46.0 from 0 to 18.0\n    screws on neck from 0 to 15.0, 0.4 clear\n"
    report = built(text).report()
    (pitch,) = [one for one in report.sizes if one.word == "pitch"]
    assert (pitch.made, pitch.read, pitch.over) == (pytest.approx(3.0), pytest.approx(12.0), 4)
    told = dict(next(one.sizes for one in report.features if one.name == "cap"))
    assert told["inside thread pitch"] == pytest.approx(pitch.made)


def test_the_diameter_of_a_chord_is_a_size_of_its_own():
    """c^2 / 4h + h (chord theorem)."""
    text = (
        'recipe "disc"\nround rim\n    chord 20.0\n    rise 3.0\nplate disc\n    thick 3\n    outline rim\n'
    )
    sizes = json.loads(report_json(built(text).report()))["sizes"]
    assert sizes["rim.chord"]["made"] == pytest.approx(20.0)
    assert sizes["rim.across"]["made"] == pytest.approx(400 / 12 + 3)


@pytest.mark.parametrize("path", RECIPES, ids=lambda path: path.stem)
def test_every_reading_is_shown_as_it_was_read(path: Path):
    """Given is what stands in the line; fitted less given is off."""
    result = makegood.compile_file(path)
    for page in result.readings().pages:
        for one in page.readings:
            claim = next(claim for claim in result.claims.entries[one.name].claims if claim.text == one.text)
            said = [abs(value.value) for _, value in claim.values if isinstance(value, Quantity)]
            said += [
                both.value
                for _, value in claim.values
                for both in (getattr(value, "read", None),)
                if both is not None
            ]
            assert any(abs(one.given) == pytest.approx(value, abs=1e-6) for value in said), one.text
            assert one.fitted - one.given == pytest.approx(one.residual, abs=1e-6)


RING = """recipe "wheel"
    readings +-0.05
turning wheel
    across 48.0 from 0 to 17.0
bore axle
    around wheel
    drill 6.0 not 6.1
bore hole
    drill 7.0 not 7.1
ring holes
    of hole
    about axle
    count 5
    from next near-near 10.63
"""


def test_a_reading_between_copies_of_a_ring_is_weighed_as_itself():
    """Chord theorem: the pitch radius is (10.63 + 7) / (2 sin 36 deg), so 0.1 there moves a hole by 0.1 / (2
    sin 36 deg).
    """
    (page,) = built(RING).readings().pages
    (one,) = [one for one in page.readings if one.name == "holes"]
    share = 0.5 / math.sin(math.radians(36))
    assert (one.given, one.fitted) == (pytest.approx(10.63), pytest.approx(10.63, abs=1e-5))
    assert one.moves == pytest.approx(0.1 * share, abs=1e-6)
    (gap,) = page.spacings
    assert gap.apart == pytest.approx(17.63 * share, abs=1e-5)


def test_two_readings_of_a_ring_that_disagree_are_told_in_their_own_numbers():
    """A pitch circle of 31 asks for 31 sin 36 deg - 7 between edges; 10.63 there asks for a circle of 17.63 /
    sin 36 deg.
    """
    result = makegood.compile_text(RING + "    pitch circle 31.0\n")
    (told,) = [one for one in result.diagnostics if one.code == "readings-disagree"]
    sine = math.sin(math.radians(36))
    said = "\n".join(told.advice)
    assert f"from next near-near 10.63 of holes: the others say {31.0 * sine - 7.0:.2f}" in said
    assert f"pitch circle 31.0 of holes: the others say {17.63 / sine:.2f}" in said


@pytest.mark.parametrize(
    ("text", "key", "name"),
    [
        (
            'recipe "foot"\nturning foot\n    across 30.0 from 0 to 20.0\n    trim sole\nplane sole\n'
            "    leans 2.0 at foot.left, 7.0 at foot.right from foot.back\n",
            "sole.leans",
            "foot",
        ),
        (
            (
                'recipe "wedge"\n    other hand\nblock wedge\n    long 40.0\n'
                "    wide 20.0\n    taper 8.0 at left, 4.0 at right\n"
            ),
            "wedge.taper",
            "wedge",
        ),
    ],
)
def test_how_steep_a_slope_is_told_as_the_mesh_has_it(text: str, key: str, name: str):
    """Normals of the mesh by trimesh: the only large faces that are neither level nor upright; and atan(rise
    / run).
    """
    result = built(text)
    said = json.loads(report_json(result.report()))["angles"]
    mesh = trimesh.Trimesh(result.part.mesh.points, result.part.mesh.triangles, process=False)
    up = np.abs(mesh.face_normals[:, 2])
    sloping = (up > 1e-6) & (up < 1 - 1e-6)
    turns = np.degrees(np.arccos(up[sloping]))
    assert np.ptp(turns) < 1e-3
    assert said == {key: pytest.approx(float(turns.mean()), abs=1e-3)}
    run, rise = (30.0, 5.0) if key == "sole.leans" else (40.0, 4.0)
    assert said[key] == pytest.approx(math.degrees(math.atan2(rise, run)), abs=1e-6)
    assert (
        f"{name if key[0] == 'w' else 'sole'}  {key.partition('.')[2]}  {said[key]:.2f} deg"
        in report_text(result.report())
    )


def test_the_other_hand_is_told_first():
    """A hole 5 from the left of a plate 40 wide lies 35 from the left of its other hand, and the report says
    why.
    """
    text = (
        'recipe "plate"\n{}block body\n    long 40.0\n'
        "    wide 20.0\n    thick 3.0\nbore hole\n    across 4.0\n"
    )
    text += "    from body.left centre 5.0\n    from body.bottom centre 10.0\n"
    for line, x, told in (("", 5.0, False), ("    other hand\n", 35.0, True)):
        report = built(text.format(line)).report()
        said = json.loads(report_json(report))
        assert said["other_hand"] is told
        assert said["features"]["hole"]["x"] == pytest.approx(x)
        assert ("other hand" in "\n".join(report_text(report).splitlines()[:3])) is told
