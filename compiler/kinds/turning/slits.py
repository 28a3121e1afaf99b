"""Is the ring that carries a bead slit, so that tongues bend instead of a hoop being stretched?  Asked of the
finished mesh.
"""

from __future__ import annotations

import math

import numpy as np

from ...mesh.types import Part
from ...quantities.arrays import Floats, Ints
from ...quantities.vectors import cross
from .model import Shaped, Turning

ANGLES = 720
OFF = 1e-5  # mm beside the station: no corner of the mesh lies there
BEYOND = 0.02  # mm


def is_slit(turning: Turning, bead: Shaped, part: Part) -> bool:
    """True where some way out from the axis meets no material at the middle of a bead.

    A cut that ends in the material (a flat, a key way) leaves the ring whole: the way out still crosses its
    floor."""
    way, foot = turning.way, turning.frame.point(turning.placed.at, turning.placed.base)
    start = np.array(foot) + np.array(way) * bead.station.value
    side = cross(way, (1.0, 0.0, 0.0) if abs(way[0]) < 0.6 else (0.0, 1.0, 0.0))
    axes = np.array([side, cross(way, side), way])
    axes /= np.linalg.norm(axes, axis=1, keepdims=True)
    points = part.mesh.points + np.array(part.low)
    if part.mirrored:
        points = points * np.array([-1.0, 1.0, 1.0])
    inner, outer = _hollow(turning, bead.station.value), bead.size.value
    if bead.inside:
        inner, outer = outer, turning.widest
    return _open_way(
        _section((points - start) @ axes.T, part.mesh.triangles), 0.5 * inner - BEYOND, 0.5 * outer + BEYOND
    )


def _hollow(turning: Turning, station: float) -> float:
    """The largest bore (mm across) at a place on the axis, 0 where it is solid."""
    there = [one for one in turning.bored if one.stretch[0] <= station <= one.stretch[1]]
    return max((one.widest for one in there), default=0.0)


def _section(points: Floats, triangles: Ints) -> Floats:
    """Where the plane z = 0 cuts triangles: segments (n, 2, 2)."""
    heights = points[:, 2] - OFF
    over = heights[triangles] > 0
    corners = triangles[over.any(axis=1) & ~over.all(axis=1)]
    found = []
    for first, second in ((0, 1), (1, 2), (2, 0)):
        a, b = points[corners[:, first]], points[corners[:, second]]
        above, below = a[:, 2] - OFF, b[:, 2] - OFF
        apart = (above > 0) != (below > 0)
        share = np.divide(above, above - below, out=np.zeros_like(above), where=apart)[:, None]
        found.append(np.where(apart[:, None], a[:, :2] + share * (b[:, :2] - a[:, :2]), np.nan))
    ends = np.stack(found, axis=1)
    segments: Floats = ends[~np.isnan(ends[:, :, 0])].reshape(-1, 2, 2)
    return segments


def _open_way(segments: Floats, inner: float, outer: float) -> bool:
    """True where some way out from the origin lies in the open all through the ring from `inner` to `outer`:
    it crosses no segment there (what stands at the axis within it is no matter), and an even number beyond
    (an odd one: it lies in material, of a body that the ring is sunk into)."""
    for angle in (np.arange(ANGLES) + 0.5) * (2.0 * math.pi / ANGLES):
        ahead, aside = np.array([np.cos(angle), np.sin(angle)]), np.array([-np.sin(angle), np.cos(angle)])
        a, b = segments[:, 0] @ aside, segments[:, 1] @ aside
        met = (a > 0) != (b > 0)
        share = a[met] / (a[met] - b[met])
        far = segments[met, 0] @ ahead * (1.0 - share) + segments[met, 1] @ ahead * share
        far = far[far > max(inner, 0.0)]
        if not np.any(far <= outer) and len(far) % 2 == 0:
            return True
    return False
