"""A bore as a cutter: its section as deep as it goes, or a thread whose ridges it leaves standing, with its
mouth.
"""

from __future__ import annotations

from ...mesh.hole_tools import BodyExtent, cutter, run, section_tool
from ...mesh.kernel import Solid
from ...mesh.workshop import Workshop
from .. import needed_file
from .model import Bore


def build(shop: Workshop, hole: Bore, reach: BodyExtent) -> Solid:
    """The cutter in space.  Raises Trouble as `section_tool` and `threaded` do."""
    ends = run(hole, reach)
    if hole.thread is None:
        return cutter(shop, hole, section_tool(shop, hole, ends), reach)
    own = needed_file("bore", "threaded")
    return cutter(shop, hole, own.threaded(shop, hole, hole.thread, ends, reach), reach)
