"""Teeth round an axis, seen in a section square to it: counted, and measured from crowns to floors."""

from __future__ import annotations

import math

import numpy as np

from ..quantities.arrays import Floats
from .surfaces import Facets
from .turned import SAME, FoundAxis

WIDE = 1.5
"""A gap between teeth wider than so many others is no gap: there the teeth are cut away."""
CLEAR = 1e-6
FEWEST = 6
"""Corners that a level of teeth must have to be measured at."""


def section(facets: Facets, axis: FoundAxis, height: float) -> Floats:
    """Where facets go through a plane square to an axis: pieces (n, 2, 2) as seen along the axis, each so
    that the material lies to the left of it.
    """
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
    pieces = _material_left(pieces, facets.normals[through], axis)
    return pieces[~np.isnan(pieces).any(axis=(1, 2))]


def rim(facets: Facets, axis: FoundAxis) -> Floats:
    """The outline of teeth at the height at which most of their corners lie, as `section`: there it is what
    was drawn, between two such heights it runs along the diagonals of facets."""
    heights = axis.heights(facets.corners)
    levels, count = np.unique(np.round(heights, 5), return_counts=True)
    over = heights - levels[int(count.argmax())]
    on = np.abs(over) < SAME
    above, below = ((on.sum(axis=1) == 2) & side.any(axis=1) for side in (over > SAME, over < -SAME))
    mine = above if above.any() else below
    corners = facets.corners[mine][on[mine]].reshape(-1, 2, 3)
    return _material_left(axis.across(corners), facets.normals[mine], axis)


def _material_left(pieces: Floats, normals: Floats, axis: FoundAxis) -> Floats:
    step, facing = pieces[:, 1] - pieces[:, 0], axis.across(np.asarray(axis.start) + normals)
    turned = step[:, 0] * facing[:, 1] - step[:, 1] * facing[:, 0] > 0
    found: Floats = np.where(turned[:, None, None], pieces[:, ::-1], pieces)
    return found


def outer(pieces: Floats) -> Floats:
    """The pieces of a section that are its outside: those with nothing further out on a ray through their
    middle."""
    if not len(pieces):
        return pieces
    angles = np.sort(np.arctan2(pieces[..., 1], pieces[..., 0]), axis=1)
    wraps = angles[:, 1] - angles[:, 0] > math.pi
    far = np.hypot(pieces[..., 0], pieces[..., 1]).max(axis=1)
    middle = np.arctan2(pieces[..., 1].mean(axis=1), pieces[..., 0].mean(axis=1))
    inside = (middle[:, None] > angles[None, :, 0]) & (middle[:, None] < angles[None, :, 1]) & ~wraps[None, :]
    low = np.hypot(pieces[..., 0], pieces[..., 1]).min(axis=1)
    covered = (inside & (low[None, :] > far[:, None] + CLEAR)).any(axis=1)
    bare: Floats = pieces[~covered]
    return bare


def counted(facets: Facets, axis: FoundAxis, heights: list[float]) -> float | None:
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
    angles, _ = flanks(pieces, radius)
    if len(angles) < 3:
        return None
    gaps = np.diff(np.concatenate([angles, angles[:1] + math.tau]))
    usual = float(np.median(gaps))
    return float(len(angles)) if float(gaps.max()) < WIDE * usual else math.tau / usual


def flanks(pieces: Floats, radius: float) -> tuple[Floats, Floats]:
    """Angles, ascending, at which the outline of a section, material to its left, goes in through a circle
    and out of it: of a wheel where a tooth ends and begins, of a ring where a space begins and ends.
    """
    return _inwards(pieces, radius), _inwards(pieces[:, ::-1], radius)


def phase_of(pieces: Floats, radius: float, inside: bool) -> float | None:
    """The angle of the middle of a tooth (of a ring: of a space)."""
    ends, begins = flanks(pieces, radius)
    if inside:
        ends, begins = begins, ends
    if not len(ends) or not len(begins):
        return None
    return float(ends[0] - 0.5 * np.mod(ends[0] - begins, math.tau).min())


def _inwards(pieces: Floats, radius: float) -> Floats:
    """Angles at which pieces that run inwards cross a circle: |a + t s| = r, where it goes in."""
    radii = np.hypot(pieces[..., 0], pieces[..., 1])
    some = pieces[(radii[:, 0] > radius) & (radii[:, 1] <= radius)]
    step = some[:, 1] - some[:, 0]
    square, half = (step**2).sum(axis=1), (some[:, 0] * step).sum(axis=1)
    over = (some[:, 0] ** 2).sum(axis=1) - radius**2
    share = (-half - np.sqrt(np.maximum(0.0, half**2 - square * over))) / np.where(square > 0, square, 1.0)
    at = some[:, 0] + share[:, None] * step
    found: Floats = np.sort(np.mod(np.arctan2(at[:, 1], at[:, 0]), math.tau))
    return found


def deep(teeth: Facets, crowns: Facets, axis: FoundAxis) -> float | None:
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


def _reach(crowns: Facets, axis: FoundAxis, height: float) -> float:
    """How far off the axis turned facets reach at a height, by their corners and how they lean."""
    if crowns.empty:
        return 0.0
    heights, out = axis.heights(crowns.corners), axis.outwards(crowns)
    there = (heights.min(axis=1) < height + SAME) & (heights.max(axis=1) > height - SAME) & (out > 0.1)
    slant = crowns.normals @ np.asarray(axis.way)
    lean = -slant / np.sqrt(np.maximum(1 - slant**2, SAME))
    reach = axis.radii(crowns.corners) + lean[:, None] * (height - heights)
    return float(reach[there].max(initial=0.0))


def in_bore(facets: Facets, axis: FoundAxis, word: str) -> tuple[float, float] | None:
    """How far off the axis the teeth of a bore reach into its wall, and their crowns; None where no end of
    them is left.

    Pointed ones are read at their corners; of splines the rounds touch the true surface in the middles of
    their level edges, which their flanks, along the radius, have not."""
    if facets.empty:
        return None
    starts, ends = facets.corners.reshape(-1, 3), np.roll(facets.corners, -1, axis=1).reshape(-1, 3)
    level = np.abs(axis.heights(starts) - axis.heights(ends)) < SAME
    a, b = axis.across(starts[level]), axis.across(ends[level])
    if len(a) < FEWEST:
        return None
    off = np.hypot(*a.T)
    if word == "splines":
        long = np.maximum(np.hypot(*(b - a).T), SAME)
        off = np.abs(a[:, 0] * b[:, 1] - a[:, 1] * b[:, 0]) / long
        off = off[off > 0.5 * off.max()]
    return float(off.max()), float(off.min())


def counted_in(facets: Facets, axis: FoundAxis) -> float | None:
    """How many teeth stand round in a bore."""
    heights = axis.heights(facets.corners)
    low, high = float(heights.min()), float(heights.max())
    return _in_section(section(facets, axis, low + 0.47 * (high - low)))
