"""A rim as a solid: the outline of its body, drawn in by the inset, less the same drawn in by the wall as
well.
"""

from __future__ import annotations

from ...diagnostics.types import Trouble
from ...mesh.kernel import Solid
from ...mesh.workshop import Workshop
from ...outlines import cut
from ...outlines.offsets import offset
from .model import Rim


def build(shop: Workshop, body: Rim) -> Solid:
    """The rim in space.  Raises Trouble where its wall leaves no room inside."""
    outer, thick = shop.region(body.follows), body.thick.value
    by = 0.0 if body.inset is None else body.inset.value
    label = shop.marks.of(body.name, "side")
    rim = offset(outer, -by, shop.chord, label) if by else outer
    try:
        inner = offset(outer, -by - thick, shop.chord, shop.marks.of(body.name, "inner side"))
    except Trouble as trouble:
        raise Trouble(
            trouble.code,
            f"rim `{body.name}` is so thick ({thick:g}) that no room is left inside it",
            (body.name,),
            advice=("make it thinner",),
        ) from None
    return shop.upright(body, cut(rim, [inner]))
