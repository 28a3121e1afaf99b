"""Round holes let into a plate's outline before it is extruded, where they stand clear of its edges and of
each other.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from msgspec import Struct

from ..model import Model
from ..model.holes import Hole
from ..model.sections import RoundSection
from ..outlines import Region, Ring, canonical, hole_ring
from ..outlines.marks import Marks
from ..outlines.measure import edges_of
from ..quantities.arrays import Bools, Floats
from ..quantities.vectors import XY, dot

CLEAR = 1e-3
UPRIGHT = 1e-9


class RoundHole(Struct, frozen=True):
    """A round hole straight through a plate: radius (mm), and centres on the plate's plane, copies too."""

    hole: Hole
    radius: float
    centres: tuple[XY, ...]


def round_hole(hole: Hole, model: Model) -> RoundHole | None:
    """A plain round hole with all its copies, or None where it is another or a copy does not stand upright
    on the same plane.
    """
    if not hole.straight or not isinstance(hole.section, RoundSection):
        return None
    frame, at = model.frame(hole), hole.placed.at
    centres = [at]
    first = frame.point(at)
    for move in hole.copies:
        x, y, z = (dot(row, frame.out) for row in move.rows)
        if abs(abs(dot((x, y, z), frame.out)) - 1.0) > UPRIGHT:
            return None
        centres.append(frame.onto(move.point(first))[0])
    return RoundHole(hole, hole.section.radius, tuple(centres))


def let_in(region: Region, holes: Sequence[RoundHole], marks: Marks, chord: float) -> tuple[Region, set[str]]:
    """The region with the holes that stand clear let in as rings, and the names of those; the others need a
    cutter.
    """
    if not holes:
        return region, set()
    owner = np.repeat(np.arange(len(holes)), [len(hole.centres) for hole in holes])
    at = np.array([xy for hole in holes for xy in hole.centres], dtype=np.float64)
    reach = np.array([hole.radius for hole in holes], dtype=np.float64)[owner]
    outer = reach + 2 * chord + CLEAR
    clear = _inside(region, at, outer) & _apart(at, outer)
    hindered = set(owner[~clear].tolist())
    corners = {
        radius: hole_ring((0.0, 0.0), radius, chord).points for radius in {hole.radius for hole in holes}
    }
    rings = [
        Ring(
            corners[hole.radius] + np.array(xy),
            np.full(len(corners[hole.radius]), marks.of(hole.hole.name), dtype=np.int32),
        )
        for k, hole in enumerate(holes)
        if k not in hindered
        for xy in hole.centres
    ]
    names = {one.hole.name for k, one in enumerate(holes) if k not in hindered}
    return (canonical([*region.rings, *rings]) if rings else region), names


def _inside(region: Region, at: Floats, outer: Floats) -> Bools:
    """Which circles lie wholly inside a region: centre inside (ray crossing count), no edge nearer than the
    radius.
    """
    starts, ends, _ = edges_of(region.rings)
    inside = np.zeros(len(at), dtype=bool)
    nearest = np.full(len(at), np.inf)
    for a, b in zip(starts, ends, strict=True):
        way = b - a
        t = np.clip(((at - a) @ way) / max(float(way @ way), 1e-300), 0.0, 1.0)
        nearest = np.minimum(nearest, np.hypot(*(at - a - t[:, None] * way).T))
        crosses = (a[1] > at[:, 1]) != (b[1] > at[:, 1])
        if crosses.any():
            x = a[0] + (at[:, 1] - a[1]) * way[0] / (way[1] if way[1] else 1.0)
            inside ^= crosses & (at[:, 0] < x)
    return inside & (nearest > outer)


def _apart(at: Floats, outer: Floats) -> Bools:
    """Which circles touch no other: each against those in its own cell and the eight round it, cells as wide
    as the largest circle; circles are laid out by cell, and the k-th neighbour of all is asked at once."""
    cell = 2.0 * float(outer.max())
    place = np.floor((at - at.min(axis=0)) / cell).astype(np.int64) + 1
    wide = int(place[:, 1].max()) + 2
    key = place[:, 0] * wide + place[:, 1]
    order = np.argsort(key, kind="stable")
    ranked = key[order]
    good = np.ones(len(at), dtype=np.bool_)
    for step in (0, 1, wide - 1, wide, wide + 1):
        first = np.searchsorted(ranked, key + step, "left")
        count = np.searchsorted(ranked, key + step, "right") - first
        for k in range(int(count.max())):
            i = np.flatnonzero(count > k)
            j = order[first[i] + k]
            i, j = i[i != j], j[i != j]
            touch = np.hypot(at[i, 0] - at[j, 0], at[i, 1] - at[j, 1]) <= outer[i] + outer[j]
            good[i[touch]] = good[j[touch]] = False
    return good
