"""Meshes that came broken: whatever was done to them, a closed solid or an answer with its line and what
would do.

Never a traceback, never a part that another library would not call closed."""

from __future__ import annotations

import io
import tracemalloc
import zipfile
from collections.abc import Callable
from pathlib import Path
from random import Random

import makegood
import numpy as np
import pytest
import trimesh
from hypothesis import example, given
from hypothesis import strategies as st
from makegood.outputs import threemf_bytes
from makegood.result import Result

from .meshes import (
    CORE,
    MODEL,
    RELATIONS,
    Floats,
    Ints,
    binary_stl,
    cuboid,
    mesh_object,
    package,
    text_stl,
    threemf,
)

WORK = (
    "",
    "    repair\n",
    "    unit in\n",
    "    repair\n    grow 0.4\n",
    "    shrink 0.2\n",
    "    turned 33\n",
    "    lies on left\n",
)
THEN = (
    "",
    "\nbore eye\n    drill 2.0\n    at 0, 0 from old\n",
    (
        "\npoint here\n    at 0, 0 from old\n\nthicken pad\n"
        "    on old.front\n    collar here to 3 overall\n    by 1\n    ramp 1\n"
    ),
    (
        "\npoint here\n    at 0, 0 from old\n\nrelieve dip\n"
        "    on old\n    collar here to 3 overall\n    by 0.3\n"
    ),
    (
        "\nthicken pad\n    on old.back\n    inside spot\n    to 9 overall\n"
        "\nround spot\n    across 4.0\n    at 0, 0 from old\n"
    ),
)


def bodies() -> list[tuple[Floats, Ints]]:
    """A block, a ball, a ring, two blocks that overlap, a block that crosses itself."""
    ball, ring = (
        trimesh.creation.icosphere(1, 4.0),
        trimesh.creation.torus(5.0, 1.5, major_sections=8, minor_sections=6),
    )
    points, triangles = cuboid(8.0, 6.0, 4.0)
    twice = np.concatenate([points, points + 2.5]), np.concatenate([triangles, triangles + 8])
    crossed = points.copy()
    crossed[7] = (-3.0, -4.0, -2.0)
    found = [(np.array(one.vertices), np.array(one.faces, dtype=np.int64)) for one in (ball, ring)]
    return [(points, triangles), *found, twice, (crossed, triangles)]


BODIES = bodies()


def _holes(rnd: Random, rows: Floats) -> Floats:
    return np.delete(rows, rnd.sample(range(len(rows)), rnd.randint(1, min(4, len(rows) - 1))), axis=0)


def _turned(rnd: Random, rows: Floats) -> Floats:
    some = rnd.sample(range(len(rows)), rnd.randint(1, len(rows)))
    rows[some] = rows[some][:, ::-1]
    return rows


def _doubled(rnd: Random, rows: Floats) -> Floats:
    return np.concatenate([rows, rows[rnd.sample(range(len(rows)), rnd.randint(1, min(5, len(rows))))]])


def _flattened(rnd: Random, rows: Floats) -> Floats:
    """Facets without area: two corners in one, or three in a row."""
    one = rnd.randrange(len(rows))
    line = np.array([rows[one, 0], rows[one, 1], 0.5 * (rows[one, 0] + rows[one, 1])])
    return np.concatenate([rows, [rows[one][[0, 0, 1]]], [line]])


def _fin(rnd: Random, rows: Floats) -> Floats:
    """A third facet on an edge."""
    one = rnd.randrange(len(rows))
    return np.concatenate([rows, [[rows[one, 0], rows[one, 1], rows[one, 2] + 3.0]]])


def _shaken(rnd: Random, rows: Floats) -> Floats:
    size = rnd.choice((1e-6, 1e-3, 0.02, 1.0))
    return rows + np.array([rnd.uniform(-size, size) for _ in range(rows.size)]).reshape(rows.shape)


def _wrong_number(rnd: Random, rows: Floats) -> Floats:
    rows[rnd.randrange(len(rows)), rnd.randrange(3), rnd.randrange(3)] = rnd.choice(
        (np.nan, np.inf, -np.inf, 1e30, 3e38, 1e-40, -0.0, 9.9e6)
    )
    return rows


def _sized(rnd: Random, rows: Floats) -> Floats:
    return rows * rnd.choice((1e-30, 1e-5, 1e-3, 1 / 25.4, 0.1, 10.0, 1e4, 1e30))


def _pulled(rnd: Random, rows: Floats) -> Floats:
    """One corner, wherever it is used, pulled through the body: closed, but it crosses itself."""
    rows = rows.copy()
    at = rows[rnd.randrange(len(rows)), 0].copy()
    rows[(rows == at).all(axis=2)] = at - np.array([rnd.uniform(-20, 20) for _ in range(3)])
    return rows


def _squashed(rnd: Random, rows: Floats) -> Floats:
    rows[:, :, rnd.randrange(3)] *= rnd.choice((0.0, 1e-9, 1e-4))
    return rows


DAMAGE: tuple[Callable[[Random, Floats], Floats], ...] = (
    _holes,
    _turned,
    _doubled,
    _flattened,
    _fin,
    _shaken,
    _wrong_number,
    _sized,
    _pulled,
    _squashed,
)


def _written(rnd: Random, rows: Floats) -> tuple[str, bytes]:
    """The facets as one of the forms a mesh is kept in."""
    points, triangles = rows.reshape(-1, 3), np.arange(3 * len(rows)).reshape(-1, 3)
    with np.errstate(over="ignore", invalid="ignore"):
        kind = rnd.randrange(3)
        if kind == 0:
            return "old.stl", binary_stl(points, triangles)
        if kind == 1:
            return "old.stl", text_stl(points, triangles).encode()
        return "old.3mf", threemf(mesh_object(1, points, triangles), '<item objectid="1"/>')


def compiled(folder: Path, name: str, data: bytes, facts: str = "", more: str = "") -> Result:
    (folder / name).write_bytes(data)
    return makegood.compile_text(f'recipe "a"\n\nblank old "{name}"\n{facts}{more}', "a.mend", folder=folder)


def sound_or_answered(result: Result) -> None:
    """A closed solid of some volume, by another library too, that can be written; or errors with their
    lines.
    """
    errors = [one for one in result.diagnostics if one.is_error]
    if not errors:
        mesh = trimesh.Trimesh(result.mesh.points, result.mesh.triangles, process=False)
        assert mesh.is_watertight
        assert mesh.is_winding_consistent
        assert result.figures.watertight
        assert result.figures.volume > 0
        assert np.isfinite(result.mesh.points).all()
        assert threemf_bytes(result.mesh, result.card, result.title)
        return
    assert result.part is None or not result.ok
    for one in errors:
        assert one.span is not None, one
        assert one.span.line >= 3
        assert one.headline
        assert "Traceback" not in one.headline


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return tmp_path_factory.mktemp("broken")


@example(seed=342)  # nothing is left of it
@example(seed=268435456)  # turned partly inside out
@given(seed=st.integers(0, 2**32))
def test_a_damaged_mesh_is_sound_or_answered(folder: Path, seed: int) -> None:
    rnd = Random(seed)
    points, triangles = rnd.choice(BODIES)
    rows = points[triangles].copy()
    with np.errstate(all="ignore"):
        for damage in rnd.sample(DAMAGE, rnd.randint(0, 3)):
            rows = damage(rnd, rows)
    result = compiled(folder, *_written(rnd, rows), rnd.choice(WORK), rnd.choice(THEN))
    sound_or_answered(result)


@given(seed=st.integers(0, 2**32))
def test_bytes_changed_anywhere_are_sound_or_answered(folder: Path, seed: int) -> None:
    """Cut short, bytes overwritten, doubled, put in: of a binary or text STL, and of a package."""
    rnd = Random(seed)
    points, triangles = rnd.choice(BODIES)
    name, data = _written(rnd, points[triangles].copy())
    held = bytearray(data)
    for _ in range(rnd.randint(1, 4)):
        at, size = rnd.randrange(len(held) + 1), rnd.randint(1, 60)
        what = rnd.randrange(4)
        junk = bytes(rnd.choice((0, 255, 10, 32, 45, 46, 60, 101, rnd.randrange(256))) for _ in range(size))
        held[at : at + (size if what else 0)] = junk if what < 2 else held[:size] if what == 2 else b""
        if rnd.random() < 0.2:
            del held[rnd.randrange(len(held) + 1) :]
    sound_or_answered(compiled(folder, name, bytes(held), rnd.choice(WORK[:2])))


@pytest.mark.parametrize("count", [10_000_000, 85_000_000, 2**32 - 1])
def test_a_header_that_promises_too_much_costs_nothing(folder: Path, count: int) -> None:
    data = bytearray(binary_stl(*cuboid(4.0, 3.0, 2.0)))
    data[80:84] = count.to_bytes(4, "little")
    tracemalloc.start()
    result = compiled(folder, "old.stl", bytes(data))
    assert tracemalloc.get_traced_memory()[1] < 5_000_000
    tracemalloc.stop()
    assert [one.code for one in result.diagnostics] == ["mesh-unread"]
    assert f"{count} facets" in result.diagnostics[0].headline


def _zipped(*files: tuple[str, bytes | str]) -> bytes:
    held = io.BytesIO()
    with zipfile.ZipFile(held, "w", zipfile.ZIP_DEFLATED) as out:
        for name, data in files:
            out.writestr(name, data)
    return held.getvalue()


def _relations(target: str) -> str:
    return (
        f'<Relationships xmlns="{RELATIONS}"><Relationship Id="a" '
        f'Type="{MODEL}" Target="{target}"/></Relationships>'
    )


GOOD = mesh_object(1, *cuboid(4.0, 3.0, 2.0))
ENTITIES = "".join(f'<!ENTITY e{k} "{f"&e{k - 1};" * 10}">' for k in range(1, 12))
HOSTILE = {
    "empty": b"",
    "nothing but a header": bytes(84),
    "text without an end": b"solid a\n" + b"facet normal 0 0 0\n" * 3,
    "one line without an end": b"solid " + b"vertex 1 1 1 " * 200_000,
    "numbers too long": b"solid\nfacet\nvertex " + b"9" * 100_000 + b" 0 0\nendsolid\n",
    "words for numbers": b"solid\nfacet\nvertex nan inf -inf\nvertex 0 0 0\nvertex 1 1 1\nendsolid\n",
    "cut package": threemf(GOOD, '<item objectid="1"/>')[:-40],
    "a package in a package": _zipped(
        ("_rels/.rels", _relations("/3D/a.model")), ("3D/a.model", _zipped(("a", "b")))
    ),
    "a path that leaves it": _zipped(
        ("_rels/.rels", _relations("/../../../etc/passwd")), ("../../../etc/passwd", "root")
    ),
    "a path outside": _zipped(("_rels/.rels", _relations("file:///etc/hostname")), ("a", "b")),
    "entities in entities": package(
        f'<!DOCTYPE m [<!ENTITY e0 "ha">{ENTITIES}]><model xmlns="{CORE}">&e11;</model>'
    ),
    "an entity from a file": package(
        f'<!DOCTYPE m [<!ENTITY x SYSTEM "file:///x">]><model xmlns="{CORE}">&x;</model>'
    ),
    "a bomb of relations": _zipped(("_rels/.rels", " " * 120_000_000)),
    "elements without end": package(f'<model xmlns="{CORE}">' + "<a>" * 50_000),
    "an attribute without end": package(f'<model xmlns="{CORE}" a="' + "x" * 5_000_000 + '"/>'),
    "many files": _zipped(*((f"f{k}", "") for k in range(2_500))),
    "the same name twice": _zipped(("_rels/.rels", _relations("/a")), ("a", "<x/>"), ("A", "<y/>")),
}


@pytest.mark.filterwarnings("ignore:Duplicate name")
@pytest.mark.parametrize("what", sorted(HOSTILE))
@pytest.mark.parametrize("name", ["old.stl", "old.3mf"])
def test_a_hostile_file_is_answered_in_little_memory(folder: Path, what: str, name: str) -> None:
    (folder / name).write_bytes(HOSTILE[what])
    tracemalloc.start()
    result = makegood.compile_text(f'recipe "a"\n\nblank old "{name}"\n    repair\n', "a.mend", folder=folder)
    assert tracemalloc.get_traced_memory()[1] < 40_000_000
    tracemalloc.stop()
    assert next(one.code for one in result.diagnostics if one.is_error) in ("mesh-unread", "file-too-big")
    sound_or_answered(result)
    assert result.diagnostics[0].advice


def test_many_facets_that_form_no_body_are_answered(folder: Path) -> None:
    """Sixty thousand facets at random: every edge is open; mending them ends, with an answer."""
    rows = np.random.default_rng(5).uniform(0.0, 50.0, (60_000, 3, 3))
    data = binary_stl(rows.reshape(-1, 3), np.arange(180_000).reshape(-1, 3))
    for facts in ("", "    repair\n"):
        result = compiled(folder, "old.stl", data, facts)
        assert [one.code for one in result.diagnostics] == ["mesh-not-closed"]
