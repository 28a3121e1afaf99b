"""A peg as a solid: its section drawn out of its plane, or a core with its thread."""

from __future__ import annotations

from ...diagnostics.types import Span, at_fault
from ...mesh.kernel import Solid
from ...mesh.prisms import prism
from ...mesh.workshop import Workshop
from ...outlines import Region, canonical, facet
from ...outlines.sections import section_path
from ..thread.form import NO_THREAD, ThreadForm
from ..thread.ridges import Wound
from ..thread.solid import threaded_peg
from .model import Peg


def build(shop: Workshop, body: Peg) -> Solid:
    """The peg in space.  Raises Trouble as `threaded_peg`, `section_path` and `prism` do."""
    if body.thread is not None:
        return shop.placed(_threaded(shop, body, body.thread).translate((*body.placed.at, 0.0)), body.frame)
    region = edge(shop, body)
    front, back, bevel = (shop.marks.of(body.name, face) for face in ("front", "back", "bevel"))
    with at_fault(_bevel_line(body), "bevel-too-large"):
        solid = prism(region, body.low, body.high, front, back, body.front_bevel, body.back_bevel, bevel)
    return shop.placed(solid, body.frame)


def edge(shop: Workshop, body: Peg) -> Region:
    """The outline of a peg on its plane, its thread left out of account."""
    return canonical([facet(section_path(body.section, body.placed.at, body.name, shop.marks), shop.chord)])


def _threaded(shop: Workshop, body: Peg, thread: ThreadForm) -> Solid:
    details = ("", "bevel", "back", "front", "thread")  # the order of labels is the order of drawn edges
    *_, ridges = [shop.marks.of(body.name, detail) for detail in details]
    one = Wound(thread, body.low, body.high, thread.left != shop.flip, ridges)
    line = None if body.thread_said is None else body.thread_said.span
    with at_fault(_bevel_line(body), "bevel-too-large"), at_fault(line, *NO_THREAD):
        return threaded_peg(body.name, one, (body.back_bevel, body.front_bevel), shop.marks, shop.chord)


def _bevel_line(body: Peg) -> Span | None:
    """The line to blame for a bevel that does not fit, where there is only one."""
    return body.bevels[0][1].said.span if len(body.bevels) == 1 else None
