"""A mesh grown or shrunk as a whole: by the formula of Steiner, and against the distance field of another
library.
"""

from __future__ import annotations

import math
from pathlib import Path

import makegood
import numpy as np
import pytest
import trimesh
from makegood.outputs import stl_bytes, threemf_bytes
from makegood.result import Result

from .making import said, sound


def compiled(folder: Path, mesh: trimesh.Trimesh, facts: str, text: str = "") -> Result:
    mesh.export(folder / "old.stl", file_type="stl")
    return makegood.compile_text(
        f'recipe "m"\n\nblank old "old.stl"\n    {facts}\n\n{text}', "m.mend", folder=folder
    )


def angle_iron() -> trimesh.Trimesh:
    """An L with a hole: an inner corner, outer edges, a tunnel."""
    legs = [
        trimesh.creation.box((16, 8, 4), trimesh.transformations.translation_matrix((8, 4, 2))),
        trimesh.creation.box((4, 8, 12), trimesh.transformations.translation_matrix((2, 4, 6))),
    ]
    hole = trimesh.creation.cylinder(
        2.0, 10.0, 24, transform=trimesh.transformations.translation_matrix((11, 4, 2))
    )
    return trimesh.boolean.difference(
        [trimesh.boolean.union(legs, engine="manifold"), hole], engine="manifold"
    )


def distances(mesh: trimesh.Trimesh, points: np.ndarray) -> np.ndarray:
    """From each point to the surface: the nearest of all its facets, one after the other."""
    least = np.full(len(points), np.inf)
    for facet in mesh.triangles:
        near = trimesh.triangles.closest_point(np.broadcast_to(facet, (len(points), 3, 3)), points)
        least = np.minimum(least, np.linalg.norm(points - near, axis=1))
    return least


@pytest.mark.parametrize("by", [0.05, 0.5, 3.0])
def test_a_grown_cube_is_steiners(by: float, tmp_path: Path) -> None:
    """a3 + 6 a2 r + 3 pi a r2 + 4/3 pi r3 (Steiner's formula for a cube); round edges fall short by the chord
    at most.
    """
    result = compiled(tmp_path, trimesh.creation.box((10, 10, 10)), f"grow {by}")
    assert said(result) == []
    sound(result)
    exact = 1000 + 600 * by + 30 * math.pi * by**2 + 4 / 3 * math.pi * by**3
    curved = 60 * math.pi * by + 4 * math.pi * by**2
    assert 0 <= exact - result.figures.volume <= 0.01 * curved + 1e-3
    assert result.figures.box == pytest.approx((10 + 2 * by,) * 3, abs=1e-9)
    assert {("old", side) for side in ("left", "right", "top", "bottom", "front", "back")} <= set(
        result.part.faces
    )
    assert {result.part.faces[label][0] for label in result.mesh.labels.tolist()} == {"old"}


@pytest.mark.parametrize("by", [0.3, 1.9])
def test_a_shrunk_box_is_a_smaller_box(by: float, tmp_path: Path) -> None:
    result = compiled(tmp_path, trimesh.creation.box((10, 8, 4)), f"shrink {by}")
    assert said(result) == []
    assert result.figures.box == pytest.approx((10 - 2 * by, 8 - 2 * by, 4 - 2 * by), abs=1e-9)
    assert result.figures.volume == pytest.approx((10 - 2 * by) * (8 - 2 * by) * (4 - 2 * by), rel=1e-9)


@pytest.mark.parametrize(("facts", "radius"), [("grow 0.5", 10.5), ("shrink 0.5", 9.5)])
def test_a_ball_stays_a_ball(facts: str, radius: float, tmp_path: Path) -> None:
    """Every facet of the ball moves; corners of a grown one lie on the larger sphere round each corner."""
    ball = trimesh.creation.icosphere(3, 10.0)
    result = compiled(tmp_path, ball, facts)
    assert said(result) == []
    sound(result)
    away = np.linalg.norm(result.mesh.points - np.array(result.figures.box) / 2, axis=1)
    dip = 10.0 - np.linalg.norm(ball.triangles_center, axis=1).min()
    assert away.max() <= radius + 2e-4
    assert away.min() >= radius - dip - 2e-4


@pytest.mark.parametrize(("facts", "by"), [("grow 0.7", 0.7), ("shrink 0.7", -0.7)])
def test_an_iron_with_a_hole_by_its_distances(facts: str, by: float, tmp_path: Path) -> None:
    """All points of the new surface are as far from the old one as asked; the free side is kept; the tunnel
    stays.
    """
    iron = angle_iron()
    result = compiled(tmp_path, iron, facts)
    assert said(result) == []
    sound(result)
    assert result.figures.genus == 1
    new = trimesh.Trimesh(result.mesh.points, result.mesh.triangles, process=False)
    new.apply_translation(iron.bounds[0] - by - new.bounds[0])
    points = np.concatenate(
        [new.triangles_center, new.vertices, trimesh.sample.sample_surface(new, 2000, seed=7)[0]]
    )
    away = distances(iron, points) * (1 if by > 0 else -1)
    assert away.max() <= by + 5e-4
    assert away.min() >= by - 0.03
    assert np.median(away) == pytest.approx(by, abs=1e-3)
    assert (result.figures.volume - iron.volume) * by > 0


def test_growing_closes_and_shrinking_parts(tmp_path: Path) -> None:
    """A hole narrower than twice the distance closes; a neck thinner than that breaks, which is told."""
    plate = trimesh.creation.annulus(0.4, 8.0, 4.0, sections=24)
    assert compiled(tmp_path, plate, "grow 0.5").figures.genus == 0
    ends = [
        trimesh.creation.box((6, 6, 6), trimesh.transformations.translation_matrix((x, 0, 0)))
        for x in (-6, 6)
    ]
    bell = trimesh.boolean.union([*ends, trimesh.creation.box((10, 1, 1))], engine="manifold")
    assert [one.code for one in compiled(tmp_path, bell, "shrink 0.6").diagnostics] == ["falls-apart"]
    assert compiled(tmp_path, bell, "shrink 0.4").ok


def test_a_grown_blank_is_placed_and_bored_like_any(tmp_path: Path) -> None:
    """Its box is the grown one; written as STL no two points fall together."""
    ball = trimesh.creation.icosphere(2, 10.0)
    text = (
        "block pad\n    against old.right\n    long 5\n"
        "    wide 6\n    thick 6\n    midway old.bottom, old.top\n"
    )
    result = compiled(tmp_path, ball, "grow 1", text.replace("against old.right", "from old.right near -3"))
    assert result.ok, said(result)
    assert len(stl_bytes(result.mesh, "m")) == 84 + 50 * result.figures.triangles
    bored = compiled(tmp_path, ball, "grow 1", "bore eye\n    drill 4.0\n    at 0, 0 from old\n")
    assert said(bored) == []
    assert bored.figures.genus == 1


def test_what_can_not_be_is_answered(tmp_path: Path) -> None:
    box, ball = trimesh.creation.box((10, 10, 4)), trimesh.creation.icosphere(5, 10.0)
    for mesh, facts, code in (
        (box, "shrink 2", "nothing-left"),
        (box, "grow 0", "bad-size"),
        (box, "grow 11", "bad-size"),
        (box, "grow -1", "bad-size"),
        (ball, "grow 0.3", "too-many-facets"),
        (box, "grow 1\n    shrink 1", "said-twice"),
    ):
        found = [one for one in compiled(tmp_path, mesh, facts).diagnostics if one.is_error]
        assert [one.code for one in found] == [code], facts
        assert found[0].span.line in (3, 4, 5)
        assert found[0].advice


def test_moved_once_for_all_and_the_same_bytes(tmp_path: Path) -> None:
    """Two blanks of one file, in either order: the same part to the byte."""
    iron = angle_iron()
    other = 'blank two "old.stl"\n    grow 0.4\n    on old.front\n    at 0, 0 from old\n'
    one = compiled(tmp_path, iron, "grow 0.4", other)
    turned = makegood.compile_text(
        f'recipe "m"\n\n{other}\nblank old "old.stl"\n    grow 0.4\n', "m.mend", folder=tmp_path
    )
    assert one.ok, said(one)
    assert threemf_bytes(one.mesh, one.card, one.title) == threemf_bytes(
        turned.mesh, turned.card, turned.title
    )
