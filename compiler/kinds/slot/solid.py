"""A slot as a cutter: its section as deep as it goes, with its mouth."""

from __future__ import annotations

from ...mesh.hole_tools import BodyExtent, cutter, run, section_tool
from ...mesh.kernel import Solid
from ...mesh.workshop import Workshop
from .model import SlotHole


def build(shop: Workshop, hole: SlotHole, reach: BodyExtent) -> Solid:
    """The cutter in space.  Raises Trouble as `section_tool` does."""
    return cutter(shop, hole, section_tool(shop, hole, run(hole, reach)), reach)
