"""Solids of revolution about z, with facets on the right side of the true surface.

A faceted circle lies inside the true one between its corners.  That is right for a peg (it must go into its
bore) and wrong for a bore (the peg must pass): there the corners are set out to r / cos(pi / n), so that the
middles of the facets touch the true circle.  Both kinds share one facet count and one set of angles, so a
pipe's wall stays even."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from math import acos, ceil, cos, pi, sin

import numpy as np
import numpy.typing as npt
from msgspec import Struct

from ..diagnostics.types import Trouble
from ..quantities.arrays import Bools, Floats, Ints, Longs
from .kernel import Solid, drop_collapsed, from_arrays

FEWEST = 12
MOST = 4096
MOST_FACETS = 2_000_000
ON_AXIS = 1e-9  # mm: radii below this are the axis


class SurfaceStrip(Struct, frozen=True):
    """What stands in the place of a cylinder between two circles of n corners: further points (k, 3), and
    triangles (m, 3) that face away from the axis, counted over the lower circle, the upper one, then the
    further points."""

    points: Floats
    triangles: Longs
    ridge: Longs
    """Numbers of the triangles that stand out of the cylinder; the rest are the ground between them."""
    label: int
    """The label of those; the ground keeps that of its edge."""


def facet_count(radius: float, chord: float) -> int:
    """Facets round a circle so that no chord lies further than `chord` (mm) from it: pi / acos(1 - e / r).

    At least 12, and a multiple of 4 so that the four outermost points lie on the axes and the width across is
    true."""
    if not chord > 0:
        raise ValueError("the chord error must be more than nothing")
    if radius <= chord:
        return FEWEST
    return min(MOST, max(FEWEST, 4 * ceil(pi / acos(1 - chord / radius) / 4)))


def unit_circle(n: int) -> Floats:
    """n points (n, 2) of the unit circle, n a multiple of 4: one quarter computed, the others its exact
    turns.
    """
    steps = range(n // 4)
    quarter = np.array([[cos(2 * pi * k / n), sin(2 * pi * k / n)] for k in steps])
    quarter[0] = (1.0, 0.0)
    turns = [quarter]
    for _ in range(3):
        turns.append(np.column_stack([-turns[-1][:, 1], turns[-1][:, 0]]))
    return np.concatenate(turns) + 0.0


def turned(profile: Floats, labels: Ints, outside: Bools, chord: float) -> Solid:
    """The solid that a closed half profile sweeps about the z axis.

    profile (n, 2): (r, z) in mm, r >= 0, either way round; labels (n,): labels[i] marks the surface of the
    edge from corner i to i + 1; outside (n,): True where a corner belongs to an outer surface (set on the
    true circle), False in a bore (set out so that a true cylinder or cone passes).  `chord`: greatest
    distance (mm) between facet and circle at the largest radius; one facet count for the whole.  A wall
    thinner than that gets finer facets. Raises Trouble: 'too-many-facets', 'behind-axis', 'no-outline',
    'crosses-itself', 'bad-solid'."""
    profile, labels, outside, n = prepared(profile, labels, outside, chord)
    return swept(profile, labels, outside, np.full(len(profile), n))


def prepared(profile: Floats, labels: Ints, outside: Bools, chord: float) -> tuple[Floats, Ints, Bools, int]:
    """A half profile as `swept` needs it, material on its left, and the facets round it.  Raises Trouble:
    'too-many-facets', 'behind-axis', 'no-outline', 'bad-solid'."""
    profile, labels, outside = _anticlockwise(profile, labels, outside)
    if profile[:, 0].min() < -ON_AXIS:
        raise Trouble("behind-axis", "a turned shape can't reach across its own axis")
    profile = np.where(np.abs(profile) <= [ON_AXIS, 0.0], 0.0, profile)
    n = facet_count(float(profile[:, 0].max()), chord)
    if n * len(profile) > MOST_FACETS:
        says = f"this turned shape would need about {n * len(profile) // 1000} thousand facets"
        raise Trouble(
            "too-many-facets",
            says,
            advice=("ask for coarser curves: --chord 0.05", "leave out some stations"),
        )
    return profile, labels, outside, n


def swept(
    profile: Floats,
    labels: Ints,
    outside: Bools,
    counts: Longs,
    strips: Mapping[int, Callable[[int], SurfaceStrip]] | None = None,
) -> Solid:
    """The solid of a half profile with `counts` facets round each corner; at some edges a strip, made for the
    count there, takes the place of the plain cylinder.  Raises Trouble('crosses-itself')."""
    while _crosses(drawn := _set_out(profile, outside, counts)):
        counts = counts * 2
        if counts.max() > MOST:
            raise Trouble("crosses-itself", "the profile of this turned shape crosses itself")
    made = {edge: strip(int(counts[edge])) for edge, strip in (strips or {}).items()}
    return _swept(drawn, labels, counts, made)


def _set_out(profile: Floats, outside: Bools, counts: Longs) -> Floats:
    stretch = np.where(outside, 1.0, 1.0 / np.cos(pi / counts))
    return np.column_stack([profile[:, 0] * stretch, profile[:, 1]])


def _anticlockwise(profile: Floats, labels: Ints, outside: Bools) -> tuple[Floats, Ints, Bools]:
    """The profile with material on its left and without edges of no length."""
    profile = np.asarray(profile, dtype=np.float64)
    if not np.isfinite(profile).all():
        raise Trouble("bad-solid", "a size in this profile came out without end")
    step = np.roll(profile, -1, axis=0) - profile
    keep = np.hypot(step[:, 0], step[:, 1]) > ON_AXIS
    profile, labels, outside = profile[keep], np.asarray(labels)[keep], np.asarray(outside)[keep]
    if len(profile) < 3:
        raise Trouble("no-outline", "this profile encloses no area")
    ahead = np.roll(profile, -1, axis=0)
    if (profile[:, 0] * ahead[:, 1] - ahead[:, 0] * profile[:, 1]).sum() >= 0:
        return profile, labels, outside
    return profile[::-1], np.roll(labels[::-1], -1), outside[::-1]


def _crosses(ring: Floats) -> bool:
    """True where two edges of the ring that aren't neighbours cross, or the ring runs backwards."""
    a, b = ring, np.roll(ring, -1, axis=0)
    if (a[:, 0] * b[:, 1] - b[:, 0] * a[:, 1]).sum() <= 0:
        return True
    n = len(ring)

    def side(p: Floats, q: Floats, r: Floats) -> Floats:
        left = (q[:, None, 0] - p[:, None, 0]) * (r[None, :, 1] - p[:, None, 1])
        return left - (q[:, None, 1] - p[:, None, 1]) * (r[None, :, 0] - p[:, None, 0])

    start, end = side(a, b, a), side(a, b, b)
    parted = (start * end < 0) & (start * end < 0).T
    apart = (np.arange(n)[:, None] - np.arange(n)[None, :]) % n
    return bool((parted & (apart > 1) & (apart < n - 1)).any())


def _swept(profile: Floats, labels: Ints, counts: Longs, strips: dict[int, SurfaceStrip]) -> Solid:
    """The rings of all corners, each of as many points as its count (one on the axis), and what lies between
    each two.
    """
    points: list[Floats] = []
    rings: list[Longs] = []
    size = 0
    circles = {count: unit_circle(count) for count in set(counts.tolist())}
    for (r, z), count in zip(profile.tolist(), counts.tolist(), strict=True):
        flat = circles[count] * r if r else np.zeros((1, 2))
        points.append(np.column_stack([flat, np.full(len(flat), z)]))
        rings.append(size + np.arange(len(flat)))
        size += len(flat)
    rows: list[Longs] = []
    marks: list[npt.NDArray[np.integer]] = []
    for i, (here, on) in enumerate(zip(rings, [*rings[1:], rings[0]], strict=True)):
        if i not in strips:
            rows.append(_between(here, on))
            marks.append(np.full(len(rows[-1]), labels[i]))
            continue
        one, up = strips[i], profile[i, 1] < profile[(i + 1) % len(profile), 1]
        known = [here, on] if up else [on, here]
        own = np.concatenate([*known, size + np.arange(len(one.points))])[one.triangles]
        mark = np.full(len(own), labels[i])
        mark[one.ridge] = one.label
        points.append(one.points)
        size += len(one.points)
        rows.append(own if up else own[:, ::-1])
        marks.append(mark)
    return from_arrays(np.concatenate(points), *drop_collapsed(np.concatenate(rows), np.concatenate(marks)))


def _between(here: Longs, on: Longs) -> Longs:
    """Triangles between two rings that both begin at the same angle, whatever the number of their corners.

    Each edge of either ring takes the corner of the other one that comes next (at or before its end) round
    the axis."""
    m, n = len(here), len(on)
    k, j = np.arange(1, m + 1), np.arange(1, n + 1)
    lower = np.stack([here, here[k % m], on[k * n // m % n]], axis=-1)
    upper = np.stack([here[(-(-j * m // n) - 1) % m], on[j % n], on], axis=-1)
    return np.concatenate([lower, upper])
