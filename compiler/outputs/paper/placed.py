"""Views set on a sheet: where each stands, and its lines there."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from msgspec import Struct

from ...quantities.arrays import Floats
from ...quantities.vectors import XY
from .placing import Box
from .projection import Shown

ROUND_VIEWS = 20.0  # mm of room round the views
BETWEEN = 27.0  # mm between two views
MOST_SPARE = 12.0  # mm more between two views where there is room


class Placed(Struct, frozen=True):
    """A view on the sheet: where its lower left corner is, its scale, its rectangle, and its lines there."""

    shown: Shown
    at: XY
    scale: float
    zone: Box
    outline: Floats

    def point(self, flat: XY) -> XY:
        """A point of the view on the sheet."""
        return (
            self.at[0] + self.scale * (flat[0] - self.shown.low[0]),
            self.at[1] + self.scale * (flat[1] - self.shown.low[1]),
        )

    def of(self, point: tuple[float, float, float]) -> XY:
        """A point of the part on the sheet."""
        return self.point(self.shown.view.at(point))


def bands(shown: Sequence[Shown], axis: int) -> dict[int, float]:
    """Width of each column (or height of each row) of views, mm of the part."""
    sizes: dict[int, float] = {}
    for one in shown:
        sizes[one.cell[axis]] = max(sizes.get(one.cell[axis], 0.0), one.high[axis] - one.low[axis])
    return dict(sorted(sizes.items()))


def arranged(shown: Sequence[Shown], scale: float, bounds: Box) -> list[Placed]:
    """Views set in rows and columns, the whole in the middle of the room (`bounds`, mm of the sheet)."""
    starts: list[dict[int, float]] = []
    for axis in range(2):
        sizes = bands(shown, axis)
        total = scale * sum(sizes.values()) + BETWEEN * (len(sizes) - 1)
        low, high = bounds[axis], bounds[axis + 2]
        spare = max(0.0, (high - low - total - 2 * ROUND_VIEWS) / (len(sizes) + 1))
        spare = min(spare, MOST_SPARE)
        total += spare * (len(sizes) - 1)
        at = low + 0.5 * (high - low - total)
        places: dict[int, float] = {}
        for cell, size in sizes.items():
            places[cell] = at
            at += scale * size + BETWEEN + spare
        starts.append(places)
    found = []
    for one in shown:
        at_x, at_y = starts[0][one.cell[0]], starts[1][one.cell[1]]
        wide, high = (scale * (one.high[axis] - one.low[axis]) for axis in range(2))
        outline = np.array([at_x, at_y] * 2) + scale * (_strokes(one) - np.array([*one.low, *one.low]))
        zone = (at_x - 1.0, at_y - 1.0, at_x + wide + 1.0, at_y + high + 1.0)
        found.append(Placed(one, (at_x, at_y), scale, zone, outline))
    return found


def _strokes(one: Shown) -> Floats:
    """The visible edges of a view as strokes (n, 4)."""
    found = []
    for wire in one.wires:
        if not wire.hidden:
            points = np.array([*wire.points, *(wire.points[:1] if wire.closed else ())])
            found.append(np.concatenate([points[:-1], points[1:]], axis=1))
    return np.concatenate(found) if found else np.array([[*one.low, *one.high]])
