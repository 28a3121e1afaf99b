"""A bore as a cutter: its section as deep as it goes, or a thread whose ridges it leaves standing, with its
mouth.
"""

from __future__ import annotations

from ...diagnostics.types import at_fault
from ...mesh.hole_tools import Ends, Reach, cutter, run, section_tool
from ...mesh.kernel import Solid
from ...mesh.threading import threaded_tool
from ...mesh.workshop import Workshop
from .model import Bore


def build(shop: Workshop, hole: Bore, reach: Reach) -> Solid:
    """The cutter in space.  Raises Trouble as `section_tool` and `threaded_tool` do."""
    ends = run(hole, reach)
    bare = section_tool(shop, hole, ends) if hole.thread is None else _threaded(shop, hole, ends, reach)
    return cutter(shop, hole, bare, reach)


def _threaded(shop: Workshop, hole: Bore, ends: Ends, reach: Reach) -> Solid:
    entry, body = shop.claims.entries[hole.name], (reach.low, reach.high)
    with at_fault(None if hole.fit is None else hole.fit.said.span):
        tool = threaded_tool(entry, shop.claims, shop.marks, ends, body, shop.chord, shop.flip)
    return tool.translate((*hole.placed.at, 0.0))
