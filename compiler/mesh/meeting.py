"""Flats of different bodies that should lie in one plane are laid in one before the bodies are joined.

Each body is made from its own middle and half-sizes, and middles are snapped to 1e-6 mm: a block `against`
the side of another then stands a rounding error short of it, or (a size that is a mean of three readings) up
to a millionth of a mm. Only flats square to an axis are laid together; what stands on a flat that slopes is
made to reach into it (bodies.py). Of copies all coordinates are: a copy that was mirrored or turned onto its
own original has the same walls but for the last bits, and the kernel would cut them with each other and leave
slits of no thickness."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import numpy.typing as npt

from ..quantities.arrays import Floats
from ..quantities.rows import distinct_rows
from .kernel import Solid, from_arrays

NEAR = 2.5e-6  # mm: two middles, each half of 1e-6 off, and two ends of what is flush on both sides
LEVEL = 1e-9  # mm: a triangle whose corners differ by less lies square to the axis


def laid_together(parts: Sequence[tuple[str, Solid]]) -> list[tuple[str, Solid]]:
    """Named solids, those changed whose flats lie within 2.5e-6 mm of a flat of another one; labels stay.
    The kernel works.
    """
    if len(parts) < 2:
        return list(parts)
    meshes = [solid.to_mesh64() for _, solid in parts]
    points = [np.asarray(one.vert_properties)[:, :3] for one in meshes]
    moved: list[Floats | None] = [None] * len(parts)
    for axis in range(3):
        flats = [
            _flats(here[:, axis], np.asarray(one.tri_verts, dtype=np.int64))
            for here, one in zip(points, meshes, strict=True)
        ]
        values = _rising(np.concatenate(flats))
        ground = _ground(values, NEAR)
        changed = ground != values
        for k, own in enumerate(flats):
            if not changed[np.searchsorted(values, own)].any():
                continue
            column = points[k][:, axis]
            at = np.minimum(np.searchsorted(values, column), len(values) - 1)
            here = moved[k]
            to = points[k].copy() if here is None else here
            to[:, axis] = np.where(values[at] == column, ground[at], to[:, axis])
            moved[k] = to
        if any("." in name for name, _ in parts):
            _levelled(axis, points, moved)
    return [
        (name, solid if to is None else from_arrays(to, np.asarray(one.tri_verts), np.asarray(one.face_id)))
        for (name, solid), one, to in zip(parts, meshes, moved, strict=True)
    ]


def _flats(column: Floats, triangles: npt.NDArray[np.int64]) -> Floats:
    """The heights along an axis at which triangles lie square to it."""
    a, b, c = (column[triangles[:, k]] for k in range(3))
    level = (np.abs(a - b) <= LEVEL) & (np.abs(a - c) <= LEVEL) & (np.abs(b - c) <= LEVEL)
    return _rising(np.concatenate([a[level], b[level], c[level]]))


def _rising(values: Floats) -> Floats:
    """Each value once."""
    return distinct_rows(values[:, None])[0][:, 0]


def _levelled(axis: int, points: Sequence[Floats], moved: list[Floats | None]) -> None:
    """Lay coordinates along an axis in one that differ by rounding only; `moved` takes the points of what is
    changed.
    """
    latest = [points[k] if there is None else there for k, there in enumerate(moved)]
    values = _rising(np.concatenate([one[:, axis] for one in latest]))
    ground = _ground(values, LEVEL)
    if (ground == values).all():
        return
    for k, one in enumerate(latest):
        column = ground[np.searchsorted(values, one[:, axis])]
        if (column != one[:, axis]).any():
            to = one.copy() if moved[k] is None else one
            to[:, axis] = column
            moved[k] = to


def _ground(values: Floats, near: float) -> Floats:
    """For each of these heights (rising) the lowest of those from which steps of no more than `near` lead to
    it.
    """
    if not len(values):
        return values
    starts = np.concatenate([[True], np.diff(values) > near])
    return values[np.maximum.accumulate(np.where(starts, np.arange(len(values)), 0))]
