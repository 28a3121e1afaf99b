"""What is drawn, before it is known in which format: lines by their role, arcs, filled areas and text, in mm
on a sheet.

x runs to the right and y up from the sheet's lower left corner.  A maker (template, drawing, inspection
sheet) puts marks together; a writer (SVG, PDF, PNG) turns them into bytes and decides nothing."""

from __future__ import annotations

import math
from collections.abc import Sequence
from enum import Enum

from msgspec import Struct

from ...quantities.vectors import XY

_WIDE, _THIN = 0.5, 0.25
"""Line widths in mm: the group 0.5 of ISO 128 (wide to narrow as 2 to 1; the figures are from memory)."""


class Role(Enum):
    """What a line means.  The value: its number in ISO 128, width in mm, and strokes and gaps in mm (none:
    continuous).

    Strokes are multiples of the width d: dash 12 d, gap 3 d, long dash 24 d, dot 0.5 d (ISO 128-2, from
    memory)."""

    VISIBLE = ("01.2", _WIDE, ())
    NARROW = ("01.1", _THIN, ())  # dimensions, extensions, leaders, hatching
    HIDDEN = ("02.1", _THIN, (12 * _THIN, 3 * _THIN))
    CENTRE = ("04.1", _THIN, (24 * _THIN, 3 * _THIN, 0.5 * _THIN, 3 * _THIN))
    CUT = ("04.2", _WIDE, (24 * _THIN, 3 * _THIN, 0.5 * _THIN, 3 * _THIN))  # ends of a cutting plane
    NEIGHBOUR = ("05.1", _THIN, (24 * _THIN, *(3 * _THIN, 0.5 * _THIN) * 2, 3 * _THIN))

    def __init__(self, number: str, width: float, pattern: tuple[float, ...]) -> None:
        self.number, self.width, self.pattern = number, width, pattern


class Line(Struct, frozen=True):
    """A chain of straight strokes through points, closed where asked for."""

    role: Role
    points: tuple[XY, ...]
    closed: bool = False


class Arc(Struct, frozen=True):
    """A round or a part of one: anticlockwise from `start` by `sweep` (radians)."""

    role: Role
    centre: XY
    radius: float
    start: float = 0.0
    sweep: float = 2 * math.pi

    def points(self, chord: float = 0.01) -> tuple[XY, ...]:
        """Points on the arc, near enough for strokes between them to stray no more than `chord` mm."""
        step = 2 * math.acos(max(0.5, 1 - chord / max(self.radius, 1e-9)))
        count = max(2, math.ceil(abs(self.sweep) / step))
        turns = [self.start + self.sweep * i / count for i in range(count + 1)]
        return tuple(
            (self.centre[0] + self.radius * math.cos(a), self.centre[1] + self.radius * math.sin(a))
            for a in turns
        )


class Area(Struct, frozen=True):
    """A filled area: rings (even-odd), `shade` from 0 (black) to 1 (white)."""

    rings: tuple[tuple[XY, ...], ...]
    shade: float = 0.0


class Text(Struct, frozen=True):
    """A line of text: `at` is the left end of its base line, `size` its em in mm, `turn` its direction in
    degrees.
    """

    at: XY
    text: str
    size: float
    turn: float = 0.0
    bold: bool = False
    shade: float = 0.0


Mark = Line | Arc | Area | Text


class Sheet(Struct, frozen=True):
    """One sheet of paper: its size in mm and what is drawn on it, in the order of drawing."""

    width: float
    height: float
    marks: tuple[Mark, ...]


PAPERS = {"a4": (210.0, 297.0), "letter": (215.9, 279.4)}
"""Sizes of paper in mm, upright (ISO 216; ANSI/ASME Y14.1)."""


def line(role: Role, *points: XY) -> Line:
    """A line through points."""
    return Line(role, tuple((float(x), float(y)) for x, y in points))


def ring(role: Role, points: Sequence[XY]) -> Line:
    """A closed line through points."""
    return Line(role, tuple((float(x), float(y)) for x, y in points), True)


def arrow(tip: XY, turn: float, long: float = 2.5, wide: float = 0.85) -> Area:
    """A filled arrowhead (ISO 129-1): `turn` is the direction it points in, in radians; sizes in mm."""
    c, s = math.cos(turn), math.sin(turn)
    back = (tip[0] - long * c, tip[1] - long * s)
    half = 0.5 * wide
    return Area(((tip, (back[0] - half * s, back[1] + half * c), (back[0] + half * s, back[1] - half * c)),))
