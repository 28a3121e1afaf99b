"""Meshes as stock: bored, plugged, trimmed, built on; units asked for; repaired only where that is said."""

from __future__ import annotations

import math
from pathlib import Path

import makegood
import numpy as np
import pytest
import trimesh
from makegood.outputs import stl_bytes, threemf_bytes
from makegood.result import Result

from .making import falls_short, inside, made, said, sound

PLATE = """recipe "old plate"

block plate
    long 40
    wide 20
    thick 6

bore worn
    across 9.0
    from plate.left centre 12
    from plate.bottom centre 10
"""
WORN = math.pi * 4.5**2 * 6.0


def put(folder: Path, name: str = "old.stl", scale: float = 1.0) -> trimesh.Trimesh:
    """The old plate as a mesh file."""
    plate = made(PLATE)
    mesh = trimesh.Trimesh(plate.mesh.points * scale, plate.mesh.triangles, process=False)
    mesh.export(folder / name, file_type="stl")
    return mesh


def compiled(folder: Path, text: str, facts: str = "", name: str = "old.stl") -> Result:
    return makegood.compile_text(
        f'recipe "mended"\n\nblank old "{name}"\n{facts}\n{text}', "mended.mend", folder=folder
    )


def codes(result: Result) -> list[str]:
    return [one.code for one in result.diagnostics]


def test_a_blank_is_the_mesh_with_sides_like_a_block(tmp_path: Path) -> None:
    mesh = put(tmp_path)
    result = compiled(tmp_path, "")
    assert said(result) == []
    sound(result)
    assert result.figures.box == (40.0, 20.0, 6.0)
    assert result.figures.volume == pytest.approx(mesh.volume, rel=1e-6)
    assert result.figures.genus == 1
    assert {("old", side) for side in ("left", "right", "top", "bottom", "front", "back")} <= set(
        result.part.faces
    )


@pytest.mark.parametrize("name", ["again.stl", "again.3mf"])
def test_what_we_wrote_ourselves_comes_back(name: str, tmp_path: Path) -> None:
    plate = made(PLATE)
    data = stl_bytes(plate.mesh, "plate") if name.endswith("stl") else threemf_bytes(plate.mesh, {}, "plate")
    (tmp_path / name).write_bytes(data)
    result = compiled(tmp_path, "", name=name)
    assert said(result) == []
    assert result.figures.volume == pytest.approx(plate.figures.volume, rel=1e-6)
    assert result.figures.genus == 1


def test_a_worn_hole_is_filled_and_bored_anew(tmp_path: Path) -> None:
    """A peg joined over the worn hole fills it; the new bore goes through both."""
    put(tmp_path)
    plug = """peg plug
    on seat
    across 10.0
    high 6.0
    from old.left centre 12.0
    from old.bottom centre 10.0
"""
    seat = "plane seat\n    dropped 6.0 from old.front\n\n"
    filled = compiled(tmp_path, seat + plug)
    assert said(filled) == []
    assert filled.figures.genus == 0
    assert filled.figures.volume == pytest.approx(40 * 20 * 6, rel=1e-6)
    bored = compiled(tmp_path, seat + plug + "\nbore new\n    drill 4.0\n    around plug\n    through plug\n")
    assert said(bored) == []
    assert bored.figures.genus == 1
    assert bored.figures.volume == pytest.approx(4800 - math.pi * 4 * 6, rel=1e-3)


def test_bodies_and_holes_stand_on_its_sides(tmp_path: Path) -> None:
    """A rail along its front, a pad against its right, a bore into its top: by closed form."""
    put(tmp_path)
    text = """block rail
    on old.front
    long 40.0
    wide 3.0
    thick 2.0
    flush with old.left
    flush with old.top

block pad
    against old.right
    flush with old.bottom
    long 5.0
    wide 20.0
    thick 6.0

bore screw
    on old.top
    across 3.0
    deep 5.0
    from old.right centre 8.0
    midway old.front, old.back
"""
    result = compiled(tmp_path, text)
    assert said(result) == []
    exact = 4800 - WORN + 240 + 600 - math.pi * 2.25 * 5
    # the worn hole is faceted outwards, so it may be larger by its wall times the chord
    assert result.figures.volume == pytest.approx(exact, abs=0.01 * (math.pi * 9 * 6 + math.pi * 3 * 5))
    assert result.figures.box == (45.0, 20.0, 8.0)


def test_it_is_trimmed_by_a_plane(tmp_path: Path) -> None:
    put(tmp_path)
    result = compiled(tmp_path, "plane cut\n    dropped 2.0 from old.front\n", "    trim cut\n")
    assert said(result) == []
    assert result.figures.volume == pytest.approx((4800 - WORN) * 4 / 6, rel=1e-3)


def test_zones_of_a_used_part_say_what_to_do_instead(tmp_path: Path) -> None:
    pad = "thicken pad\n    on old.front\n    collar here to 8 overall\n    by 1\n"
    text = f'use old "washer"\n\npoint here\n    at 0, 0 from old\n\n{pad}'
    result = makegood.compile_text(f'recipe "a"\n\n{text}')
    assert codes(result) == ["wrong-kind"]
    assert result.diagnostics[0].advice == ("join a plate or block to a side of it: on old.front",)


@pytest.mark.parametrize(("unit", "scale"), [("in", 1 / 25.4), ("cm", 0.1), ("m", 0.001)])
def test_a_file_in_another_unit_is_asked_about_and_told(unit: str, scale: float, tmp_path: Path) -> None:
    mesh = put(tmp_path, scale=scale)
    plain = compiled(tmp_path, "")
    if mesh.extents.max() >= 2.0:  # 4 cm are 4 mm to one who does not ask: that could be meant
        assert plain.figures.box[0] == pytest.approx(4.0, rel=1e-6)
    else:
        assert codes(plain) == ["which-unit"]
        assert any(
            line.startswith(f"unit {unit}   makes it 40 x 20 x 6 mm") for line in plain.diagnostics[0].advice
        )
    right = compiled(tmp_path, "", f"    unit {unit}\n")
    assert said(right) == []
    assert right.figures.box == pytest.approx((40.0, 20.0, 6.0), rel=1e-6)


def test_a_file_as_large_as_a_house_is_asked_about(tmp_path: Path) -> None:
    put(tmp_path, scale=1000.0)
    result = compiled(tmp_path, "")
    assert codes(result) == ["which-unit"]
    assert "40000 mm" in result.diagnostics[0].headline or "4e+04" in result.diagnostics[0].headline


def test_a_cracked_mesh_is_refused_until_repair_is_said(tmp_path: Path) -> None:
    mesh = put(tmp_path)
    trimesh.Trimesh(mesh.vertices, mesh.faces[1:], process=False).export(
        tmp_path / "old.stl", file_type="stl"
    )
    refused = compiled(tmp_path, "")
    assert codes(refused) == ["mesh-not-closed"]
    assert "3 open edges" in refused.diagnostics[0].headline
    repaired = compiled(tmp_path, "", "    repair\n")
    assert codes(repaired) == ["mesh-repaired"]
    assert repaired.figures.volume == pytest.approx(mesh.volume, rel=1e-6)
    ball = trimesh.creation.icosphere(3, 10.0)
    patch = (ball.triangles_center[:, 0] < 6.0) | (ball.triangles_center[:, 2] > 5.0)
    trimesh.Trimesh(ball.vertices, ball.faces[patch], process=False).export(
        tmp_path / "ball.stl", file_type="stl"
    )
    left = compiled(tmp_path, "", "    repair\n", "ball.stl")
    assert codes(left) == ["mesh-not-closed"]
    assert "can't be repaired here" in left.diagnostics[0].headline


def test_a_sound_mesh_needs_no_repair_and_nothing_is_said(tmp_path: Path) -> None:
    put(tmp_path)
    assert said(compiled(tmp_path, "", "    repair\n")) == []


def test_what_is_no_mesh_is_answered(tmp_path: Path) -> None:
    (tmp_path / "old.stl").write_bytes(b"not a mesh")
    assert codes(compiled(tmp_path, "")) == ["mesh-unread"]
    assert codes(compiled(tmp_path, "", name="older.stl")) == ["no-such-file"]
    assert codes(compiled(tmp_path, "", name="old.mend")) == ["no-such-file"]
    assert codes(compiled(tmp_path, "", name="../old.stl")) == ["outside-folder"]


def test_a_ball_stands_on_its_box(tmp_path: Path) -> None:
    """A curved mesh: its sides are those of its box, and a bore through its middle leaves the napkin ring's
    volume.
    """
    ball = trimesh.creation.icosphere(5, 10.0)
    ball.export(tmp_path / "old.stl", file_type="stl")
    result = compiled(
        tmp_path,
        "bore hole\n    across 12.0\n    midway old.left, old.right\n    midway old.bottom, old.top\n",
    )
    assert said(result) == []
    height = 2 * math.sqrt(10.0**2 - 6.0**2)
    assert result.figures.volume == pytest.approx(math.pi * height**3 / 6, rel=5e-3)
    # a ball is everywhere as wide as its box, whichever way it lies
    for facts in ("    lies on left\n", "    turned 30\n"):
        turned = compiled(tmp_path, "", facts)
        assert turned.figures.box == pytest.approx((20.0, 20.0, 20.0), abs=0.05)
        assert turned.figures.volume == pytest.approx(ball.volume, rel=1e-6)


def test_a_recipe_that_uses_a_blank_is_used_in_turn(tmp_path: Path) -> None:
    """A path in a used recipe is counted from where that recipe lies."""
    (tmp_path / "sub").mkdir()
    put(tmp_path / "sub")
    (tmp_path / "sub" / "mended.mend").write_text('recipe "m"\n\nblank old "old.stl"\n', encoding="utf-8")
    result = makegood.compile_text('recipe "w"\n\nuse part "sub/mended.mend"\n', folder=tmp_path)
    assert said(result) == []
    assert result.figures.box == (40.0, 20.0, 6.0)


def test_same_text_same_bytes(tmp_path: Path) -> None:
    put(tmp_path)
    text = "bore hole\n    across 3.0\n    from old.left centre 30.0\n    from old.top centre 10.0\n"
    one, two = compiled(tmp_path, text, "    turned 15\n"), compiled(tmp_path, text, "    turned 15\n")
    assert threemf_bytes(one.mesh, one.card, one.title) == threemf_bytes(two.mesh, two.card, two.title)
    assert inside(one, tuple(np.array(one.figures.box) / 2)) == [True]
    falls_short(one, one.figures.volume, 0.0)
