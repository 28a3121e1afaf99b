"""Bodies cut off by planes: the larger share stays."""

from __future__ import annotations

from ..diagnostics.types import Diagnostic, Severity
from ..model.types import Body
from .answers import Answers
from .combine import trim
from .kernel import Solid
from .workshop import Workshop

SLIVER = 1e-3  # mm3


def trimmed(shop: Workshop, body: Body, solid: Solid, answers: Answers) -> Solid:
    """The body without what its trims cut off; a trim that cuts nothing, or in half, is answered."""
    label = shop.marks.of(body.name, "trim") if body.trims else 0
    for one in sorted(body.trims, key=lambda each: each.said.text):
        x, y, z = one.by.flat.normal
        halves = [trim(solid, one.by.flat.point, way, label) for way in ((x, y, z), (-x, -y, -z))]
        kept, lost = sorted(halves, key=lambda each: -each.volume())
        span = one.said.span
        if lost.volume() <= SLIVER:
            said = f"`{one.by.name}` does not cut `{body.name}`: nothing is trimmed"
            answers.add(Diagnostic("trim-misses", Severity.ERROR, said, span))
        elif kept.volume() - lost.volume() <= SLIVER:
            said = f"`{one.by.name}` cuts `{body.name}` in half: which half is to stay can't be told"
            advice = ("trim keeps the larger part: make the body longer on the side that stays",)
            answers.add(Diagnostic("trim-halves", Severity.ERROR, said, span, advice=advice))
        solid = kept
    return solid
