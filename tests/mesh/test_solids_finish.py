"""The finished mesh: canonical order, same bytes, figures, single precision."""

from __future__ import annotations

import hashlib
import os
import subprocess
import sys
from math import pi

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from makegood.diagnostics.types import Trouble
from makegood.mesh import (
    block,
    canonical,
    finish,
    join,
    measure,
    place,
    prism,
    remove,
    require_single_precision,
    single_precision_safe,
)
from makegood.mesh.tools import peg, round_tool
from makegood.mesh.types import Mesh

from .solid_scenes import plate_with_bores, second_opinion

TURN = np.array([[np.cos(0.3), -np.sin(0.3), 0], [np.sin(0.3), np.cos(0.3), 0], [0, 0, 1.0]])


def hose_guide():
    """A plate with a boss, a cross bore and many drain holes: all kinds of cuts in one part."""
    base = prism(plate_with_bores(7, 7), 0, 4, 10, 11)
    boss = place(peg(14, 1, 12, 0.01, 12), (21, 21, 0), np.eye(3))
    across = place(
        round_tool(5, -40, 40, 0.01, 13), (21, 21, 8), np.array([[0.0, 0, 1], [0, 1, 0], [-1, 0, 0]])
    )
    return place(remove(join([base, boss]), [across]), (3, -2, 1), TURN)


def digest(mesh: Mesh) -> str:
    return hashlib.sha256(
        mesh.points.tobytes() + mesh.triangles.tobytes() + mesh.labels.tobytes()
    ).hexdigest()


def shuffled(mesh: Mesh, seed: int) -> Mesh:
    rng = np.random.default_rng(seed)
    points, rows = rng.permutation(len(mesh.points)), rng.permutation(len(mesh.triangles))
    inverse = np.argsort(points)
    turns = (np.arange(3) + rng.integers(0, 3, (len(rows), 1))) % 3
    corner = np.take_along_axis(inverse[mesh.triangles[rows]], turns, axis=1)
    return Mesh(mesh.points[points], corner.astype(np.int32), mesh.labels[rows])


def test_canonical_order():
    mesh = finish(hose_guide())
    assert mesh.points.dtype == np.float64
    assert mesh.triangles.dtype == mesh.labels.dtype == np.int32
    assert [tuple(p) for p in mesh.points] == sorted(map(tuple, mesh.points.tolist()))
    assert (mesh.triangles[:, 0] == mesh.triangles.min(axis=1)).all()
    rows = [tuple(t) for t in mesh.triangles.tolist()]
    assert rows == sorted(rows)
    assert not np.signbit(mesh.points[mesh.points == 0]).any()
    assert (mesh.labels >= 0).all()


@given(st.integers(0, 2**31))
def test_any_shuffle_comes_back_to_the_same_bytes(seed):
    mesh = finish(hose_guide())
    mixed = shuffled(mesh, seed)
    assert digest(canonical(mixed.points, mixed.triangles, mixed.labels)) == digest(mesh)


@given(st.integers(0, 2**31))
def test_twin_points_keep_their_order_under_any_shuffle(seed):
    """Two boxes that touch along an edge: four points at two places, which must stay apart."""
    mesh = finish(join([block((0, 0, 0), (10, 10, 10), 1), block((10, 10, 0), (20, 20, 10), 2)]))
    assert len(mesh.points) == 16
    mixed = shuffled(mesh, seed)
    assert digest(canonical(mixed.points, mixed.triangles, mixed.labels)) == digest(mesh)
    assert measure(mesh).watertight


def test_twin_points_become_one_where_that_keeps_it_closed():
    mesh = finish(block((0, 0, 0), (1, 1, 1), 1))
    doubled = np.concatenate([mesh.points, mesh.points])
    corner = mesh.triangles.copy()
    corner[::2] += 8
    assert digest(canonical(doubled, corner, mesh.labels)) == digest(mesh)


SCRIPT = """
import os, sys
sys.path.insert(0, sys.argv[1])
if sys.argv[2] == "one" and hasattr(os, "sched_setaffinity"):
    os.sched_setaffinity(0, {min(os.sched_getaffinity(0))})
from mesh.test_solids_finish import digest, finish, hose_guide
print(digest(finish(hose_guide())))
"""


def test_same_bytes_on_every_run_and_any_number_of_threads():
    here = os.path.dirname(os.path.dirname(os.path.abspath(__file__)))
    expected = digest(finish(hose_guide()))
    for seed, threads in (("1", "one"), ("2", "all")):
        run = subprocess.run(
            [sys.executable, "-c", SCRIPT, here, threads],
            capture_output=True,
            text=True,
            check=True,
            env={**os.environ, "PYTHONHASHSEED": seed},
        )
        assert run.stdout.strip() == expected


def test_figures_agree_with_an_independent_library():
    mesh = finish(hose_guide())
    figures, other = measure(mesh), second_opinion(mesh)
    assert figures.volume == pytest.approx(other.volume, rel=1e-12)
    assert figures.area == pytest.approx(other.area, rel=1e-12)
    np.testing.assert_allclose([figures.low, figures.high], other.bounds, rtol=0, atol=0)
    assert figures.pieces == other.body_count == 1
    assert 2 * (figures.pieces - figures.genus) == other.euler_number
    assert figures.triangles == len(other.faces)


def test_figures_of_a_box():
    figures = measure(finish(block((-1, 2, 3), (4, 8, 10), 1)))
    assert figures.box == (5.0, 6.0, 7.0)
    assert (figures.volume, figures.area) == (210.0, 2 * (30 + 35 + 42))
    assert (figures.watertight, figures.pieces, figures.genus, figures.triangles) == (True, 1, 0, 12)


def test_volume_holds_far_from_the_origin():
    far = place(peg(10, 0, 10, 0.001, 1), (4096.0, -8192.0, 2048.0), np.eye(3))
    assert measure(finish(far)).volume == pytest.approx(pi * 250, rel=5e-4)
    assert measure(finish(far)).volume == pytest.approx(
        measure(finish(peg(10, 0, 10, 0.001, 1))).volume, rel=1e-9
    )


@pytest.mark.parametrize("spoil", ["missing", "turned", "twice"])
def test_open_or_turned_faces_are_not_watertight(spoil):
    mesh = finish(block((0, 0, 0), (1, 1, 1), 1))
    corner = mesh.triangles.copy()
    if spoil == "missing":
        corner = corner[1:]
    elif spoil == "turned":
        corner[3] = corner[3][[0, 2, 1]]
    else:
        corner = np.concatenate([corner, corner])
    assert not measure(Mesh(mesh.points, corner, mesh.labels)).watertight


def test_many_pieces_are_counted():
    solids = [block((3 * i, 3 * j, 0), (3 * i + 2, 3 * j + 2, 1), 1) for i in range(9) for j in range(7)]
    assert measure(finish(join(solids))).pieces == 63


def test_ordinary_parts_are_fit_for_stl():
    mesh = finish(hose_guide())
    assert single_precision_safe(mesh)
    require_single_precision(mesh)


@pytest.mark.parametrize("gap", [0.0, 1e-7])
def test_parts_that_all_but_touch_are_too_fine_for_stl(gap):
    far = 10.0 + gap
    mesh = finish(join([block((0, 0, 0), (10, 10, 10), 1), block((far, 10 + gap, 0), (20, 20, 10), 2)]))
    assert measure(mesh).watertight
    assert not single_precision_safe(mesh)
    with pytest.raises(Trouble) as caught:
        require_single_precision(mesh)
    assert caught.value.code == "too-fine-for-stl"
