"""The teeth of a gear, seen in sections square to its axis: how many, over tips and feet, and the involute
that their flanks follow.

An involute is told by its base circle and by half the angle that a tooth (of a ring: a space) covers there.
The flanks of a wheel are convex, so their corners lie on the involute: half the angle of a tooth at a radius
r is c - inv(acos(rb / r)).  Those of a ring are hollow, so their facets touch it: a tangent whose normal
turns by v lies rb (c + pi / 2 - v) from the axis."""

from __future__ import annotations

import math

import numpy as np
from msgspec import Struct

from ..quantities.arrays import Floats
from .surfaces import Facets
from .teeth import crossings_round, phase_of, rim
from .turned import FoundAxis

NEAR = 1e-5
"""mm: corners no further off a circle than this are on it."""
STEPS = 40
UPPER = 0.5
"""Share of a tooth's height, from its tip, where its flank is an involute for sure."""


class Involutes(Struct, frozen=True):
    """The teeth at one height: their count; diameters at tips and feet and of the base circle; half the angle
    (radians) that a tooth (space) covers there; which way one points; the widest that jaws read over tips.
    """

    count: float
    tip: float
    root: float
    base: float
    half: float
    phase: float
    over_tips: float

    def span(self, over: int) -> float:
        """What jaws read over some teeth, flat on two flanks: rb (2 pi (k - 1) / z + 2 c)."""
        return 0.5 * self.base * (math.tau * (over - 1) / self.count + 2 * self.half)


def tip_axis(facets: Facets, axis: FoundAxis) -> FoundAxis | None:
    """The axis by the corners of the tips, which lie on one circle about it; `axis` is about where it is."""
    if facets.empty:
        return None
    seen = np.unique(np.round(axis.across(facets.corners.reshape(-1, 3)), 7), axis=0)
    middle = np.zeros(2)
    for _ in range(STEPS):
        far = np.linalg.norm(seen - middle, axis=1)
        tips = seen[far > far.max() - max(NEAR, 0.5 * float(np.linalg.norm(middle)) + 1e-3)]
        if len(tips) < 6:
            return None
        away = tips - tips.mean(axis=0)
        rows = np.column_stack([2 * away, np.ones(len(away))])
        found = np.linalg.lstsq(rows, (away**2).sum(axis=1), rcond=None)[0][:2] + tips.mean(axis=0)
        step = float(np.linalg.norm(found - middle))
        middle = found
        if step < 1e-9:
            break
    start = np.asarray(axis.start) + middle[0] * np.asarray(axis.right) + middle[1] * np.asarray(axis.up)
    x, y, z = (float(value) for value in start)
    return FoundAxis((x, y, z), axis.way, axis.right, axis.up)


def involutes(facets: Facets, axis: FoundAxis, inside: bool) -> Involutes | None:
    """The teeth of facets at a height at which they were drawn; None where too little is left of them."""
    pieces = rim(facets, axis)
    if len(pieces) < 6:
        return None
    radii = np.hypot(pieces[..., 0], pieces[..., 1])
    low, high = float(radii.min()), float(radii.max())
    middle = 0.5 * (low + high)
    count, phase = crossings_round(pieces, middle), phase_of(pieces, middle, inside)
    if count is None or phase is None:
        return None
    pitch = math.tau / count
    tip, root = (low, _ground(pieces, high)) if inside else (high, low)
    fitted = (_tangents if inside else _corners)(_folded(pieces, phase, pitch), tip, root)
    if fitted is None:
        return None
    tips = pieces.reshape(-1, 2)[np.abs(radii.reshape(-1) - tip) < NEAR]
    return Involutes(count, 2 * tip, 2 * root, 2 * fitted[0], fitted[1], phase, _widest(tips))


def _folded(pieces: Floats, phase: float, pitch: float) -> Floats:
    """Pieces laid over one another about the x axis, (n, 2, 2)."""
    middle = np.arctan2(pieces[..., 1].mean(axis=1), pieces[..., 0].mean(axis=1)) - phase
    turn = phase + np.round(middle / pitch) * pitch
    c, s = np.cos(turn)[:, None], np.sin(turn)[:, None]
    x, y = pieces[..., 0], pieces[..., 1]
    folded: Floats = np.stack([c * x + s * y, c * y - s * x], axis=-1)
    return folded


def _corners(pieces: Floats, tip: float, root: float) -> tuple[float, float] | None:
    """Base radius and half the angle there, by the corners of convex flanks."""
    points = pieces.reshape(-1, 2)
    radii, angles = np.hypot(points[:, 0], points[:, 1]), np.abs(np.arctan2(points[:, 1], points[:, 0]))
    upper = radii > tip - UPPER * (tip - root)
    level = np.round(radii[upper], 4)
    some = [(radii[upper][level == one], angles[upper][level == one]) for one in np.unique(level)]
    r = np.array([one[0][int(one[1].argmax())] for one in some])
    half = np.array([one[1].max() for one in some])
    if len(r) < 2:
        return None
    low, high = 0.3 * tip, float(r.min())
    for _ in range(3 * STEPS):
        a, b = low + (high - low) * 0.382, low + (high - low) * 0.618
        low, high = (low, b) if _scatter(a, r, half) < _scatter(b, r, half) else (a, high)
    base = 0.5 * (low + high)
    return base, float((half + _involute(base, r)).mean())


def _scatter(base: float, radii: Floats, half: Floats) -> float:
    return float((half + _involute(base, radii)).std())


def _involute(base: float, radii: Floats) -> Floats:
    angle = np.arccos(np.minimum(1.0, base / radii))
    found: Floats = np.tan(angle) - angle
    return found


def _tangents(pieces: Floats, tip: float, root: float) -> tuple[float, float] | None:
    """The same by the facets of hollow flanks, which touch the involute."""
    upper = pieces[(pieces[..., 1] > 0).all(axis=1)]
    steps = np.diff(upper, axis=1)[:, 0]
    long = np.hypot(*steps.T)
    upper, steps, long = upper[long > 1e-4], steps[long > 1e-4], long[long > 1e-4]
    normals = np.stack([-steps[:, 1], steps[:, 0]], axis=1) / long[:, None]
    normals *= np.where(normals[:, 1] < 0, -1.0, 1.0)[:, None]
    radii = np.hypot(upper[..., 0], upper[..., 1])
    radial = np.abs((normals * upper.mean(axis=1)).sum(axis=1)) / radii.mean(axis=1)
    flank = (radii.max(axis=1) < tip + UPPER * (root - tip)) & (radial < 0.85)
    if flank.sum() < 2:
        return None
    turn = np.arctan2(normals[flank, 1], normals[flank, 0])
    offset = (normals[flank] * upper[flank, 0]).sum(axis=1)
    rows = np.column_stack([turn, np.ones(len(turn))])
    slope, start = np.linalg.lstsq(rows, offset, rcond=None)[0].tolist()
    if slope >= 0:
        return None
    return -slope, start / -slope - 0.5 * math.pi


def _ground(pieces: Floats, high: float) -> float:
    """Radius at the feet of a ring: its ground is hollow, so its facets touch that."""
    steps = np.diff(pieces, axis=1)[:, 0]
    long = np.hypot(*steps.T)
    (x, y), (to_x, to_y) = pieces[:, 0].T, pieces[:, 1].T
    off = np.abs(x * to_y - y * to_x) / np.maximum(long, NEAR)
    radii = np.hypot(pieces[..., 0], pieces[..., 1])
    ground = (radii.min(axis=1) > 0.995 * high) & (long > 1e-3)
    return float(off[ground].max()) if ground.any() else high


def _widest(tips: Floats) -> float:
    """The furthest that two corners of tips are apart, as jaws over them read at most."""
    some = np.unique(np.round(tips, 6), axis=0)
    best = 0.0
    for point in some:
        best = max(best, float(np.hypot(*(some - point).T).max()))
    return best
