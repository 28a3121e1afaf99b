"""Is the ring that carries a bead slit, so that tongues bend instead of a hoop being stretched?  Asked of the
finished mesh.
"""

from __future__ import annotations

import math

import numpy as np

from ..facts import Claim, Entry
from ..facts.extents import station_across
from ..mesh.types import Part
from ..places.layout import Layout
from ..places.planes import Pages
from ..quantities.arrays import Floats, Ints
from ..quantities.vectors import Vector, clean, cross

ANGLES = 720
OFF = 1e-5  # mm beside the station: no corner of the mesh lies there
BEYOND = 0.02  # mm


def axis_way(entry: Entry, pages: Pages, layout: Layout) -> Vector | None:
    """The way (a unit vector) from the foot of a turning along its axis; None where it is not placed."""
    spot = layout.spots.get(entry.name)
    frame = layout.frames.get(spot.page) if spot is not None else None
    if spot is None or frame is None:
        return None
    lies = entry.one("lies along")
    if lies is None:
        x, y, z = frame.out
        return clean((spot.out * x, spot.out * y, spot.out * z))
    edge = pages.ahead(lies.ref("line"), frame)
    return edge[1] if edge is not None else None


def is_slit(entry: Entry, claim: Claim, pages: Pages, layout: Layout, part: Part) -> bool:
    """True where some way out from the axis meets no material at the middle of a bead.

    A cut that ends in the material (a flat, a key way) leaves the ring whole: the way out still crosses its
    floor."""
    way = axis_way(entry, pages, layout)
    if way is None:
        return False
    spot = layout.spots[entry.name]
    start = np.array(layout.frames[spot.page].point(spot.at, spot.base)) + np.array(way) * claim.number(
        "station"
    )
    side = cross(way, (1.0, 0.0, 0.0) if abs(way[0]) < 0.6 else (0.0, 1.0, 0.0))
    axes = np.array([side, cross(way, side), way])
    axes /= np.linalg.norm(axes, axis=1, keepdims=True)
    points = part.mesh.points + np.array(part.low)
    if part.mirrored:
        points = points * np.array([-1.0, 1.0, 1.0])
    inner, outer = _hollow(entry, claim.number("station")), claim.number("size")
    if claim.get("which") is not None:
        inner, outer = outer, max(station_across(one) for one in entry.all("across", "taper"))
    return _open_way(
        _section((points - start) @ axes.T, part.mesh.triangles), 0.5 * inner - BEYOND, 0.5 * outer + BEYOND
    )


def _hollow(entry: Entry, station: float) -> float:
    """The largest bore (mm across) at a place on the axis, 0 where it is solid."""
    found = [0.0]
    for claim in entry.all("bored", "bored taper"):
        low, high = sorted((claim.number("start"), claim.number("stop")))
        if low <= station <= high:
            found += [
                claim.number(key)
                for key in (("first", "second") if claim.word == "bored taper" else ("size",))
            ]
    return max(found)


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
