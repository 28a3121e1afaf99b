"""Outlines for the tests of solids, and the rulers they are checked with.  Nothing here is taken from the
package.
"""

from __future__ import annotations

from math import cos, pi, sin

import numpy as np
import trimesh
from makegood.mesh import Mesh
from makegood.outlines.types import Region, Ring

# Textbook closed forms (volumes of standard solids, mm3; 'rounded rect' an area in mm2), worked out by hand
# from V = pi r^2 h, pi h (R^2 + R r + r^2) / 3, pi h^2 (3 r - h) / 3, 2 pi^2 R r^2, sqrt(3) / 2 s^2 h, (w c +
# pi w^2 / 4) t, a b - (4 - pi) r^2, 16 / 3 r^3, and the area of the inscribed polygon, n / 2 r^2 sin(2 pi /
# n).
CYLINDER_R5_H10 = 785.3981633974482
FRUSTUM_6_4_10 = 795.8701389094143
CAP_R10_H3 = 254.46900494077326
TORUS_20_3 = 3553.0575843921692
HEX_PRISM_S8_H4 = 221.70250336881628
SLOT_C12_W4_T3 = 181.6991118430775
ROUNDED_RECT_30X20_R4 = 586.2654824574367
STEINMETZ_R5 = 666.6666666666666
NGON_CYLINDER_R5_H10_N64 = 784.1371226364847


def ring(points, labels=0) -> Ring:
    array = np.array(points, dtype=np.float64)
    return Ring(array, np.broadcast_to(np.asarray(labels, dtype=np.int32), (len(array),)).copy())


def rectangle(wide, high, labels=(1, 2, 3, 4), x=0.0, y=0.0) -> Ring:
    return ring([(x, y), (x + wide, y), (x + wide, y + high), (x, y + high)], labels)


def circle(x, y, radius, n, label=5, hole=False, start=0.0) -> Ring:
    angles = start + np.arange(n) * 2 * pi / n * (-1 if hole else 1)
    return ring(np.column_stack([x + radius * np.cos(angles), y + radius * np.sin(angles)]), label)


def arcs(centres, radius, n, label=6) -> Ring:
    """An outline of arcs about `centres`, each from its first angle to its second, n steps each."""
    points = []
    for x, y, first, second in centres:
        for k in range(n + 1):
            a = first + (second - first) * k / n
            points.append((x + radius * cos(a), y + radius * sin(a)))
    return ring(points, label)


def plate_with_bores(rows, columns, pitch=6.0, radius=2.5, n=12, label=7, drift=None) -> Region:
    holes = [
        circle(
            pitch * (i + 0.5) + (0.0 if drift is None else drift[j][i][0]),
            pitch * (j + 0.5) + (0.0 if drift is None else drift[j][i][1]),
            radius,
            n,
            label,
            hole=True,
            start=0.1,
        )
        for j in range(rows)
        for i in range(columns)
    ]
    return Region((rectangle(pitch * columns, pitch * rows), *holes))


def area_of(region: Region) -> float:
    total = 0.0
    for each in region.rings:
        x, y = each.points.T
        total += float((x * np.roll(y, -1) - np.roll(x, -1) * y).sum()) / 2
    return total


def mitre_inset(region: Region, by: float) -> Region | None:
    """Every edge of every ring moved to its left by `by`, neighbours met again; no check for what then
    collides.
    """
    rings = []
    for each in region.rings:
        p = each.points
        edge = np.roll(p, -1, axis=0) - p
        normal = np.column_stack([-edge[:, 1], edge[:, 0]]) / np.hypot(edge[:, 0], edge[:, 1])[:, None]
        before = np.roll(normal, 1, axis=0)
        bisector = (normal + before) / (1 + (normal * before).sum(axis=1))[:, None]
        rings.append(Ring(p + by * bisector, each.labels))
    return Region(tuple(rings))


def second_opinion(mesh: Mesh) -> trimesh.Trimesh:
    """The mesh as an independent library sees it, with its verdict on closedness and winding asserted."""
    other = trimesh.Trimesh(mesh.points, mesh.triangles, process=False)
    assert other.is_watertight
    assert other.is_winding_consistent
    return other


def nearest_to_axis(mesh: Mesh, labels) -> float:
    """Least distance from the z axis of all facets with these labels, their insides included (not only
    corners).
    """
    corners = mesh.points[mesh.triangles[np.isin(mesh.labels, labels)]][:, :, :2]
    best = np.inf
    for k in range(3):
        a, b = corners[:, k], corners[:, (k + 1) % 3]
        along = b - a
        length = np.maximum((along * along).sum(axis=1), 1e-300)
        t = np.clip(-(a * along).sum(axis=1) / length, 0.0, 1.0)[:, None]
        best = min(best, float(np.hypot(*(a + t * along).T).min()))
    return best


def furthest_from_axis(mesh: Mesh) -> float:
    """Greatest distance from the z axis (always at a corner, for facets are flat)."""
    return float(np.hypot(mesh.points[:, 0], mesh.points[:, 1]).max())


def facet_samples(mesh: Mesh, labels, n=12) -> np.ndarray:
    """Points spread over all facets with these labels."""
    corners = mesh.points[mesh.triangles[np.isin(mesh.labels, labels)]]
    shares = np.array([(i / n, j / n, (n - i - j) / n) for i in range(n + 1) for j in range(n + 1 - i)])
    return np.einsum("sk,tkx->stx", shares, corners).reshape(-1, 3)


def labels_of(mesh: Mesh) -> set[int]:
    return set(np.unique(mesh.labels).tolist())
