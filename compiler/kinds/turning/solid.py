"""A turning as a solid: its half profile turned about its axis, with threads and grips."""

from __future__ import annotations

from typing import cast

from ...diagnostics.types import at_fault
from ...mesh.combine import place
from ...mesh.kernel import Solid
from ...mesh.turnings import turned
from ...mesh.workshop import Workshop, axes
from .. import needed_file
from .grips import gripped
from .model import Turning
from .profile import AsBuilt, half_profile


def build(shop: Workshop, turning: Turning) -> Solid:
    """The turning in space.  Raises Trouble as `half_profile`, `threaded` and `gripped` do."""
    base, out = (0.0, 1) if turning.lies else (turning.placed.base, turning.placed.out)
    built = AsBuilt(turning, half_profile(turning, shop.marks, base, out, shop.chord), base, out)
    solid = gripped(_turned(shop, built), built, shop.marks, shop.chord)
    return place(solid, turning.axis.origin, axes(turning.axis))


def _turned(shop: Workshop, built: AsBuilt) -> Solid:
    turning, profile = built.turning, built.profile
    if not turning.threads:
        return turned(*profile, shop.chord)
    own = needed_file("turning", "threads")
    some = own.wound(turning.threads, built.base, built.out, shop.marks.of(turning.name, "thread"), shop.flip)
    # what stands in the way of one of several threads can't be told from another's
    line = turning.threads[0].said.span if len(turning.threads) == 1 else None
    with at_fault(line, *own.NO_THREAD):
        return cast(Solid, own.threaded(*profile, shop.chord, some))
