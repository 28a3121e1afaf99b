"""A threaded peg: a core with the ridges of its thread."""

from __future__ import annotations

from ...diagnostics.types import at_fault
from ...mesh.kernel import Solid
from ...mesh.workshop import Workshop
from ..thread.form import NO_THREAD, ThreadForm
from ..thread.ridges import Wound
from ..thread.solid import threaded_peg
from .model import Peg


def threaded(shop: Workshop, body: Peg, thread: ThreadForm) -> Solid:
    """The peg upright at the origin of its plane.  Raises Trouble as `threaded_peg` does."""
    details = ("", "bevel", "back", "front", "thread")  # the order of labels is the order of drawn edges
    *_, ridges = [shop.marks.of(body.name, detail) for detail in details]
    one = Wound(thread, body.low, body.high, thread.left != shop.flip, ridges)
    line = None if body.thread_said is None else body.thread_said.span
    with at_fault(body.bevel_line, "bevel-too-large"), at_fault(line, *NO_THREAD):
        return threaded_peg(body.name, one, (body.back_bevel, body.front_bevel), shop.marks, shop.chord)
