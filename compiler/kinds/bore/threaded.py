"""The cutter of a threaded bore, whose ridges it leaves standing."""

from __future__ import annotations

from ...diagnostics.types import at_fault
from ...mesh.hole_tools import BodyExtent, Ends
from ...mesh.kernel import Solid
from ...mesh.workshop import Workshop
from ..thread.form import ThreadForm
from ..thread.ridges import Wound
from ..thread.solid import threaded_tool
from .model import Bore


def threaded(shop: Workshop, hole: Bore, thread: ThreadForm, ends: Ends, reach: BodyExtent) -> Solid:
    """The cutter over the bore's plane, threaded where it runs in the body.  Raises Trouble as
    `threaded_tool` does."""
    low, high = max(ends[0], reach.low), min(ends[1], reach.high)
    ground, ridges = shop.marks.of(hole.name), shop.marks.of(hole.name, "thread")
    wound = Wound(thread, low, high, thread.left != shop.flip, ridges)
    with at_fault(None if hole.thread_said is None else hole.thread_said.span):
        tool = threaded_tool(wound, ends, ground, shop.chord)
    return tool.translate((*hole.placed.at, 0.0))
