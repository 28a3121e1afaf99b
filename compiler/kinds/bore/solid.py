"""A bore as a cutter: its section as deep as it goes, or a thread whose ridges it leaves standing, with its
mouth.
"""

from __future__ import annotations

from ...diagnostics.types import at_fault
from ...mesh.hole_tools import BodyExtent, Ends, cutter, run, section_tool
from ...mesh.kernel import Solid
from ...mesh.workshop import Workshop
from ..thread.form import ThreadForm
from ..thread.ridges import Wound
from ..thread.solid import threaded_tool
from .model import Bore


def build(shop: Workshop, hole: Bore, reach: BodyExtent) -> Solid:
    """The cutter in space.  Raises Trouble as `section_tool` and `threaded_tool` do."""
    ends = run(hole, reach)
    if hole.thread is None:
        return cutter(shop, hole, section_tool(shop, hole, ends), reach)
    return cutter(shop, hole, _threaded(shop, hole, hole.thread, ends, reach), reach)


def _threaded(shop: Workshop, hole: Bore, thread: ThreadForm, ends: Ends, reach: BodyExtent) -> Solid:
    low, high = max(ends[0], reach.low), min(ends[1], reach.high)
    ground, ridges = shop.marks.of(hole.name), shop.marks.of(hole.name, "thread")
    wound = Wound(thread, low, high, thread.left != shop.flip, ridges)
    with at_fault(None if hole.thread_said is None else hole.thread_said.span):
        tool = threaded_tool(wound, ends, ground, shop.chord)
    return tool.translate((*hole.placed.at, 0.0))
