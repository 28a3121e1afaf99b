"""Corners of a merged outline rounded: its edges are facets already, so no exact path is left to work on.

Rounding the hollow corners is growing by the radius and shrinking back, with round joins; rounding those that
stick out is the same the other way about.  Where only some corners are meant, the result is taken there
alone."""

from __future__ import annotations

import math
from collections.abc import Sequence

import manifold3d as m3
import numpy as np

from ..diagnostics.types import Trouble
from ..quantities.vectors import XY
from .booleans import _result, canonical, common, cross_section, cut, merge
from .facets import CHORD, facet_count
from .measure import edges_of
from .types import Region, Ring


def smoothed(
    region: Region,
    radius: float,
    hollow: bool,
    at: Sequence[tuple[XY, float]] | None,
    chord: float = CHORD,
    label: int = 0,
) -> Region:
    """The region with its hollow corners (or those that stick out) rounded to a radius in mm.

    `at`: only those on a round (centre, radius), or the nearest to it; a point is a round of no size.  Raises
    Trouble `no-corner` where there is none to round."""
    around = m3.JoinType.Round
    count = 4 * math.ceil(facet_count(radius, chord) / 4)
    step = radius if hollow else -radius
    shape = cross_section(region.rings)
    full = shape.offset(step, around, 2.0, count).offset(-step, around, 2.0, count).simplify(1e-7)
    corners = [one for one in ((full - shape) if hollow else (shape - full)).decompose() if _deep(one, chord)]
    if not corners:
        raise Trouble(
            "no-corner",
            "the outline has no sharp hollow corner"
            if hollow
            else "the outline has no sharp corner that sticks out",
        )
    changed = _relabelled(full, region, label)
    # Only the corners are taken from it: between them the outline keeps its facets, and so its true widths.
    # Each is taken a little larger than it is, so that every seam lies inside the material.
    picked = range(len(corners)) if at is None else _nearest(corners, at)
    chosen = [corners[i].offset(2 * chord, m3.JoinType.Miter, 2.0) for i in picked]
    near = [
        Region((Ring(ring, np.zeros(len(ring), dtype=np.int32)),))
        for one in chosen
        for ring in one.to_polygons()
    ]
    if hollow:
        return merge([region, *(common(changed, one) for one in near)])
    return merge([cut(region, near), changed])


def _deep(piece: m3.CrossSection, chord: float) -> bool:
    """True for what a real corner loses or gains; false for the chips between the facets of a round."""
    length = sum(float(np.hypot(*(np.roll(ring, -1, axis=0) - ring).T).sum()) for ring in piece.to_polygons())
    return bool(3.0 * piece.area() > chord * length)


def _nearest(corners: Sequence[m3.CrossSection], at: Sequence[tuple[XY, float]]) -> list[int]:
    """Which corners lie on the rounds, or nearest to them (equally near ones together)."""
    picked: set[int] = set()
    for centre, size in at:
        gaps = [
            min(float(np.hypot(*(ring - centre).T).min()) for ring in one.to_polygons()) for one in corners
        ]
        reach = max(1.001 * min(gaps) + 1e-3, 1.01 * size + 0.02 if size else 0.0)
        picked.update(i for i, gap in enumerate(gaps) if gap <= reach)
    return sorted(picked)


def _relabelled(shape: m3.CrossSection, region: Region, label: int) -> Region:
    """Labels of edges that lie on the old outline are kept; the new rounds carry `label`."""
    found = _result(shape, region.rings)
    starts, ends, _ = edges_of(region.rings)
    rings = []
    for ring in found.rings:
        labels = ring.labels.copy()
        middles = 0.5 * (ring.points + ring.points[[*range(1, len(ring.points)), 0]])
        for i, middle in enumerate(middles):
            along = ends - starts
            t = ((middle - starts) * along).sum(axis=1) / (along * along).sum(axis=1)
            gap = abs((starts + t.clip(0, 1)[:, None] * along) - middle).max(axis=1).min()
            if gap > 1e-5:
                labels[i] = label
        rings.append(Ring(ring.points, labels))
    return canonical(rings)
