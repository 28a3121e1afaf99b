"""Meshes examined and mended: each fault by itself, mixtures of them, and what must be refused."""

from __future__ import annotations

import numpy as np
import pytest
import trimesh
from hypothesis import given
from hypothesis import strategies as st
from makegood.imports.mending import FLAT, WELD, Faults, faults, mend, volume

from .meshes import Floats, Ints, cuboid

POINTS, TRIANGLES = cuboid(4.0, 3.0, 2.0)


def closed_volume(points: Floats, triangles: Ints) -> float:
    """By another library, which must find the mesh closed and wound one way."""
    mesh = trimesh.Trimesh(points, triangles, process=False)
    assert mesh.is_watertight
    assert mesh.is_winding_consistent
    return float(mesh.volume)


def test_a_sound_mesh_has_no_faults_and_is_left_alone() -> None:
    assert faults(POINTS, TRIANGLES) == Faults()
    assert mend(POINTS, TRIANGLES).told() == ""
    assert volume(POINTS, TRIANGLES) == pytest.approx(24.0, rel=1e-12)


def test_solids_that_touch_along_an_edge_are_no_fault() -> None:
    """Four facets meet there, two each way."""
    other = TRIANGLES + 8
    points = np.concatenate([POINTS, POINTS + np.array([4.0, 3.0, 0.0])])
    shared = {13 - 5: 3, 15 - 3: 7}  # the near edge of the second is the far edge of the first
    assert np.array_equal(points[8], points[3])
    assert np.array_equal(points[12], points[7])
    both = np.concatenate([TRIANGLES, np.vectorize(lambda one: shared.get(one, one))(other)])
    assert faults(points, both) == Faults()


def test_each_fault_is_counted() -> None:
    assert faults(POINTS, TRIANGLES[1:]) == Faults(open=3)
    assert faults(POINTS, TRIANGLES[:, ::-1]) == Faults(inside_out=True)
    one_turned = np.concatenate([TRIANGLES[:1, ::-1], TRIANGLES[1:]])
    assert faults(POINTS, one_turned) == Faults(turned=3)
    doubled = np.concatenate([TRIANGLES, TRIANGLES[:1]])
    assert faults(POINTS, doubled) == Faults(crowded=3)
    assert Faults(1, 2, 3).told() == (
        "1 open edge, 2 edges where more than two facets meet, 3 edges where facets face opposite ways"
    )


@given(
    dropped=st.sets(st.integers(0, 11), max_size=2),
    doubled=st.sets(st.integers(0, 11), max_size=3),
    turned=st.sets(st.integers(0, 11), max_size=4),
    cracks=st.lists(st.floats(-0.2 * WELD, 0.2 * WELD), min_size=36, max_size=36),
)
def test_a_block_is_mended_whatever_happened_to_it(
    dropped: set[int], doubled: set[int], turned: set[int], cracks: list[float]
) -> None:
    """Facets lost, doubled and turned, corners a hair apart: it is the block again, to the hair."""
    rows = [TRIANGLES[k, ::-1] if k in turned else TRIANGLES[k] for k in range(12) if k not in dropped]
    rows += [TRIANGLES[k] for k in sorted(doubled - dropped)]
    corners = POINTS[np.array(rows)].reshape(-1, 3)
    corners = corners + np.resize(np.array(cracks), corners.shape)
    mended = mend(corners, np.arange(len(corners)).reshape(-1, 3))
    lost = dropped | (turned & doubled)  # a facet and its double that face each other both go
    adjacent = len({one // 2 for one in lost}) > 1
    left = faults(mended.points, mended.triangles)
    if adjacent and not left.closed:
        # two holes that share a corner or an edge may be no flat ring each: then it is refused, not guessed
        return
    assert left == Faults()
    assert closed_volume(mended.points, mended.triangles) == pytest.approx(24.0, abs=60 * WELD)
    assert mended.filled <= len(lost)


def test_holes_that_are_not_flat_are_left() -> None:
    """A ball without a cap has a flat rim (closed, and the figure says how wide); without a random patch it
    has none.
    """
    ball = trimesh.creation.icosphere(3, 10.0)
    belt = np.abs(ball.triangles_center[:, 2]) < 9.0
    patch = ~((ball.triangles_center[:, 0] > 6.0) & (ball.triangles_center[:, 2] < 5.0))
    assert patch.sum() < len(patch)
    for keep in (belt, patch):
        mended = mend(np.array(ball.vertices), np.array(ball.faces)[keep])
        assert (mended.filled, faults(mended.points, mended.triangles).open > 0) == (0, True)


def test_a_flat_hole_is_closed_and_its_width_told() -> None:
    """A tube of twelve sides open at one end: closed, its volume is the prism's, the hole as wide as its
    box.
    """
    angles = np.arange(12) * np.pi / 6
    ring = np.column_stack([5 * np.cos(angles), 5 * np.sin(angles)])
    points = np.vstack([np.column_stack([ring, np.zeros(12)]), np.column_stack([ring, np.full(12, 8.0)])])
    walls = [
        t for k in range(12) for t in ((k, (k + 1) % 12, 12 + k), ((k + 1) % 12, 12 + (k + 1) % 12, 12 + k))
    ]
    floor = [(0, k + 1, k) for k in range(1, 11)]
    mended = mend(points, np.array(walls + floor))
    assert closed_volume(mended.points, mended.triangles) == pytest.approx(
        0.5 * 12 * 25 * np.sin(np.pi / 6) * 8, rel=1e-9
    )
    assert mended.told() == "1 hole closed (the widest 14.14 mm)"
    # one corner of the rim bent up by more than FLAT: no longer flat
    bent = points.copy()
    bent[15, 2] += 20 * FLAT
    assert mend(bent, np.array(walls + floor)).filled == 0


def test_a_hollow_keeps_its_inside() -> None:
    """A block with a block-shaped hollow: the inner surface faces inwards and stays so, though a facet
    outside is turned.
    """
    inner = POINTS * 0.5 + 0.5
    points = np.concatenate([POINTS, inner])
    outer = np.concatenate([TRIANGLES[:1, ::-1], TRIANGLES[1:]])
    mended = mend(points, np.concatenate([outer, TRIANGLES[:, ::-1] + 8]))
    assert faults(mended.points, mended.triangles) == Faults()
    assert volume(mended.points, mended.triangles) == pytest.approx(24.0 - 3.0, rel=1e-9)
    assert mended.turned == 1
