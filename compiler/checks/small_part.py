"""Does a part fit into the small-parts cylinder by which toys for small children are judged?

The cylinder is 31.7 mm across; its floor slants at 45 degrees, 25.4 mm deep at the shallow side and 57.1 mm
at the deep one (16 CFR 1501.4; EN 71-1, 8.2: both from memory).  A part that fits wholly, pressed by nothing,
is a small part. Tried are the part's own box directions and its main directions, either end first, turned
every 5 degrees: what is found to fit does fit; a part that only fits askew is not found."""

from __future__ import annotations

import math

import numpy as np

from ..quantities.arrays import Floats

RADIUS = 31.7 / 2
MIDDLE = (25.4 + 57.1) / 2
"""Depth (mm) of the slanted floor on the axis."""
_TURNS = 72
_ROUNDS = 200


def fits_small_parts_cylinder(points: Floats) -> bool:
    """True where a part with these corners (n, 3), in mm, goes wholly into the cylinder in one of the
    directions tried.
    """
    if float(np.ptp(points, axis=0).min()) > 2 * RADIUS:
        return False
    centred = points - points.mean(axis=0)
    _, own = np.linalg.eigh(centred.T @ centred)
    return any(
        _stands(centred @ axes[:, (i + 1) % 3], centred @ axes[:, (i + 2) % 3], centred @ axes[:, i])
        for axes in (np.eye(3), own)
        for i in range(3)
    )


def _stands(x: Floats, y: Floats, height: Floats) -> bool:
    """True where the part goes in along one direction, from either end."""
    (cx, cy), radius = _round_it(x, y)
    spare = RADIUS - radius
    if spare < 0:
        return False
    angles = np.arange(_TURNS) * 2 * math.pi / _TURNS
    # Moved over by what is spare towards the deep side, every corner must lie above the floor there.
    deep = np.outer(np.cos(angles), x - cx) + np.outer(np.sin(angles), y - cy) + spare
    return any(
        bool((down - down.min() <= MIDDLE + deep + 1e-9).all(axis=1).any()) for down in (height, -height)
    )


def _round_it(x: Floats, y: Floats) -> tuple[tuple[float, float], float]:
    """A circle round all points, nearly the smallest: the centre is drawn towards the farthest point again
    and again (M. Badoiu and K. Clarkson 2003), from the middle of the box on, and the best one seen is
    kept."""
    cx, cy = 0.5 * float(x.min() + x.max()), 0.5 * float(y.min() + y.max())
    best: tuple[tuple[float, float], float] | None = None
    for step in range(1, _ROUNDS + 1):
        away = np.hypot(x - cx, y - cy)
        far = int(away.argmax())
        if best is None or float(away[far]) < best[1]:
            best = ((cx, cy), float(away[far]))
        cx, cy = cx + (float(x[far]) - cx) / (step + 1), cy + (float(y[far]) - cy) / (step + 1)
    assert best is not None
    return best
