"""Mesh files read: what another library wrote, both kinds of STL, units and places of 3MF; and files meant to
do harm.
"""

from __future__ import annotations

import ctypes
import tracemalloc
from pathlib import Path

import lib3mf
import numpy as np
import pytest
import trimesh
from makegood.diagnostics import Trouble
from makegood.source.mesh_reading import read_mesh
from makegood.source.meshes import MOST_TRIANGLES, RawMesh, read_stl
from makegood.source.threemf_in import read_threemf

from .meshes import CORE, binary_stl, cuboid, mesh_object, package, text_stl, threemf

BLOCK = cuboid(4.0, 3.0, 2.0)


def volume(raw: RawMesh) -> float:
    return float(trimesh.Trimesh(raw.points, raw.triangles, process=False).volume)


def code_of(data: bytes, name: str) -> str:
    with pytest.raises(Trouble) as caught:
        read_threemf(data, name) if name.endswith(".3mf") else read_stl(data, name)
    assert name in caught.value.says
    return caught.value.code


@pytest.mark.parametrize(
    "data", [binary_stl(*BLOCK), text_stl(*BLOCK).encode(), b"solid" + binary_stl(*BLOCK)[5:]]
)
def test_both_kinds_of_stl_give_the_same_block(data: bytes) -> None:
    raw = read_stl(data, "block.stl")
    assert (len(raw.points), len(raw.triangles), raw.unit) == (8, 12, None)
    assert volume(raw) == pytest.approx(24.0, rel=1e-12)


@pytest.mark.parametrize("form", ["stl", "stl_ascii"])
def test_what_another_library_wrote_is_read(form: str, tmp_path: Path) -> None:
    ball = trimesh.creation.icosphere(3, 7.0)
    path = tmp_path / "ball.stl"
    ball.export(path, file_type=form)
    raw = read_mesh(path)
    assert (len(raw.points), len(raw.triangles)) == (len(ball.vertices), len(ball.faces))
    assert volume(raw) == pytest.approx(ball.volume, rel=1e-5)


def test_a_package_that_lib3mf_wrote_is_read(tmp_path: Path) -> None:
    wrapper = lib3mf.Wrapper()
    model = wrapper.CreateModel()
    thing = model.AddMeshObject()
    points, triangles = BLOCK
    corners = [lib3mf.Position((ctypes.c_float * 3)(*map(float, one))) for one in points]
    faces = [lib3mf.Triangle((ctypes.c_uint32 * 3)(*map(int, one))) for one in triangles]
    thing.SetGeometry(corners, faces)
    model.AddBuildItem(thing, wrapper.GetTranslationTransform(5.0, 0.0, 0.0))
    model.QueryWriter("3mf").WriteToFile(str(tmp_path / "block.3mf"))
    raw = read_mesh(tmp_path / "block.3mf")
    assert raw.unit == 1.0
    assert volume(raw) == pytest.approx(24.0, rel=1e-9)
    assert raw.points.min(axis=0).tolist() == [5.0, 0.0, 0.0]


@pytest.mark.parametrize(
    ("unit", "mm"), [("millimeter", 1.0), ("inch", 25.4), ("centimeter", 10.0), ("meter", 1000.0)]
)
def test_the_unit_of_a_package_is_known(unit: str, mm: float) -> None:
    raw = read_threemf(threemf(mesh_object(1, *BLOCK), '<item objectid="1"/>', unit), "block.3mf")
    assert raw.unit == mm


def test_objects_are_put_where_the_build_puts_them() -> None:
    """Two blocks through one component object, one of them turned a quarter and mirrored: volumes add, none
    is inside out.
    """
    put = (
        '<object id="2"><components><component objectid="1"/>'
        '<component objectid="1" transform="0 1 0 1 0 0 0 0 1 10 0 0"/></components></object>'
    )
    raised = '<item objectid="2" transform="1 0 0 0 1 0 0 0 1 0 0 7"/>'
    raw = read_threemf(threemf(mesh_object(1, *BLOCK) + put, raised), "two.3mf")
    assert volume(raw) == pytest.approx(48.0, rel=1e-12)
    assert raw.points.min(axis=0).tolist() == [0.0, 0.0, 7.0]
    assert raw.points.max(axis=0).tolist() == [13.0, 4.0, 9.0]


def test_what_is_no_mesh_is_answered() -> None:
    good = binary_stl(*BLOCK)
    holed = np.where(np.arange(len(BLOCK[0]))[:, None] == 3, np.nan, BLOCK[0])
    for data in (
        b"",
        b"\0" * 84,
        good[:-50],
        good + b"x",
        b"solid\nfacet\nvertex 1 2\n",
        text_stl(*BLOCK)[:-30].encode(),
        text_stl(*BLOCK).replace("vertex 4", "vertex four", 1).encode(),
        binary_stl(holed, BLOCK[1]),
        text_stl(*BLOCK).replace("endsolid", "facet\nendsolid", 1).encode(),
    ):
        assert code_of(data, "bad.stl") == "mesh-unread"


@pytest.mark.parametrize(
    ("objects", "items"),
    [
        ("", '<item objectid="7"/>'),
        (mesh_object(1, *BLOCK).replace('v1="0"', 'v1="99"', 1), '<item objectid="1"/>'),
        (mesh_object(1, *BLOCK).replace('v1="0"', 'v1="-1"', 1), '<item objectid="1"/>'),
        (mesh_object(1, *BLOCK).replace('x="4"', 'x="inf"', 1), '<item objectid="1"/>'),
        (mesh_object(1, *BLOCK).replace('x="4"', 'x="wide"', 1), '<item objectid="1"/>'),
        (mesh_object(1, *BLOCK), '<item objectid="1" transform="1 0 0"/>'),
        (mesh_object(1, *BLOCK), ""),
        (
            '<object id="1"><components><component objectid="1"/></components></object>',
            '<item objectid="1"/>',
        ),
        (
            '<object id="1"><components><component objectid="2" path="/b"/></components></object>',
            '<item objectid="1"/>',
        ),
        ("<object", ""),
    ],
)
def test_a_wrong_package_is_answered(objects: str, items: str) -> None:
    assert code_of(threemf(objects, items), "bad.3mf") == "mesh-unread"


def test_a_package_that_is_none_is_answered() -> None:
    good = threemf(mesh_object(1, *BLOCK), '<item objectid="1"/>')
    broken = bytearray(good)
    broken[60:70] = b"\xff" * 10
    for data in (b"", b"PK\3\4", good[:200], bytes(broken), package("")):
        assert code_of(data, "bad.3mf") == "mesh-unread"


def test_what_would_burst_is_refused_in_little_memory() -> None:
    """Doubling objects, entities, a bomb of zeros and a claim of four thousand million facets."""
    twice = (
        '<object id="{}"><components><component '
        'objectid="{}"/><component objectid="{}"/></components></object>'
    )
    doubling = mesh_object(1, *BLOCK) + "".join(twice.format(n, n - 1, n - 1) for n in range(2, 40))
    entities = f'<!DOCTYPE m [<!ENTITY a "aaaa"><!ENTITY b "&a;&a;">]><model xmlns="{CORE}">&b;</model>'
    many = "<a/>" * 2_200_000
    assert code_of(threemf(doubling, '<item objectid="39"/>'), "a.3mf") == "mesh-unread"
    assert code_of(package(entities), "b.3mf") == "mesh-unread"
    assert code_of(package(f'<model xmlns="{CORE}">{" " * 120_000_000}</model>'), "c.3mf") == "file-too-big"
    assert code_of(package(f'<model xmlns="{CORE}">{many}</model>'), "d.3mf") == "file-too-big"
    tracemalloc.start()
    assert code_of(bytes(80) + b"\xff\xff\xff\xff", "e.stl") == "mesh-unread"
    assert tracemalloc.get_traced_memory()[1] < 1_000_000
    tracemalloc.stop()


def test_more_facets_than_a_part_is_made_of_are_refused(tmp_path: Path) -> None:
    path = tmp_path / "many.stl"
    path.write_bytes(
        bytes(80) + (MOST_TRIANGLES + 1).to_bytes(4, "little") + bytes(50 * (MOST_TRIANGLES + 1))
    )
    with pytest.raises(Trouble, match="more than 500000 facets"):
        read_mesh(path)
    with pytest.raises(Trouble) as caught:
        read_mesh(tmp_path / "none.stl")
    assert caught.value.code == "no-such-file"
