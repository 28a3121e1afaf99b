"""Recipes made and measured for the tests of this folder: everything is read off the finished mesh.

Facets err towards less material, never more (a true pin passes every hole), by no more than `chord` mm.  So a
volume may fall short of its closed form by at most curved surface x chord, and may not exceed it."""

from __future__ import annotations

import math
from pathlib import Path

import makegood
import numpy as np
import numpy.typing as npt
import trimesh
from makegood.result import Result

HERE = Path(__file__).resolve().parent
RECIPES = HERE / "recipes"
EXAMPLES = HERE.parents[1] / "examples"
SNAP = 1e-6  # mm: solved places are snapped to this

Floats = npt.NDArray[np.float64]


def made(text: str, chord: float = 0.01) -> Result:
    """The part of a recipe: no error, no hole filled, and it holds together by another library's account."""
    headed = text if 'recipe "' in text else 'recipe "test piece"\n\n' + text
    result = makegood.compile_text(headed, "part.mend", chord=chord)
    assert result.ok, said(result)
    assert not [one for one in result.diagnostics if one.code == "hole-filled"], said(result)
    sound(result)
    return result


def filed(path: Path, chord: float) -> Result:
    """The part of a recipe file: no error, one piece, and it holds together by another library's account."""
    result = makegood.compile_file(path, chord=chord)
    assert result.ok, said(result)
    sound(result)
    assert result.figures.pieces == 1
    return result


def said(result: Result) -> list[str]:
    """Its messages, short."""
    return [f"{one.code} at {one.span.line if one.span else 0}: {one.headline}" for one in result.diagnostics]


def sound(result: Result) -> trimesh.Trimesh:
    """Closed, wound outwards, with the figures that trimesh finds in the same triangles."""
    mesh = trimesh.Trimesh(result.mesh.points, result.mesh.triangles, process=False)
    assert mesh.is_watertight
    assert mesh.is_winding_consistent
    assert mesh.volume > 0
    figures = result.figures
    assert figures.watertight
    assert mesh.volume == np.float64(figures.volume) or math.isclose(
        mesh.volume, figures.volume, rel_tol=1e-9
    )
    assert math.isclose(mesh.area, figures.area, rel_tol=1e-9)
    assert mesh.euler_number == 2 * figures.pieces - 2 * figures.genus
    assert np.allclose(mesh.extents, figures.box, atol=1e-9)
    return mesh


def spot(result: Result, name: str) -> Floats:
    """Where the report says a thing lies in the finished part (3,)."""
    one = next(feature for feature in result.report().features if feature.name == name)
    return np.array([one.x, one.y, one.z])


def faces_of(result: Result, name: str, *details: str) -> npt.NDArray[np.int64]:
    """Indices of the triangles that a statement made (or only those of some of its sides)."""
    kept = [
        label
        for label, (statement, detail) in enumerate(result.part.faces)
        if statement == name and (not details or detail in details)
    ]
    return np.flatnonzero(np.isin(result.mesh.labels, kept))


def corners(result: Result, triangles: npt.NDArray[np.int64]) -> Floats:
    """The corners (n, 3, 3) of some triangles."""
    return result.mesh.points[result.mesh.triangles[triangles]]


def normals(triangles: Floats) -> Floats:
    """Unit normals (n, 3) of triangles (n, 3, 3), slivers left out as zeros."""
    found = np.cross(triangles[:, 1] - triangles[:, 0], triangles[:, 2] - triangles[:, 0])
    size = np.linalg.norm(found, axis=1, keepdims=True)
    return np.divide(found, size, out=np.zeros_like(found), where=size > 1e-12)


def passing(result: Result, name: str, axis: int = 2) -> float:
    """Diameter (mm) of the largest true pin that passes a straight bore: twice the least gap of axis to wall
    facet.
    """
    triangles = corners(result, faces_of(result, name))
    way = normals(triangles)
    walls = np.abs(way[:, axis]) < 1e-6
    at = spot(result, name)
    gaps = np.abs(((triangles[walls].mean(axis=1) - at) * way[walls]).sum(axis=1))
    assert len(gaps) >= 8
    return 2.0 * float(gaps.min())


def widest(result: Result, name: str, axis: int = 2) -> float:
    """Twice the greatest distance (mm) of a corner of the wall of a straight bore from its axis."""
    triangles = corners(result, faces_of(result, name))
    walls = triangles[np.abs(normals(triangles)[:, axis]) < 1e-6]
    away = np.delete(walls - spot(result, name), axis, axis=2)
    return 2.0 * float(np.hypot(away[..., 0], away[..., 1]).max())


def inertia(result: Result) -> tuple[float, Floats, Floats]:
    """Volume, centroid (3,) and the matrix of second moments about the origin, integral of x_i x_j dV (3, 3).

    Summed over the tetrahedra from the origin to each triangle: V = det / 6, integral of x_i x_j = V / 20
    (sum of corners a_i a_j + sum_i sum_j) (textbook formula for a tetrahedron with one corner at the origin).
    """
    a = result.mesh.points[result.mesh.triangles]
    volumes = np.einsum("ij,ij->i", a[:, 0], np.cross(a[:, 1], a[:, 2])) / 6.0
    total = float(volumes.sum())
    centre = (volumes[:, None] * a.sum(axis=1) / 4.0).sum(axis=0) / total
    sums = a.sum(axis=1)
    each = np.einsum("nki,nkj->nij", a, a) + np.einsum("ni,nj->nij", sums, sums)
    return total, centre, (volumes[:, None, None] * each / 20.0).sum(axis=0)


def inside(result: Result, *points: tuple[float, float, float]) -> list[bool]:
    """Which points lie in the material, by trimesh's winding count."""
    mesh = trimesh.Trimesh(result.mesh.points, result.mesh.triangles, process=False)
    return [bool(abs(_winding(mesh, np.array(point))) > 0.5) for point in points]


def _winding(mesh: trimesh.Trimesh, point: Floats) -> float:
    """Solid angle of the surface seen from a point, over 4 pi (van Oosterom and Strackee 1983)."""
    a, b, c = (mesh.triangles[:, k] - point for k in range(3))
    la, lb, lc = (np.linalg.norm(v, axis=1) for v in (a, b, c))
    over = np.einsum("ij,ij->i", a, np.cross(b, c))
    under = la * lb * lc + np.einsum("ij,ij->i", a, b) * lc + np.einsum("ij,ij->i", b, c) * la
    under += np.einsum("ij,ij->i", c, a) * lb
    return float(np.arctan2(over, under).sum() / (2.0 * np.pi))


def falls_short(result: Result, exact: float, curved: float, chord: float = 0.01) -> None:
    """The volume lies within (curved surface x chord) below the exact one, and not above it."""
    slack = 1e-6 * exact + SNAP * result.figures.area
    assert exact - curved * chord - slack <= result.figures.volume <= exact + slack, (
        result.figures.volume,
        exact,
        result.figures.volume - exact,
        curved * chord,
    )
