"""A notch as a cutter: a rectangle as deep as it goes."""

from __future__ import annotations

from ...mesh.hole_tools import Ends, cutter, run, section_tool
from ...mesh.kernel import Solid
from ...mesh.workshop import Workshop
from .model import Notch


def build(shop: Workshop, hole: Notch, reach: Ends) -> Solid:
    """The cutter in space.  Raises Trouble as `section_tool` does."""
    return cutter(shop, hole, section_tool(shop, hole, run(hole, reach)), reach)
