"""The cutter of a hole in space, and the cutters of its copies."""

from __future__ import annotations

from typing import cast

from msgspec import Struct

from ..kinds import needed_file
from ..model.holes import Hole
from .hole_tools import BodyExtent
from .kernel import Solid
from .workshop import Workshop


class Cut(Struct):
    """The cutters of a hole and of its copies in one body."""

    hole: Hole
    tools: list[Solid]


def hole_tool(shop: Workshop, hole: Hole, reach: BodyExtent) -> Solid:
    """The cutter of a hole in space, by what its kind says.  Raises Trouble as its kind does."""
    own = needed_file(hole.noun, "solid")
    return cast(Solid, own.build(shop, hole, reach))
