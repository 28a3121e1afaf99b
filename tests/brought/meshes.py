"""Mesh files made for the tests of this folder."""

from __future__ import annotations

import io
import zipfile
from collections.abc import Sequence

import numpy as np
import numpy.typing as npt

Floats = npt.NDArray[np.float64]
Ints = npt.NDArray[np.int64]
QUADS = [(0, 2, 3, 1), (4, 5, 7, 6), (0, 1, 5, 4), (2, 6, 7, 3), (0, 4, 6, 2), (1, 3, 7, 5)]
CORE = "http://schemas.microsoft.com/3dmanufacturing/core/2015/02"
MODEL = "http://schemas.microsoft.com/3dmanufacturing/2013/01/3dmodel"
RELATIONS = "http://schemas.openxmlformats.org/package/2006/relationships"


def cuboid(x: float, y: float, z: float) -> tuple[Floats, Ints]:
    """Points and triangles of a block from the origin."""
    points = np.array(
        [(i * x, j * y, k * z) for k in (0, 1) for j in (0, 1) for i in (0, 1)], dtype=np.float64
    )
    return points, np.array([t for a, b, c, d in QUADS for t in ((a, b, c), (a, c, d))], dtype=np.int64)


def binary_stl(points: Floats, triangles: Ints) -> bytes:
    """The triangles as binary STL."""
    kind = np.dtype([("normal", "<f4", 3), ("corners", "<f4", (3, 3)), ("spare", "<u2")])
    rows = np.zeros(len(triangles), dtype=kind)
    rows["corners"] = points[triangles]
    return bytes(80) + len(triangles).to_bytes(4, "little") + rows.tobytes()


def text_stl(points: Floats, triangles: Ints) -> str:
    """The triangles as STL written out."""
    facet = "facet normal 0 0 0\nouter loop\n{}endloop\nendfacet\n"
    lines = [
        facet.format("".join("vertex {:g} {:g} {:g}\n".format(*points[i]) for i in row)) for row in triangles
    ]
    return "solid block\n" + "".join(lines) + "endsolid block\n"


def mesh_object(number: int, points: Floats, triangles: Ints) -> str:
    """One object of a 3MF model."""
    rows = "".join(f'<vertex x="{x:g}" y="{y:g}" z="{z:g}"/>' for x, y, z in points)
    faces = "".join(f'<triangle v1="{a}" v2="{b}" v3="{c}"/>' for a, b, c in triangles)
    return (
        f'<object id="{number}" '
        f'type="model"><mesh><vertices>{rows}</vertices><triangles>{faces}</triangles></mesh>'
        "</object>"
    )


def package(model: str, more: Sequence[tuple[str, bytes]] = ()) -> bytes:
    """A 3MF package around the text of a model part."""
    held = io.BytesIO()
    relations = (
        f'<Relationships xmlns="{RELATIONS}"><Relationship Id="a" '
        f'Type="{MODEL}" Target="/3D/a.model"/></Relationships>'
    )
    with zipfile.ZipFile(held, "w", zipfile.ZIP_DEFLATED) as out:
        out.writestr("_rels/.rels", relations)
        out.writestr("3D/a.model", model)
        for name, data in more:
            out.writestr(name, data)
    return held.getvalue()


def threemf(objects: str, items: str, unit: str = "millimeter") -> bytes:
    """A 3MF package of some objects and build items."""
    head = '<?xml version="1.0" encoding="UTF-8"?>\n'
    return package(
        f'{head}<model unit="{unit}" '
        f'xmlns="{CORE}"><resources>{objects}</resources><build>{items}</build></model>'
    )
