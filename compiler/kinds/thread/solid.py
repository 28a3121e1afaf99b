"""Threaded pegs, and the cutters of threaded bores."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from ...diagnostics.types import Trouble
from ...mesh.kernel import Solid
from ...outlines.marks import Marks
from .ridges import MEETS, Wound, threaded

Ends = tuple[float, float]


def threaded_peg(name: str, one: Wound, bevels: Ends, marks: Marks, chord: float) -> Solid:
    """A peg about z, threaded all along, with bevels (back, front) at its ends; `name`: whose faces these
    are.

    Raises Trouble: 'bevel-too-large', and what `threaded` raises."""
    (low, high), (back, front), r = (one.low, one.high), bevels, 0.5 * one.form.ground
    if back + front > high - low - MEETS or max(bevels) > r - MEETS:
        said = f"the bevels of `{name}` leave nothing for its thread to wind round"
        raise Trouble("bevel-too-large", said, (name,), advice=("a smaller bevel",))
    side, bevel = marks.of(name), marks.of(name, "bevel")
    corners = [
        (0.0, low, marks.of(name, "back")),
        (r - back, low, bevel if back else side),
        (r, low + back, side),
        (r, high - front, bevel),
        (r - front, high, marks.of(name, "front")),
        (0.0, high, side),
    ]
    return _about_z(corners, True, chord, one)


def threaded_tool(one: Wound, heights: Ends, label: int, chord: float) -> Solid:
    """The cutter of a threaded bore about z between two heights: it leaves the ridges standing where the
    thread is.  Raises Trouble as `threaded` does."""
    (low, high), r = heights, 0.5 * one.form.ground
    return _about_z(
        [(0.0, low, label), (r, low, label), (r, high, label), (0.0, high, label)], False, chord, one
    )


def _about_z(corners: Sequence[tuple[float, float, int]], outside: bool, chord: float, one: Wound) -> Solid:
    """What corners (radius, height, label of the edge from there) enclose with the axis, threaded."""
    labels = np.array([label for *_, label in corners], dtype=np.int32)
    return threaded(
        np.array([corner[:2] for corner in corners]), labels, np.full(len(corners), outside), chord, (one,)
    )
