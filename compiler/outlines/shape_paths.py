"""Shapes of the model as closed paths: rounds, rectangles and webs, boxes, the mouths of holes."""

from __future__ import annotations

from collections.abc import Sequence

from ..diagnostics.types import at_fault
from ..model.sections import CircleAt, RectangleAt, ShapeAt
from ..model.types import Corners, Mouth
from ..quantities.vectors import XY
from .corners import round_corners
from .marks import Marks
from .shapes import circle, polygon, rectangle, web
from .types import Path


def shape_path(shape: ShapeAt, marks: Marks) -> Path:
    """A round, rectangle or web.  Raises Trouble as `round_corners` does."""
    if isinstance(shape, RectangleAt):
        return box_path(shape.at, shape.half, shape.corners, shape.owner, marks)
    label = marks.of(shape.owner)
    if isinstance(shape, CircleAt):
        return circle(shape.at, shape.radius, label)
    return web(shape.first, shape.second, shape.wide, label)


def box_path(at: XY, half: XY, corners: Sequence[Corners], owner: str, marks: Marks) -> Path:
    """A rectangle by its middle and half-sizes (mm), each side labelled by its name, its corners rounded.

    Raises Trouble as `round_corners` does."""
    (x, y), labels = half, [marks.of(owner, side) for side in ("left", "bottom", "right", "top")]
    low, high = (at[0] - x, at[1] - y), (at[0] + x, at[1] + y)
    path = rectangle(low, high, (labels[0], labels[1], labels[2], labels[3]))
    for some in corners:
        places = [place for place, _ in some.places] or None
        with at_fault(some.said.span):
            path = round_corners(path, some.size.value, "outside", places, marks.of(owner, some.said.word))
    return path


def mouth_path(mouth: Mouth, at: XY, owner: str, marks: Marks) -> Path:
    """The mouth of a hole at its flat: a round, or the hexagon that a nut is let into."""
    label = marks.of(owner, mouth.said.word)
    if mouth.nut:
        return polygon(at, mouth.wide.value, 6, mouth.turn, label)
    return circle(at, 0.5 * mouth.wide.value, label)
