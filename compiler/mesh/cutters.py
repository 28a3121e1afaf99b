"""The cutter of a hole in space, and the cutters of its copies."""

from __future__ import annotations

from typing import cast

from msgspec import Struct

from ..kinds import own_file
from ..model.holes import Hole
from ..places.layout import Frame
from .kernel import Solid
from .workshop import Workshop


class Cut(Struct):
    """The cutters of a hole and of its copies in one body."""

    hole: Hole
    tools: list[Solid]


def hole_tool(shop: Workshop, hole: Hole, ends: tuple[float, float]) -> Solid:
    """The cutter of a hole in space, by what its kind says; `ends` are the lowest and highest height of its
    bodies over its plane.  Raises Trouble as its kind does."""
    own = own_file(hole.noun, "solid")
    assert own is not None, hole.noun
    return cast(Solid, own.build(shop, hole, ends))


def reach(solid: Solid, frame: Frame) -> tuple[float, float]:
    """Lowest and highest height of a solid over a plane, mm."""
    box = solid.bounding_box()
    heights = [
        frame.onto((x, y, z))[1] for x in (box[0], box[3]) for y in (box[1], box[4]) for z in (box[2], box[5])
    ]
    return min(heights), max(heights)
