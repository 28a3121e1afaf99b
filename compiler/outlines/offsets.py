"""Grow or shrink a flat shape by a distance, and the inset that keeps every corner matched.

A path is offset exactly: straight edges move sideways, arcs change radius, every corner goes to where the
moved edges meet, so a rectangle stays a rectangle.  That fails where an edge or an arc vanishes, or where far
parts of the outline run into each other; then, and for shapes that are facets already, the kernel's polygon
offset does it.  Its own rounding of corners is not used (its segments are coarse unless told): corners are
mitred either way."""

from __future__ import annotations

import manifold3d as m3
import numpy as np

from ..diagnostics.types import Trouble
from ..quantities.arrays import Floats
from ..quantities.vectors import XY
from .booleans import canonical, cross_section
from .carriers import carried, meetings, moved
from .corners import corners_of
from .facets import CHORD, facet, facet_owned
from .labels import match
from .measure import area, crossing, crossing_edges, edges_of, ring_area
from .plane import add, apart, at_angle, heading, left, path_area
from .types import Bend, Edge, Path, Region, Ring

MITRE = 6.0
"""A corner may move this many times the distance (corners sharper than 19 degrees); beyond, its tip is
squared off.
"""


def offset(shape: Region | Path, d: float, chord: float = CHORD, label: int | None = None) -> Region:
    """The shape grown (d > 0) or shrunk (d < 0) by |d| mm on every side, holes included; sharp corners stay
    sharp.

    Edges keep their labels unless `label` is given.  Facets of a path keep within `chord` of the true offset;
    those of a region keep their number, so their error grows with the radius.  Raises Trouble `nothing-left`
    where shrinking takes everything, `falls-apart` where it leaves more pieces than before."""
    result = None
    if not isinstance(shape, Region):
        exact = offset_path(shape, d)
        if exact is not None:
            result = canonical((facet(exact, chord),))
        else:
            shape = Region((facet_owned(shape, chord, max(d, 0.0))[0],))
    if result is None:
        assert isinstance(shape, Region)
        result = _offset_facets(shape, d)
    return result if label is None else relabelled(result, label)


def relabelled(region: Region, label: int) -> Region:
    """The same region with one label on every edge."""
    return canonical(
        Ring(ring.points, np.full(len(ring.points), label, dtype=np.int32)) for ring in region.rings
    )


def offset_path(path: Path, d: float) -> Path | None:
    """The exact offset of a closed path (mm outwards), or None where an edge vanishes or the result would
    cross.
    """
    if len(path) == 1:
        return _offset_circle(path[0], d)
    carriers = [moved(edge, -d) for edge in path]
    sharp = corners_of(path)
    corners: list[XY] = []
    for k, edge in enumerate(path):
        one, two = carriers[k - 1], carriers[k]
        if one is None or two is None:
            return None
        if k not in sharp:
            corners.append(add(edge.start, left(heading(edge, end=False)), -d))
            continue
        found = meetings(one, two)
        nearest = min(found, key=lambda p: (apart(p, edge.start), p), default=None)
        if nearest is None or apart(nearest, edge.start) > MITRE * abs(d) + 1e-9:
            return None
        corners.append(nearest)
    edges: list[Edge] = []
    for k, edge in enumerate(path):
        carrier = carriers[k]
        assert carrier is not None
        new = carried(edge, carrier, corners[k], corners[(k + 1) % len(path)])
        if new is None:
            return None
        edges.append(new)
    result = tuple(edges)
    return result if path_area(result) > 0.0 and crossing(facet(result)) is None else None


def _offset_circle(edge: Edge, d: float) -> Path | None:
    assert isinstance(edge, Bend)
    radius = edge.radius + d
    if radius <= 0.0:
        return None
    start = at_angle(edge.centre, radius, 0.0)
    return (Bend(edge.centre, radius, start, start, edge.sweep, edge.label),)


def _offset_facets(region: Region, d: float) -> Region:
    grown = cross_section(region.rings).offset(d, m3.JoinType.Miter, MITRE, 128)
    rings = [_shifted_labels(np.asarray(p), region, d) for p in grown.to_polygons() if len(p) >= 3]
    if not rings:
        raise Trouble("nothing-left", f"shrinking by {-d:.2f} mm leaves nothing of the shape")
    pieces = [sum(ring_area(ring) > 0.0 for ring in group) for group in (rings, region.rings)]
    if d < 0.0 and pieces[0] > pieces[1]:
        lowest = [tuple(map(float, ring.points.mean(axis=0))) for ring in rings if ring_area(ring) > 0.0]
        raise Trouble(
            "falls-apart",
            f"shrinking by {-d:.2f} mm leaves {pieces[0]} separate pieces",
            places=tuple((x, y) for x, y in sorted(lowest)),
        )
    return canonical(rings)


def _shifted_labels(points: Floats, region: Region, d: float) -> Ring:
    """A ring labelled by the edges that lie the distance d behind its own."""
    ends = np.roll(points, -1, axis=0)
    along = ends - points
    outward = np.stack([along[:, 1], -along[:, 0]], axis=1) / np.maximum(np.hypot(*along.T), 1e-300)[:, None]
    return Ring(points, match((points + ends) / 2.0 - d * outward, *edges_of(region.rings)))


def inset_matched(region: Region, d: float) -> Region | None:
    """Every edge moved d mm into the material, with the same corners in the same order: for chamfered plate
    edges.

    None where an edge would vanish or turn round, rings would cross, or the plain inset has other contours or
    another area.  A corner between two edges with inward normals m and n moves by d (m + n) / (1 + m.n)."""
    rings = []
    for ring in region.rings:
        inner = _inset_ring(ring, d)
        if inner is None:
            return None
        rings.append(inner)
    result = Region(tuple(rings))
    if crossing_edges(result.rings) is not None:
        return None
    plain = cross_section(region.rings).offset(-d, m3.JoinType.Miter, 1e3, 128)
    a, b, _ = edges_of(region.rings)
    slack = 1e-6 * (1.0 + float(np.hypot(*(b - a).T).sum()))
    same = plain.num_contour() == len(rings) and abs(plain.area() - area(result)) <= slack
    return result if same else None


def _inset_ring(ring: Ring, d: float) -> Ring | None:
    along = np.roll(ring.points, -1, axis=0) - ring.points
    size = np.hypot(*along.T)
    if not (size > 0.0).all():
        return None
    after = np.stack([-along[:, 1], along[:, 0]], axis=1) / size[:, None]
    before = np.roll(after, 1, axis=0)
    share = 1.0 + (before * after).sum(axis=1)
    if not (share > 1e-4).all():
        return None
    points = ring.points + d * (before + after) / share[:, None]
    kept = ((np.roll(points, -1, axis=0) - points) * along).sum(axis=1) > 1e-9 * size
    return Ring(points, ring.labels.copy()) if kept.all() else None
