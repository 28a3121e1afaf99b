"""Binary STL: sizes and bytes by hand, read back by numpy and by trimesh.

Layout: 80 bytes, uint32 count, 50 bytes a triangle, little-endian; a cube of 12 triangles has 684 bytes.
"""

from __future__ import annotations

import io
import struct

import numpy as np
import pytest
import trimesh
from hypothesis import given
from hypothesis import strategies as st
from makegood.diagnostics.types import Trouble
from makegood.outputs import stl_bytes
from meshes_for_outputs import ball, box, mesh_of, tetrahedron


def read(data: bytes):
    (count,) = struct.unpack_from("<I", data, 80)
    assert len(data) == 84 + 50 * count
    rows = [struct.unpack_from("<12fH", data, 84 + 50 * i) for i in range(count)]
    numbers = np.array([row[:12] for row in rows])
    assert all(row[12] == 0 for row in rows)
    return numbers[:, :3], numbers[:, 3:].reshape(-1, 3, 3)


def test_a_cube_has_684_bytes():
    assert len(stl_bytes(box(), "cube")) == 684


@pytest.mark.parametrize("mesh", [box(30, 20, 4.25, at=(-3.0, 0.1, 7.0)), tetrahedron(), ball(20, 31)])
def test_corners_winding_and_normals_come_back(mesh):
    normals, corners = read(stl_bytes(mesh, "part"))
    assert np.array_equal(corners, mesh.points[mesh.triangles].astype(np.float32))
    across = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
    across /= np.linalg.norm(across, axis=1)[:, None]
    assert np.abs(across - normals).max() < 1e-6
    assert not np.signbit(corners[corners == 0]).any()
    assert not np.signbit(normals[normals == 0]).any()


def test_no_zero_has_a_sign():
    mesh = box(3, 2, 1)
    signed = mesh_of(np.where(mesh.points == 0.0, -0.0, mesh.points), mesh.triangles)
    assert np.signbit(signed.points).any()
    assert stl_bytes(signed, "x") == stl_bytes(mesh, "x")


@pytest.mark.parametrize(("mesh", "volume"), [(box(30, 20, 4.5), 2700.0), (tetrahedron(6.0), 36.0)])
def test_trimesh_reads_a_closed_body_of_the_right_volume(mesh, volume):
    seen = trimesh.load(io.BytesIO(stl_bytes(mesh, "part")), file_type="stl")
    assert seen.is_watertight
    assert seen.is_winding_consistent
    assert seen.volume == pytest.approx(volume, rel=1e-6)


def test_trimesh_reads_the_ball_with_as_many_corners_as_it_has():
    mesh = ball(40, 60)
    seen = trimesh.load(io.BytesIO(stl_bytes(mesh, "ball")), file_type="stl")
    assert seen.is_watertight
    assert len(seen.vertices) == len(mesh.points)
    assert len(seen.faces) == len(mesh.triangles)


@given(st.text(max_size=120))
def test_the_header_is_80_plain_bytes_that_never_begin_with_solid(title):
    for text in (title, "solid " + title):
        data = stl_bytes(tetrahedron(), text)
        header = data[:80]
        assert not header.lstrip().lower().startswith(b"solid")
        assert all(32 <= byte < 127 for byte in header)
        assert len(data) == 84 + 4 * 50


def test_corners_closer_than_a_float_can_tell_are_refused():
    # near 100 mm neighbouring floats lie 7.6e-6 mm apart (2^-17): 1e-6 is too little, 1e-4 enough
    with pytest.raises(Trouble) as caught:
        stl_bytes(box(1e-6, 5, 5, at=(100, 0, 0)), "leaf")
    assert caught.value.code == "too-fine-for-stl"
    assert "100.000" in caught.value.says
    assert len(stl_bytes(box(1e-4, 5, 5, at=(100, 0, 0)), "leaf")) == 684
    assert len(stl_bytes(box(1e-6, 5, 5), "leaf at zero")) == 684


def test_two_boxes_that_share_a_place_but_not_a_corner_are_refused():
    one, two = box(), box(at=(1.0, 1.0, 0.0))
    both = mesh_of(np.vstack([one.points, two.points]), np.vstack([one.triangles, two.triangles + 8]))
    with pytest.raises(Trouble) as caught:
        stl_bytes(both, "pair")
    assert caught.value.code == "too-fine-for-stl"
