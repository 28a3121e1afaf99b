"""Join, cut and overlap flat regions; the result is the same whatever the order of the operands."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

import manifold3d as m3
import numpy as np

from ..diagnostics.types import Trouble
from .labels import labelled
from .measure import ring_area
from .types import Region, Ring


def merge(parts: Iterable[Ring | Region]) -> Region:
    """Everything covered by any part.  A ring is solid whichever way it runs; a region comes with its
    holes.
    """
    rings, shapes = _shapes(parts)
    return _result(m3.CrossSection.batch_boolean(shapes, m3.OpType.Add), rings)


def cut(region: Region, tools: Iterable[Ring | Region]) -> Region:
    """The region without the tools.  Trouble `nothing-left` where they take all of it."""
    tool_rings, tool_shapes = _shapes(tools)
    if not tool_rings:
        return canonical(region.rings)
    rings, shapes = _shapes((region,))
    left = shapes[0] - m3.CrossSection.batch_boolean(tool_shapes, m3.OpType.Add)
    return _result(left, rings + tool_rings)


def common(one: Region, two: Region) -> Region:
    """What two regions share.  Trouble `nothing-left` where they share nothing."""
    rings, shapes = _shapes((one, two))
    return _result(m3.CrossSection.batch_boolean(shapes, m3.OpType.Intersect), rings)


def canonical(rings: Iterable[Ring]) -> Region:
    """The region of some rings in the one order that does not depend on how it was made.

    Each ring starts at its lowest point by x, then y; outer rings come before holes, each kind sorted by its
    points."""
    turned = [_from_lowest(ring) for ring in rings]
    return Region(tuple(sorted(turned, key=_Order)))


class _Order:
    """Outer rings before holes, then by points, then by labels; whole rings are compared only where they
    begin alike.
    """

    def __init__(self, ring: Ring) -> None:
        self.ring = ring
        self.first = (ring_area(ring) < 0.0, *ring.points[0].tolist())

    def __lt__(self, other: _Order) -> bool:
        return self.first < other.first or (
            self.first == other.first and _sort_key(self.ring) < _sort_key(other.ring)
        )


def _sort_key(ring: Ring) -> tuple[list[list[float]], list[int]]:
    return ring.points.tolist(), ring.labels.tolist()


def _from_lowest(ring: Ring) -> Ring:
    x, y = ring.points[:, 0], ring.points[:, 1]
    first = int(x.argmin())
    level = (x == x[first]).nonzero()[0]
    first = int(level[y[level].argmin()])
    if not first:
        return ring
    return Ring(
        np.concatenate([ring.points[first:], ring.points[:first]]),
        np.concatenate([ring.labels[first:], ring.labels[:first]]),
    )


def turned_over(ring: Ring) -> Ring:
    """The ring run the other way; labels stay with their edges."""
    return Ring(ring.points[::-1].copy(), np.roll(ring.labels[::-1], -1))


def cross_section(rings: Sequence[Ring]) -> m3.CrossSection:
    """The kernel's flat shape of rings that run anticlockwise round material and clockwise round holes."""
    return m3.CrossSection([ring.points for ring in rings], m3.FillRule.Positive)


def _shapes(parts: Iterable[Ring | Region]) -> tuple[list[Ring], list[m3.CrossSection]]:
    regions = [part if isinstance(part, Region) else _solid(part) for part in parts]
    ordered = sorted(
        (canonical(region.rings) for region in regions), key=lambda r: [_sort_key(ring) for ring in r.rings]
    )
    return [ring for r in ordered for ring in r.rings], [cross_section(r.rings) for r in ordered]


def _solid(ring: Ring) -> Region:
    return Region((ring if ring_area(ring) > 0.0 else turned_over(ring),))


def _result(shape: m3.CrossSection, sources: Sequence[Ring]) -> Region:
    polygons = [p for p in shape.to_polygons() if len(p) >= 3]
    if not polygons:
        raise Trouble("nothing-left", "nothing is left of the shape")
    return canonical(labelled(polygons, sources))
