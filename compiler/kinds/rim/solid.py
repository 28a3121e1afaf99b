"""A rim as a solid: the outline of its body, drawn in by the inset, less the same drawn in by the wall as
well.
"""

from __future__ import annotations

from ...diagnostics.types import Trouble
from ...facts import Entry
from ...mesh.bodies import Bodies
from ...mesh.kernel import Solid
from ...outlines import cut, offset


def build(bodies: Bodies, entry: Entry) -> Solid:
    """The rim in space.  Raises Trouble where its wall leaves no room inside."""
    on, thick, inset = entry.one("on"), entry.one("thick"), entry.one("inset")
    assert on is not None and thick is not None
    outer = bodies.region(on.ref("thing").name)
    by = inset.number("number") if inset is not None else 0.0
    label = bodies.marks.of(entry.name, "side")
    rim = offset(outer, -by, bodies.chord, label) if by else outer
    try:
        inner = offset(
            outer, -by - thick.number("size"), bodies.chord, bodies.marks.of(entry.name, "inner side")
        )
    except Trouble as trouble:
        raise Trouble(
            trouble.code,
            f"rim `{entry.name}` is so thick ({thick.number('size'):g}) that no room is left inside it",
            (entry.name,),
            advice=("make it thinner",),
        ) from None
    return bodies.upright(entry, cut(rim, [inner]))
