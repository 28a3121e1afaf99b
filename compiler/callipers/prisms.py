"""Sizes of bodies drawn out of a plane: from their front to their back, from side to side."""

from __future__ import annotations

from ..model import Body
from ..model.stated import Number
from ..quantities.vectors import Vector
from .bench import Bench
from .flat_things import NO_FACE, between_walls
from .standing import foot_of
from .taking import sized
from .types import ALLOWED, Taken


def thickness(bench: Bench, body: Body, number: Number) -> Taken:
    """From the front of a body to its back, square to its plane."""
    frame = bench.model.frame(body)
    front = bench.level(bench.own(body, 1, "front"), frame)
    back = bench.level(bench.own(body, 1, "back"), frame)
    foot, tip = (back, front) if body.out > 0 else (front, back)
    if tip and not foot and (under := foot_of(bench, body)) is not None:
        foot = [under]  # its own foot lies in what it stands on
    if not tip or not foot:
        return sized(body, number, None, NO_FACE)
    return sized(body, number, max(*tip, *foot) - min(*tip, *foot))


TRIMMED = "it is trimmed"


def from_side_to_side(bench: Bench, body: Body, number: Number, way: Vector, sides: tuple[str, str]) -> Taken:
    """Between two opposite sides of a body, the way from the first to the second."""
    found = between_walls(bench, body, way, sides)
    if body.trims and found is not None and found < number.size.value - ALLOWED:
        return sized(body, number, None, TRIMMED)
    return sized(body, number, found, "" if found is not None else NO_FACE)
