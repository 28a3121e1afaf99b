"""How far the pieces of a part are from one another, and which bodies of theirs are nearest."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from msgspec import Struct

from ..quantities.arrays import Floats
from .combine import common
from .kernel import Solid

MOST = 60
"""So many pieces, the largest, are measured to one another."""
TOUCH = 1e-9  # mm


class NearestPair(Struct, frozen=True):
    """The way between the two nearest pieces of a part: mm, and the body (or copy) at either end of it."""

    length: float
    first: str
    second: str

    def words(self) -> str:
        """What is said of it."""
        if self.length < TOUCH:
            some = f"`{self.first}` and `{self.second}`"
            some = f"two pieces of `{self.first}`" if self.first == self.second else some
            return f"{some} touch along an edge or at a point only, and nothing holds them there"
        both = f"both of `{self.first}`"
        both = both if self.first == self.second else f"of `{self.first}` and of `{self.second}`"
        return f"the two nearest pieces, {both}, are {_length(self.length)} mm apart"


def nearest_pair(
    pieces: Sequence[Solid], homes: Sequence[set[str]], parts: Sequence[tuple[str, Solid]]
) -> NearestPair:
    """The gap between the two nearest of at least two pieces.  `homes`: the bodies and copies that each piece
    has something of, `parts`: these with their material.  Of equal gaps the first in the order of pieces.
    """
    some = sorted(sorted(range(len(pieces)), key=lambda i: (-pieces[i].volume(), i))[:MOST])
    boxes = {i: _box(pieces[i]) for i in some}
    best = (float("inf"), some[0], some[1])
    for least, i, j in sorted((_between(boxes[i], boxes[j]), i, j) for i in some for j in some if i < j):
        if least >= best[0]:
            break
        gap = _gap(pieces[i], pieces[j])
        best = (gap, i, j) if gap < best[0] - TOUCH else best
    gap, i, j = best
    first = _nearest_body(pieces[i], homes[i], parts, pieces[j])
    second = _nearest_body(pieces[j], homes[j], parts, pieces[i])
    return NearestPair(gap, *sorted((first, second)))


def _nearest_body(piece: Solid, home: set[str], parts: Sequence[tuple[str, Solid]], other: Solid) -> str:
    """The body or copy of a piece that is nearest to another piece."""
    names = [(name, solid) for name, solid in parts if name in home] or list(parts)
    if len(names) == 1:
        return names[0][0]
    found = ((common(solid, piece), name) for name, solid in names)
    gaps = [(round(_gap(solid, other), 6), k, name) for k, (solid, name) in enumerate(found)]
    return min(gaps)[2]


def _gap(a: Solid, b: Solid) -> float:
    """The distance (mm) between two solids that share no room, wherever on them it is least."""
    if a.is_empty() or b.is_empty():
        return float("inf")
    reach = float(np.linalg.norm(np.ptp(np.vstack([_box(a), _box(b)]), axis=0)))
    return float(a.min_gap(b, reach))


def _length(gap: float) -> str:
    return f"{gap:.2f}" if gap >= 0.01 else np.format_float_positional(float(f"{gap:.1g}"))


def _box(solid: Solid) -> Floats:
    return np.array(solid.bounding_box()).reshape(2, 3)


def _between(a: Floats, b: Floats) -> float:
    return float(np.linalg.norm(np.maximum(0.0, np.maximum(a[0] - b[1], b[0] - a[1]))))
