"""Meshes with known answers, built here by hand so that no room of the compiler is needed."""

from __future__ import annotations

import lib3mf
import numpy as np
from makegood.mesh.types import Mesh

BOX_FACES = (
    (0, 2, 3),
    (0, 3, 1),
    (4, 5, 7),
    (4, 7, 6),
    (0, 1, 5),
    (0, 5, 4),
    (2, 6, 7),
    (2, 7, 3),
    (0, 4, 6),
    (0, 6, 2),
    (1, 3, 7),
    (1, 7, 5),
)


def mesh_of(points, triangles) -> Mesh:
    triangles = np.array(triangles, dtype=np.int32)
    return Mesh(np.array(points, dtype=np.float64), triangles, np.full(len(triangles), -1, dtype=np.int32))


def box(x=1.0, y=1.0, z=1.0, at=(0.0, 0.0, 0.0)) -> Mesh:
    corners = [(at[0] + i * x, at[1] + j * y, at[2] + k * z) for k in (0, 1) for j in (0, 1) for i in (0, 1)]
    return mesh_of(corners, BOX_FACES)


def tetrahedron(size=1.0) -> Mesh:
    return mesh_of(
        [(0, 0, 0), (size, 0, 0), (0, size, 0), (0, 0, size)], [(0, 2, 1), (0, 1, 3), (0, 3, 2), (1, 2, 3)]
    )


def ball(rings: int, around: int, radius=10.0, centre=(20.0, 20.0, 20.0)) -> Mesh:
    """A ball of 2 * around * rings triangles: points on `rings` parallels and two poles."""
    slope = np.pi * np.arange(1, rings + 1) / (rings + 1)
    turn = 2.0 * np.pi * np.arange(around) / around
    ring = np.stack(
        [
            np.outer(np.sin(slope), np.cos(turn)),
            np.outer(np.sin(slope), np.sin(turn)),
            np.repeat(np.cos(slope)[:, None], around, axis=1),
        ],
        axis=-1,
    ).reshape(-1, 3)
    points = np.vstack([ring, [(0.0, 0.0, 1.0), (0.0, 0.0, -1.0)]]) * radius + np.array(centre)
    here = np.arange(rings * around).reshape(rings, around)
    after = np.roll(here, -1, axis=1)
    top, bottom = rings * around, rings * around + 1
    a, b, c, d = here[:-1].ravel(), here[1:].ravel(), after[1:].ravel(), after[:-1].ravel()
    caps = [
        np.stack([np.full(around, top), here[0], after[0]], axis=1),
        np.stack([np.full(around, bottom), after[-1], here[-1]], axis=1),
    ]
    return mesh_of(points, np.vstack([np.stack([a, b, c], axis=1), np.stack([a, c, d], axis=1), *caps]))


def read_strictly(data: bytes):
    """The model as lib3mf's strict reader takes it; no warning is let pass."""
    model = lib3mf.get_wrapper().CreateModel()
    reader = model.QueryReader("3mf")
    reader.SetStrictModeActive(True)
    reader.ReadFromBuffer(data)
    assert [reader.GetWarning(i) for i in range(reader.GetWarningCount())] == []
    return model


def arrays_of(model):
    """Points and triangles of the one mesh in a model."""
    objects = model.GetMeshObjects()
    assert objects.Count() == 1
    assert objects.MoveNext()
    held = objects.GetCurrentMeshObject()
    points = np.array([tuple(vertex.Coordinates) for vertex in held.GetVertices()])
    triangles = np.array([tuple(triangle.Indices) for triangle in held.GetTriangleIndices()])
    return held, points, triangles


def fields_of(model) -> dict[str, str]:
    """Metadata: name, with the prefix `card:` before those under the vendor's namespace, to value."""
    group = model.GetMetaDataGroup()
    held = [group.GetMetaData(i) for i in range(group.GetMetaDataCount())]
    return {("card:" if each.GetNameSpace() else "") + each.GetName(): each.GetValue() for each in held}
