"""The page as one file, and what the page is told of a part."""

from __future__ import annotations

import base64
import re
from pathlib import Path

import makegood
import numpy as np
import pytest
from makegood.cli import main
from makegood.outputs.live import part_document

from .showing import PLATE, browser, edition, inked, pixels

EXAMPLES = sorted((Path(__file__).parents[2] / "examples").glob("*.mend"))


def _told(text: str) -> dict[str, object]:
    result = makegood.compile_text(text)
    assert result.part is not None
    return part_document(result.made, result.part, 1)


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_the_arrays_are_the_mesh(path: Path):
    """What the page gets encloses the volume that the report gives, and its creases are edges of the mesh."""
    result = makegood.compile_file(path)
    assert result.part is not None
    told = part_document(result.made, result.part, 1)
    points = np.frombuffer(base64.b64decode(str(told["points"])), "<f4").reshape(-1, 3).astype(float)
    triangles = np.frombuffer(base64.b64decode(str(told["triangles"])), "<u4").reshape(-1, 3)
    a, b, c = (points[triangles[:, k]] for k in range(3))
    assert np.einsum("ij,ij->", a, np.cross(b, c)) / 6 == pytest.approx(result.part.figures.volume, rel=1e-5)
    edges = np.frombuffer(base64.b64decode(str(told["edges"])), "<u4").reshape(-1, 4)
    sides = {
        frozenset(pair)
        for one in triangles.tolist()
        for pair in ((one[0], one[1]), (one[1], one[2]), (one[2], one[0]))
    }
    assert all(frozenset(pair) in sides for pair in edges[:, :2].tolist())
    assert 0 < int(str(told["creases"])) <= len(edges)
    normals = np.frombuffer(base64.b64decode(str(told["normals"])), "<i1").reshape(-1, 3) / 127
    assert np.hypot.reduce(normals, axis=1) == pytest.approx(1.0, abs=0.02)


def test_every_face_of_the_examples_has_a_line():
    """...and the line is a head or a fact of the statement that the face is named for."""
    seen = 0
    for path in EXAMPLES:
        result = makegood.compile_file(path)
        assert result.part is not None
        for name, detail, line in part_document(result.made, result.part, 1)["faces"]:  # type: ignore[attr-defined]
            text = result.source.lines[line - 1].split("#")[0].split()
            assert text[1] == name or " ".join(text).startswith(detail), (path.name, name, detail, line)
            seen += 1
    assert seen > 80


def test_a_hole_is_led_to_at_its_middle():
    """The through hole lies at (45, 20) of the plate; it reaches 7 deep, so its mouths are 3.5 off its
    middle.
    """
    things = {one["name"]: one for one in _told(PLATE)["things"]}  # type: ignore[attr-defined]
    hole = things["through_hole"]
    assert hole["place"] == pytest.approx([45.0, 20.0, 3.5], abs=0.02)
    assert np.abs(hole["way"]) == pytest.approx([0.0, 0.0, 3.5], abs=0.02)
    blind = things["blind"]  # 3 deep from the front of a plate 6 thick
    assert blind["place"] == pytest.approx([15.0, 20.0, 4.5], abs=0.02)
    assert np.abs(blind["way"]) == pytest.approx([0.0, 0.0, 1.5], abs=0.02)
    assert hole["said"] == "through_hole \u00d8 6"
    assert {name: one["group"] for name, one in things.items()} == {
        "blind": "holes",
        "through_hole": "holes",
        "pad": "zones",
        "body": "bodies",
    }


def test_one_file_holds_everything(tmp_path: Path, capsys: pytest.CaptureFixture[str]):
    path, goal = tmp_path / "plate.mend", tmp_path / "page.html"
    path.write_text(PLATE, encoding="utf-8")
    assert main(["view", str(path), "--save", str(goal)]) == 0
    assert "page.html" in capsys.readouterr().out
    first = goal.read_bytes()
    assert main(["view", str(path), "--save", str(goal)]) == 0
    assert goal.read_bytes() == first
    text = first.decode()
    assert "default-src 'none'" in text
    assert "MIT License" in text
    assert not re.findall(r"""(?:src|href)=["'](?!data:)""", text.split("<script")[0])
    with browser() as opened:
        page = opened.new_page(viewport={"width": 1100, "height": 800})
        asked: list[str] = []
        faults: list[str] = []
        page.on("request", lambda request: asked.append(request.url))
        page.on("console", lambda said: faults.append(said.text) if said.type == "error" else None)
        page.goto(goal.as_uri())
        edition(page, 1)
        assert 0.05 < inked(pixels(page)).mean() < 0.9
        assert page.locator("#readings table").count() >= 1
        assert page.evaluate("document.querySelector('#drawing img').naturalWidth") > 100
        assert faults == []
        assert all(one == goal.as_uri() or one.startswith("data:") for one in asked)


def test_a_recipe_with_errors_is_not_saved(tmp_path: Path, capsys: pytest.CaptureFixture[str]):
    path, goal = tmp_path / "plate.mend", tmp_path / "page.html"
    path.write_text(PLATE.replace("40.0", "forty"), encoding="utf-8")
    assert main(["view", str(path), "--save", str(goal)]) == 1
    assert not goal.exists()
    assert main(["view", str(path), "--save", str(tmp_path / "page.pdf")]) == 2
    assert "end it in .html" in capsys.readouterr().err
    assert main(["view", str(tmp_path / "none.mend")]) == 2
