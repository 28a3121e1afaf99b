"""Corners of a merged outline rounded: its edges are facets already, so no exact path is left to work on.

Rounding the hollow corners is growing by the radius and shrinking back, with round joins; rounding those that stick
out is the same the other way about.  Where only some corners are meant, the result is taken near them alone.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

import manifold3d as m3

from .booleans import _result, canonical, common, cross_section, cut, merge
from .facets import CHORD, facet, facet_count
from .shapes import circle
from .types import XY, Region, Ring


def smoothed(
    region: Region, radius: float, hollow: bool, at: Sequence[XY] | None, chord: float = CHORD, label: int = 0
) -> Region:
    """The region with its hollow corners (or those that stick out) rounded to a radius in mm, all or those near `at`."""
    around = m3.JoinType.Round
    count = 4 * math.ceil(facet_count(radius, chord) / 4)
    step = radius if hollow else -radius
    shape = cross_section(region.rings)
    full = shape.offset(step, around, 2.0, count).offset(-step, around, 2.0, count).simplify(1e-7)
    changed = _relabelled(full, region, label)
    if at is None:
        return changed
    near = [facet(circle(place, 3.0 * radius), chord) for place in at]
    if hollow:
        return merge([region, *(common(changed, canonical([one])) for one in near)])
    removed = [cut(canonical([one]), [changed]) for one in near]
    return cut(region, removed)


def _relabelled(shape: m3.CrossSection, region: Region, label: int) -> Region:
    """Labels of edges that lie on the old outline are kept; the new rounds carry `label`."""
    from .measure import edges_of

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
