"""Boards: a drawn piece of its own size that is still to be laid on a sheet, moved there or cut to a tile of
it.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterator

from msgspec import Struct

from ...quantities.vectors import XY
from .lettering import text_box
from .marks import Arc, Area, Line, Mark, Text


class Board(Struct, frozen=True):
    """Marks in a frame of their own: from (0, 0) to (wide, high) mm."""

    wide: float
    high: float
    marks: tuple[Mark, ...]

    def moved(self, dx: float, dy: float) -> Iterator[Mark]:
        """The marks moved to their place."""
        return (moved(one, dx, dy) for one in self.marks)

    def within(self, left: float, low: float, right: float, high: float) -> Iterator[Mark]:
        """What lies in a rectangle of the board; lines end at its sides, a text is whole or not there."""
        for one in self.marks:
            if isinstance(one, Text):
                box = text_box(one)
                if left <= box[0] and box[2] <= right and low <= box[1] and box[3] <= high:
                    yield one
            elif isinstance(one, Line | Arc):
                yield from _clipped(one, (left, low, right, high))
            elif all(left <= x <= right and low <= y <= high for ring in one.rings for x, y in ring):
                yield one


def moved(mark: Mark, dx: float, dy: float) -> Mark:
    """A mark moved by mm."""
    if isinstance(mark, Line):
        return Line(mark.role, tuple((x + dx, y + dy) for x, y in mark.points), mark.closed)
    if isinstance(mark, Arc):
        return Arc(mark.role, (mark.centre[0] + dx, mark.centre[1] + dy), mark.radius, mark.start, mark.sweep)
    if isinstance(mark, Area):
        return Area(tuple(tuple((x + dx, y + dy) for x, y in ring) for ring in mark.rings), mark.shade)
    return Text((mark.at[0] + dx, mark.at[1] + dy), mark.text, mark.size, mark.turn, mark.bold, mark.shade)


def _clipped(mark: Line | Arc, box: tuple[float, float, float, float]) -> Iterator[Mark]:
    points = mark.points() if isinstance(mark, Arc) else mark.points
    if all(box[0] <= x <= box[2] and box[1] <= y <= box[3] for x, y in points):
        yield mark
        return
    if isinstance(mark, Line) and mark.closed:
        points = (*points, points[0])
    run: list[XY] = []
    for start, end in itertools.pairwise(points):
        piece = clip(start, end, box)
        if piece is None:
            continue
        if run and run[-1] == piece[0]:
            run.append(piece[1])
            continue
        if run:
            yield Line(mark.role, tuple(run))
        run = list(piece)
    if run:
        yield Line(mark.role, tuple(run))


def clip(start: XY, end: XY, box: tuple[float, float, float, float]) -> tuple[XY, XY] | None:
    """The stretch of a stroke inside a rectangle (Liang and Barsky), None where there is none."""
    t0, t1 = 0.0, 1.0
    for axis in range(2):
        way = end[axis] - start[axis]
        for limit, sign in ((box[axis], 1.0), (box[axis + 2], -1.0)):
            inside, by = sign * (start[axis] - limit), sign * way
            if by == 0:
                if inside < 0:
                    return None
                continue
            at = -inside / by
            t0, t1 = (max(t0, at), t1) if by > 0 else (t0, min(t1, at))
    if t0 >= t1:
        return None

    def spot(t: float) -> XY:
        if t in (0.0, 1.0):
            return end if t else start
        return (start[0] + (end[0] - start[0]) * t, start[1] + (end[1] - start[1]) * t)

    return spot(t0), spot(t1)
