"""Which of the views on a sheet shows a distance or what a note speaks of best."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from ...quantities.vectors import XY, Vector
from .dimensions import corners
from .placed import Placed
from .types import Dimension, Note, Pair
from .views import Scene


def best_ends(scene: Scene, told: Dimension, views: Sequence[Placed]) -> tuple[Placed, tuple[XY, XY]] | None:
    """The view that shows a distance best, and its ends there on the sheet; None where no view shows it."""
    found: list[tuple[tuple[int, int, int, int], Placed, tuple[XY, XY]]] = []
    for view in views:
        if _lies(view, told.blind):
            continue
        for number, pair in enumerate(_pairs(scene, told, view)):
            way = np.subtract(pair[1], pair[0])
            if abs(float(way @ np.array(view.shown.view.out))) > 1e-6 * max(1.0, told.value):
                continue
            faced = 0 if told.face is None or _lies(view, told.face) else 1
            rank = (faced, int(_cut_away(view, pair)), 0 if view.shown.cut else 1, number)
            found.append((rank, view, (view.of(pair[0]), view.of(pair[1]))))
    if not found:
        return None
    _, view, ends = min(found, key=lambda one: one[0])
    return view, ends


def _pairs(scene: Scene, told: Dimension, view: Placed) -> Sequence[Pair]:
    """Where a distance may be drawn in a view; in a section at what is left of the body there."""
    if view.shown.cut is None or not told.outermost or told.blind is None:
        return told.pairs
    return [told.at(corner) for corner in corners(scene, told.outermost, told.blind, view.shown.mesh)]


def best_seen(note: Note, views: Sequence[Placed]) -> tuple[Note, Placed]:
    """A note, or the same elsewhere where a view looks straighter at that, and its view."""
    view, other = _best_view(note, views), note.other
    if other is not None and _faced(other, _best_view(other, views)) > _faced(note, view):
        return other, _best_view(other, views)
    return note, view


def _faced(note: Note, view: Placed) -> float:
    """How straight a view looks at what a note speaks of, 0 to 1."""
    return abs(round(_facing(view, note.face), 6))


def _best_view(note: Note, views: Sequence[Placed]) -> Placed:
    def rank(view: Placed) -> float:
        facing = _facing(view, note.face)
        return -abs(round(facing, 6)) - 0.1 * (facing > 0.5)

    return min(views, key=rank)


def _facing(view: Placed, way: Vector) -> float:
    return sum(a * b for a, b in zip(view.shown.view.out, way, strict=True))


def _cut_away(view: Placed, pair: Pair) -> bool:
    """True where an end of a distance lies in what a section has taken away."""
    cut = view.shown.cut
    if cut is None:
        return False
    return any(end[1] < cut.at - 1e-6 if cut.level else end[0] > cut.at + 1e-6 for end in pair)


def _lies(view: Placed, way: Vector | None) -> bool:
    """Whether a view looks straight along a way."""
    return way is not None and abs(_facing(view, way)) > 1 - 1e-9
