"""Lines, and the edges of sides, in space."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from ..facts import Ref
from ..facts.types import SIDES
from ..quantities.vectors import Vector, along, clean, cross, dot
from .layout import Frame

if TYPE_CHECKING:
    from .planes import Planes

STEEPER = 1e-6
"""By so much (of a unit vector) a line must run more up than across to count as upright."""


def edge_line(pages: Planes, ref: Ref) -> tuple[Vector, Vector, Vector] | None:
    """A line (or the edge of a side) in space: a point of it at the height it lies at, its direction, and
    the way out of its plane.
    """
    if ref.name in pages.layout.lines and not ref.part:
        page, line = pages.layout.lines[ref.name]
        frame, base = pages.layout.frames[page], pages.stand(ref.name)[1]
        at = (line.offset * math.cos(line.angle), line.offset * math.sin(line.angle))
        return frame.point(at, base), frame.direction(line.angle - 0.5 * math.pi), frame.out
    side, page_of = pages.side(ref) if ref.part in SIDES else None, edge_frame(pages, ref)
    if side is None or page_of is None:
        return None
    return side.point, clean(cross(page_of.out, side.normal)), page_of.out


def edge_frame(pages: Planes, ref: Ref) -> Frame | None:
    """The plane that a line, or the body of a side, was read on; None while it is not placed."""
    if ref.name in pages.layout.lines and not ref.part:
        return pages.layout.frames[pages.layout.lines[ref.name][0]]
    spot = pages.layout.spots.get(ref.name)
    return pages.layout.frames[spot.plane] if spot is not None else None


def ahead(pages: Planes, ref: Ref, frame: Frame) -> tuple[Vector, Vector, Vector] | None:
    """`edge_line`, run to the right as the plane of `frame` sees it, or up where it runs more up than
    across.
    """
    edge = edge_line(pages, ref)
    if edge is None:
        return None
    point, way, out = edge
    right, up = dot(way, frame.right), dot(way, frame.up)
    if (up if abs(up) > abs(right) + STEEPER else right) > 0.0:
        return edge
    return point, clean(along((0.0, 0.0, 0.0), (way, -1.0))), out
