"""Visible and hidden edges, against a count by rays and against solids whose edges are known."""

from __future__ import annotations

import os
from pathlib import Path

import makegood
import numpy as np
import pytest
from makegood.outputs.paper.edges import Edges
from makegood.outputs.paper.projection import SIDES
from makegood.outputs.paper.views import View

from .reading import EXAMPLES, RECIPES

SLANTED = View((0.8, 0.0, -0.6), (-0.36, 0.8, -0.48), (0.48, 0.6, 0.64))


def _length(text: str, view: View, hidden: bool) -> float:
    mesh = makegood.compile_text('recipe "r"\n\n' + text).mesh
    assert mesh is not None
    found = 0.0
    for wire in Edges(mesh).wires(view):
        points = np.array([*wire.points, *(wire.points[:1] if wire.closed else ())])
        if wire.hidden == hidden:
            found += float(np.hypot(*np.diff(points, axis=0).T).sum())
    return found


MOST_ASKED = (
    1000 if os.environ.get("MAKEGOOD_LONG") == "1" else 100
)  # strokes of a view, spread over all of them
FINE = 5_000  # triangles: more only where there are threads, grips or letters
BLOCK = "block b\n    long 20.0\n    wide 10.0\n    thick 4.0\n"


def test_a_block_shows_four_edges_from_the_front_and_hides_none():
    front = SIDES["front"][0]
    assert _length(BLOCK, front, False) == pytest.approx(60.0, abs=1e-6)
    assert _length(BLOCK, front, True) == 0.0


def test_a_block_seen_askew_shows_nine_edges_and_hides_three():
    """The three edges that meet in the far corner are hidden: of each of the lengths 20, 10 and 4 one edge in
    four.
    """
    axes = np.array([SLANTED.right, SLANTED.up])
    seen = [20 * np.hypot(*axes[:, 0]), 10 * np.hypot(*axes[:, 1]), 4 * np.hypot(*axes[:, 2])]
    assert _length(BLOCK, SLANTED, False) == pytest.approx(3 * sum(seen), abs=2e-3)
    assert _length(BLOCK, SLANTED, True) == pytest.approx(sum(seen), abs=2e-3)


def test_a_bore_is_a_round_from_the_front_and_two_hidden_lines_from_the_side():
    bored = BLOCK + "\nbore h\n    across 6.0\n    around b\n"
    assert _length(bored, SIDES["front"][0], False) == pytest.approx(60.0 + 6 * np.pi, rel=2e-3)
    assert _length(bored, SIDES["right"][0], True) == pytest.approx(8.0, abs=1e-6)
    assert _length(bored, SIDES["bottom"][0], False) == pytest.approx(48.0, abs=1e-6)


def test_a_blind_bore_hides_its_ground_too():
    blind = BLOCK + "\nbore h\n    across 6.0\n    around b\n    deep 1.5 from front\n"
    # two walls of 1.5 and the ground of 6 mm (and the facets' share of it)
    assert _length(blind, SIDES["right"][0], True) == pytest.approx(2 * 1.5 + 6.0, abs=0.05)
    assert _length(blind, SIDES["back"][0], True) == pytest.approx(6 * np.pi, rel=5e-3)


@pytest.mark.parametrize("path", [*EXAMPLES, *RECIPES], ids=lambda path: path.stem)
def test_rays_towards_the_eye_agree(path: Path):
    """From the middle of a stroke a ray towards the eye meets the part if and only if the stroke is
    hidden.
    """
    mesh = makegood.compile_file(path).mesh
    assert mesh is not None
    asked, wrong = 0, []
    for view in (SIDES["front"][0], SIDES["right"][0], SIDES["bottom"][0], SLANTED):
        flat, depth = view.flat(mesh.points), view.depth(mesh.points)
        edges = Edges(mesh)
        strokes = [
            (wire, a, b)
            for wire in edges.wires(view)
            for a, b in zip(wire.points, wire.points[1:], strict=False)
            if np.hypot(b[0] - a[0], b[1] - a[1]) >= 0.05
        ]
        for wire, a, b in strokes[:: max(1, len(strokes) // MOST_ASKED)]:
            own = _own_heights(edges, flat, depth, a, b)
            if not own:
                continue
            asked += 1
            covered = [_covered(flat, depth, mesh.triangles, a, b, height) for height in own]
            wrong += [] if all(covered) == wire.hidden else [(wire.hidden, a, b, own)]
    assert asked > 50
    # where ridges fade out a hundredth of a mm apart, a stroke and its ray may fall on different sides of an
    # edge
    assert len(wrong) <= (0.02 * asked if len(mesh.triangles) > FINE else 0), wrong[:3]


def _covered(
    flat: np.ndarray, depth: np.ndarray, triangles: np.ndarray, a: tuple, b: tuple, height: float
) -> bool:
    """True where something lies nearer to the eye than `height` on both sides of the middle of a stroke.

    A hair to either side, because a ray straight through it may run along the sides of triangles and meet
    none."""
    long = np.hypot(b[0] - a[0], b[1] - a[1])
    side = np.array([-(b[1] - a[1]), b[0] - a[0]]) / long
    middle = 0.5001 * np.array(a) + 0.4999 * np.array(b)
    return all(
        (_met(flat, depth, triangles, middle + hair * side) > height + 0.005).any() for hair in (3e-4, -3e-4)
    )


def _met(flat: np.ndarray, depth: np.ndarray, triangles: np.ndarray, at: np.ndarray) -> np.ndarray:
    """Depths at which the line of sight through a point meets triangles."""
    a, b, c = (flat[triangles[:, k]] for k in range(3))
    area = (b - a)[:, 0] * (c - a)[:, 1] - (b - a)[:, 1] * (c - a)[:, 0]
    kept = np.abs(area) > 1e-9
    a, b, c, area, corner = a[kept], b[kept], c[kept], area[kept], triangles[kept]
    two = ((at - a)[:, 0] * (c - a)[:, 1] - (at - a)[:, 1] * (c - a)[:, 0]) / area
    three = ((b - a)[:, 0] * (at - a)[:, 1] - (b - a)[:, 1] * (at - a)[:, 0]) / area
    inside = np.minimum(np.minimum(two, three), 1 - two - three) > 0
    heights = depth[corner[:, 0]] + two * (depth[corner[:, 1]] - depth[corner[:, 0]])
    return (heights + three * (depth[corner[:, 2]] - depth[corner[:, 0]]))[inside]


def _own_heights(edges: Edges, flat: np.ndarray, depth: np.ndarray, a: tuple, b: tuple) -> list[float]:
    """Depths of all edges of the mesh that lie under the middle of a stroke, along it."""
    at = (np.array(a) + np.array(b)) / 2
    start, end = flat[edges.ends[:, 0]], flat[edges.ends[:, 1]]
    way = end - start
    size = np.maximum(np.hypot(*way.T), 1e-12)
    away = np.abs(way[:, 0] * (at - start)[:, 1] - way[:, 1] * (at - start)[:, 0]) / size
    along = ((at - start) * way).sum(axis=1) / size**2
    straight = (
        np.abs(way[:, 0] * (b[1] - a[1]) - way[:, 1] * (b[0] - a[0]))
        / size
        / np.hypot(b[0] - a[0], b[1] - a[1])
    )
    on = (away < 1e-4) & (along > 0) & (along < 1) & (straight < 1e-3) & edges.crease
    first, last = depth[edges.ends[on, 0]], depth[edges.ends[on, 1]]
    return (first + along[on] * (last - first)).tolist()
