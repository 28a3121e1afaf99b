"""Letters and arrows as flat regions, and how thin their thinnest stroke is.

A letter's contours wind one way round ink and the other round its openings, and may overlap: ink is where
they wind round at all (the rule of the font format).  Curves are parabolas, cut into as many pieces as the
chord asks for."""

from __future__ import annotations

import math
from functools import cache

import manifold3d as m3
import numpy as np

from ..kinds.mark.sizes import ARROW_LONG, lettered, typeface
from ..quantities.arrays import Floats
from .booleans import canonical
from .types import Region, Ring

MOST_PIECES = 16
LOST = 0.05
"""Share of a letter's ink that may go before a stroke counts as too thin."""


def letters_region(
    text: str, high: float, chord: float, label: int, flip: bool = False, turn: float = 0.0
) -> Region:
    """A text with capitals `high` mm high, the middle of its capitals' box at the origin, turned by `turn`
    (radians).

    `flip` turns it over at last, left for right, for those who see it from behind.  Letters the typeface
    lacks are left out."""
    font, rings, pen = typeface(), [], 0.0
    text, scale = lettered(text), high / font.capital
    left, right = font.ink(text)
    for letter in text:
        for contour in font.contours(letter):
            points = [at for piece in contour for at in _flat(piece, scale, chord)]
            shift = np.array([pen - 0.5 * (left + right), -0.5 * font.capital])
            rings.append((np.array(points, dtype=np.float64) + shift) * scale)
        pen += font.width(letter)
    return _region(rings, label, flip, turn)


def arrow_region(high: float, label: int, flip: bool = False, turn: float = 0.0) -> Region:
    """An arrow to the right, `high` mm broad over its barbs, its middle at the origin; turned and flipped
    like a text.

    Head 0.9 and shaft 1.1 long, the shaft 0.4 broad (in heights): 0.89 high^2 of ink."""
    long, neck, shaft = 0.5 * ARROW_LONG, 0.1, 0.2
    points = [
        (-long, -shaft),
        (neck, -shaft),
        (neck, -0.5),
        (long, 0.0),
        (neck, 0.5),
        (neck, shaft),
        (-long, shaft),
    ]
    return _region([np.array(points) * high], label, flip, turn)


def _flat(piece: tuple[tuple[float, float], ...], scale: float, chord: float) -> list[tuple[float, float]]:
    """Points of a piece, its end left out.  A parabola leaves its chord by |a - 2 b + c| / 4, a quarter at
    each halving.
    """
    if len(piece) == 2:
        return [piece[0]]
    (ax, ay), (bx, by), (cx, cy) = piece
    away = 0.25 * scale * math.hypot(ax - 2 * bx + cx, ay - 2 * by + cy)
    count = max(1, min(MOST_PIECES, math.ceil(math.sqrt(away / chord))))
    shares = [k / count for k in range(count)]
    return [
        (
            (1 - t) ** 2 * ax + 2 * t * (1 - t) * bx + t * t * cx,
            (1 - t) ** 2 * ay + 2 * t * (1 - t) * by + t * t * cy,
        )
        for t in shares
    ]


def _region(rings: list[Floats], label: int, flip: bool, turn: float) -> Region:
    cos, sin = (1.0, 0.0) if turn == 0.0 else (math.cos(turn), math.sin(turn))
    spin = np.array([[cos, sin], [-sin, cos]]) * np.array([-1.0 if flip else 1.0, 1.0])
    turned = [(ring @ spin)[::-1] if flip else ring @ spin for ring in rings]
    section = m3.CrossSection([ring.tolist() for ring in turned], m3.FillRule.NonZero)
    found = [np.asarray(one, dtype=np.float64) for one in section.to_polygons()]
    return canonical([Ring(one, np.full(len(one), label, dtype=np.int32)) for one in found])


@cache
def thinnest(text: str) -> float:
    """The thinnest stroke of a text over the height of its capitals: where a letter would lose ink to a wider
    pen.
    """
    return min(
        (_stroke(letter) for letter in sorted(set(lettered(text))) if typeface().contours(letter)),
        default=1.0,
    )


@cache
def _stroke(letter: str) -> float:
    region = letters_region(letter, 1.0, 0.002, 0)
    whole = m3.CrossSection([ring.points.tolist() for ring in region.rings], m3.FillRule.NonZero)
    low, high = 0.0, 0.6
    for _ in range(14):
        wide = 0.5 * (low + high)
        worn = whole.offset(-0.5 * wide, m3.JoinType.Miter, 2.0, 0).offset(
            0.5 * wide, m3.JoinType.Miter, 2.0, 0
        )
        low, high = (wide, high) if (worn ^ whole).area() >= (1.0 - LOST) * whole.area() else (low, wide)
    return low
