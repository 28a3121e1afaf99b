"""Prisms and their kin: one outline, or several matched ones, stacked along z and skinned.

All of them are one thing, a *stack*: levels (z, outline), the outlines matched point by point, faces at both
ends and walls between.  An edge of an end face that was cut into pieces (see `caps`) is met by a fan from the
far corner of its wall panel, so no vertex ever lies inside a neighbour's edge."""

from __future__ import annotations

from collections.abc import Callable, Sequence

import numpy as np
from msgspec import Struct

from ..diagnostics.types import Trouble
from ..outlines.types import Region, Ring
from ..quantities.arrays import Floats, Longs
from .caps import Cap, cap, ring_follow
from .insets import inset_closing
from .kernel import Solid, drop_collapsed, from_arrays

Inset = Callable[[Region, float], Region | None]
"""A function that moves every edge of a region inwards by mm (outwards when negative), point for point, or
None.
"""

TINY = 1e-9  # mm: ring edges shorter than this are dropped


class Level(Struct, frozen=True):
    """One outline of a stack at height z (mm), and the label of the wall from it up to the next (None: ring
    labels).
    """

    z: float
    region: Region
    label: int | None = None


class EndBevels(Struct, frozen=True):
    """How high (mm) the bevels at the front and the back of a prism are, and their label.

    They are at 45 degrees: the outline is drawn in by as much as the bevel is high.  `inset` does that point
    for point; the outline room's own is used when none is given."""

    front: float = 0.0
    back: float = 0.0
    label: int = 0
    inset: Inset = inset_closing


SQUARE_ENDS = EndBevels()


class PadHeights(Struct, frozen=True):
    """From which height a pad rises to which, mm; with `high` below `low` it points down.

    `root`: the height inside the body from which it is built up straight to `low`, so that it never merely
    lies on a face."""

    low: float
    high: float
    root: float | None = None


def prism(
    region: Region,
    low: float,
    high: float,
    front_label: int,
    back_label: int,
    bevels: EndBevels = SQUARE_ENDS,
) -> Solid:
    """The region from z = low (the back) to z = high (the front), mm; walls carry the labels of the ring
    edges.

    Raises Trouble: 'no-thickness', 'no-outline', 'bevel-too-large', 'bad-solid'."""
    _ask(
        high - low > TINY,
        "no-thickness",
        "the two flats of this body lie on each other or the wrong way round",
    )
    front, back = bevels.front, bevels.back
    _ask(front >= 0 and back >= 0, "bevel-too-large", "a bevel can't be less than nothing")
    room = high - low - front - back
    _ask(
        room >= -TINY,
        "bevel-too-large",
        "the bevels of both flats together are higher than the part is thick",
    )
    region = cleaned(region)
    levels = [Level(low + back, region), Level(high - front, region)]
    if room <= TINY:
        levels = levels[:1]
    if back:
        levels.insert(0, Level(low, drawn_in(region, back, bevels.inset, "bevel-too-large"), bevels.label))
    if front:
        levels[-1] = Level(levels[-1].z, region, bevels.label)
        levels.append(Level(high, drawn_in(region, front, bevels.inset, "bevel-too-large")))
    return stack(levels, front_label, back_label)


def ramped(
    region: Region, heights: PadHeights, ramp: float, label: int, inset: Inset = inset_closing
) -> Solid:
    """A pad: full height over the whole region, falling from its high to its low over `ramp` mm outside it.

    `ramp` 0 is a plain pad.  Raises Trouble: 'ramp-too-long' where the outline, moved outwards, would run
    into itself; 'no-thickness', 'no-outline', 'bad-solid'."""
    low, high, root = heights.low, heights.high, heights.root
    _ask(abs(high - low) > TINY, "no-thickness", "a pad needs a height")
    _ask(ramp >= 0, "ramp-too-long", "a ramp can't be shorter than nothing")
    down = -1.0 if high < low else 1.0
    region = cleaned(region)
    foot = drawn_in(region, -ramp, inset, "ramp-too-long") if ramp else region
    levels = [Level(low * down, foot, label), Level(high * down, region)]
    if root is not None and root * down < low * down:
        levels.insert(0, Level(root * down, foot, label))
    solid = stack(levels, label, label)
    return solid if down > 0 else solid.mirror((0.0, 0.0, 1.0))


def stack(levels: Sequence[Level], top_label: int, bottom_label: int) -> Solid:
    """The solid through two or more levels with matched outlines, z rising.  Raises Trouble('bad-solid')."""
    counts = [len(ring.points) for ring in levels[0].region.rings]
    edge_labels = np.concatenate([ring.labels for ring in levels[0].region.rings])
    size, follow = sum(counts), ring_follow(counts)
    flats = [np.concatenate([ring.points for ring in level.region.rings]) for level in levels]
    bottom, top = _end_caps(levels)
    points = [
        np.column_stack([flat, np.full(size, level.z)]) for flat, level in zip(flats, levels, strict=True)
    ]
    base, lid = len(levels) * size, len(levels) * size + len(bottom.points) - size
    points += [_raised(bottom, size, levels[0].z), _raised(top, size, levels[-1].z)]
    bottom_at = _numbering(bottom, size, 0, base)
    top_at = _numbering(top, size, (len(levels) - 1) * size, lid)
    triangles = [bottom_at[bottom.triangles[:, ::-1]], top_at[top.triangles]]
    labels = [np.full(len(bottom.triangles), bottom_label), np.full(len(top.triangles), top_label)]
    whole = np.column_stack([np.arange(size), follow])
    for k, level in enumerate(levels[:-1]):
        below = (bottom_at[bottom.around], bottom.parent) if k == 0 else (whole + k * size, whole[:, 0])
        last = k == len(levels) - 2
        above = (top_at[top.around], top.parent) if last else (whole + (k + 1) * size, whole[:, 0])
        # the panel's far corners: above right for pieces of the lower edge, below left for pieces of the
        # upper one
        triangles.append(np.column_stack([below[0], follow[below[1]] + (k + 1) * size]))
        triangles.append(np.column_stack([above[0][:, ::-1], above[1] + k * size]))
        both = np.concatenate([edge_labels[below[1]], edge_labels[above[1]]])
        labels.append(both if level.label is None else np.full(len(both), level.label))
    joined = _same_points(flats, follow, sum(len(part) for part in points))
    welded = drop_collapsed(joined[np.concatenate(triangles)], np.concatenate(labels))
    return from_arrays(np.concatenate(points), *welded)


def cleaned(region: Region) -> Region:
    """The region without edges of no length; Trouble('no-outline') where nothing is left."""
    points = np.concatenate([ring.points for ring in region.rings])
    _ask(bool(np.isfinite(points).all()), "bad-solid", "a size in this outline came out without end")
    step = points[ring_follow([len(ring.points) for ring in region.rings])] - points
    if (
        all(len(ring.points) >= 3 for ring in region.rings)
        and (np.hypot(step[:, 0], step[:, 1]) > TINY).all()
    ):
        return region
    rings = [ring for ring in map(_clean_ring, region.rings) if len(ring.points) >= 3]
    _ask(bool(rings), "no-outline", "this outline encloses no area")
    return Region(tuple(rings))


def drawn_in(region: Region, by: float, inset: Inset, code: str) -> Region:
    """The region moved inwards by mm, matched point for point; Trouble(code) where it can't be."""
    moved = inset(region, by)
    if moved is None:
        says = "a bevel this large eats up a neck or a corner of the outline"
        if by < 0:
            says = "a ramp this long runs into itself in a hollow of the outline"
        raise Trouble(code, says)
    same = [len(a.points) == len(b.points) for a, b in zip(region.rings, moved.rings, strict=False)]
    _ask(
        len(region.rings) == len(moved.rings) and all(same),
        code,
        "the outline changes its shape when moved this far",
    )
    return moved


def _clean_ring(ring: Ring) -> Ring:
    points, labels = ring.points, ring.labels
    while len(points):
        step = np.roll(points, -1, axis=0) - points
        keep = np.hypot(step[:, 0], step[:, 1]) > TINY
        if keep.all():
            break
        points, labels = points[keep], labels[keep]
    return Ring(points, labels)


def _end_caps(levels: Sequence[Level]) -> tuple[Cap, Cap]:
    bottom = cap([ring.points for ring in levels[0].region.rings])
    if levels[-1].region is levels[0].region:
        return bottom, bottom
    return bottom, cap([ring.points for ring in levels[-1].region.rings])


def _raised(face: Cap, size: int, z: float) -> Floats:
    extra = face.points[size:]
    return np.column_stack([extra, np.full(len(extra), z)])


def _numbering(face: Cap, size: int, ring_start: int, extra_start: int) -> Longs:
    """Where the points of an end face stand in the whole: its ring points in their level, the others
    behind.
    """
    at = np.arange(len(face.points), dtype=np.int64) + ring_start
    at[size:] += extra_start - ring_start - size
    return at


def _same_points(flats: Sequence[Floats], follow: Longs, total: int) -> Longs:
    """Each point's number after welding neighbours in a ring that fell together when the outline was drawn
    in.
    """
    joined = np.arange(total, dtype=np.int64)
    for k, flat in enumerate(flats):
        step = flat[follow] - flat
        for index in np.flatnonzero(np.hypot(step[:, 0], step[:, 1]) <= TINY)[::-1].tolist():
            joined[k * len(follow) + index] = joined[k * len(follow) + follow[index]]
    while (joined != (settled := joined[joined])).any():
        joined = settled
    return joined


def _ask(holds: bool, code: str, says: str) -> None:
    if not holds:
        raise Trouble(code, says)
