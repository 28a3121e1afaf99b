"""Teeth round an axis, seen in a section square to it: counted, and measured from crowns to floors."""

from __future__ import annotations

import math

import numpy as np

from ..quantities.arrays import Floats
from .surfaces import Facets
from .turned import SAME, Axis

WIDE = 1.5
"""A gap between teeth wider than so many others is no gap: there the teeth are cut away."""
FEWEST = 6
"""Corners that a level of teeth must have to be measured at."""


def section(facets: Facets, axis: Axis, height: float) -> Floats:
    """Where facets go through a plane square to an axis: pieces (n, 2, 2) as seen along the axis."""
    heights = axis.heights(facets.corners) - height
    through = (heights.min(axis=1) < 0) & (heights.max(axis=1) > 0)
    some, over = facets.corners[through], heights[through]
    seen = axis.across(some)
    points: list[Floats] = []
    for k in range(3):
        a, b = over[:, k], over[:, (k + 1) % 3]
        share = np.where(a * b < 0, a / np.where(a == b, 1.0, a - b), np.nan)
        points.append(seen[:, k] + share[:, None] * (seen[:, (k + 1) % 3] - seen[:, k]))
        on = np.where((a == 0)[:, None], seen[:, k], np.nan)
        points.append(on)
    stacked = np.stack(points, axis=1)
    order = np.argsort(np.isnan(stacked[..., 0]), axis=1, kind="stable")[:, :2]
    pieces: Floats = np.take_along_axis(stacked, order[:, :, None], axis=1)
    return pieces[~np.isnan(pieces).any(axis=(1, 2))]


def outer(pieces: Floats) -> Floats:
    """The pieces of a section that are its outside: those with nothing further out on a ray through their
    middle."""
    if not len(pieces):
        return pieces
    angles = np.sort(np.arctan2(pieces[..., 1], pieces[..., 0]), axis=1)
    wraps = angles[:, 1] - angles[:, 0] > math.pi
    far = np.hypot(pieces[..., 0], pieces[..., 1]).max(axis=1)
    middle = np.arctan2(pieces[..., 1].mean(axis=1), pieces[..., 0].mean(axis=1))
    least = np.hypot(*pieces.mean(axis=1).T)
    inside = (middle[:, None] > angles[None, :, 0]) & (middle[:, None] < angles[None, :, 1]) & ~wraps[None, :]
    low = np.hypot(pieces[..., 0], pieces[..., 1]).min(axis=1)
    covered = (inside & (low[None, :] > least[:, None]) & (far[None, :] > far[:, None])).any(axis=1)
    bare: Floats = pieces[~covered]
    return bare


def counted(facets: Facets, axis: Axis, heights: list[float]) -> float | None:
    """How many teeth go round: the fewest that a section shows; None where it shows none.

    Counted is where a circle half way between crowns and floors goes out of the material; where teeth are
    cut away, as many as would go round at the usual distance."""
    found = [count for at in heights if (count := _in_section(outer(section(facets, axis, at)))) is not None]
    return min(found) if found else None


def _in_section(pieces: Floats) -> float | None:
    if not len(pieces):
        return None
    radii = np.hypot(pieces[..., 0], pieces[..., 1])
    return crossings_round(pieces, 0.5 * (float(radii.max()) + float(radii.min())))


def crossings_round(pieces: Floats, radius: float) -> float | None:
    """How many teeth a circle goes through, by the angles at which it leaves them."""
    angles = leaving(pieces, radius)
    if len(angles) < 3:
        return None
    gaps = np.diff(np.concatenate([angles, angles[:1] + math.tau]))
    usual = float(np.median(gaps))
    return float(len(angles)) if float(gaps.max()) < WIDE * usual else math.tau / usual


def leaving(pieces: Floats, radius: float) -> Floats:
    """Angles, ascending, at which a circle crosses every second piece: those that run inwards as the angle
    grows."""
    radii = np.hypot(pieces[..., 0], pieces[..., 1])
    angles = np.arctan2(pieces[..., 1], pieces[..., 0])
    turn = np.mod(angles[:, 1] - angles[:, 0] + math.pi, math.tau) - math.pi
    first = np.where(turn >= 0, radii[:, 0], radii[:, 1])
    last = np.where(turn >= 0, radii[:, 1], radii[:, 0])
    falls = (first > radius) & (last <= radius)
    start = np.where(turn >= 0, angles[:, 0], angles[:, 1])
    share = (first - radius) / np.where(falls, first - last, 1.0)
    found: Floats = np.sort(np.mod((start + share * np.abs(turn))[falls], math.tau))
    return found


def deep(teeth: Facets, crowns: Facets, axis: Axis) -> float | None:
    """From the crowns of upright teeth to their floors, at that end of theirs where most is left of them;
    `crowns`: what is left of the surface they were cut into, whose corners may lie beyond the teeth.
    """
    if teeth.empty:
        return None
    points = teeth.corners.reshape(-1, 3)
    heights, radii = axis.heights(points), axis.radii(points)
    found = [
        max(float(radii[at].max()), _reach(crowns, axis, end)) - float(radii[at].min())
        for end in (float(heights.min()), float(heights.max()))
        if (at := np.abs(heights - end) < SAME).sum() >= FEWEST
    ]
    return max(found) if found else None


def _reach(crowns: Facets, axis: Axis, height: float) -> float:
    """How far off the axis turned facets reach at a height, by their corners and how they lean."""
    if crowns.empty:
        return 0.0
    heights, out = axis.heights(crowns.corners), axis.outwards(crowns)
    there = (heights.min(axis=1) < height + SAME) & (heights.max(axis=1) > height - SAME) & (out > 0.1)
    lean = -(crowns.normals @ np.asarray(axis.way)) / np.where(there, out, 1.0)
    reach = axis.radii(crowns.corners) + lean[:, None] * (height - heights)
    return float(reach[there].max(initial=0.0))
