"""Advice for things on a flat or side of a body: how to lie on its edge, or in the middle of it."""

from __future__ import annotations

from ..facts import Claims
from ..facts.kind_questions import is_body, is_centred, is_hole, is_point, is_turned
from ..facts.naming import parts_of
from ..facts.placing import On
from ..facts.placing_reader import Placing
from ..facts.types import FLATS, SIDES

_OPPOSITE = (("left", "right"), ("bottom", "top"), ("back", "front"))


def on_side(placing: Placing) -> tuple[str, ...]:
    """Advice on a point that is `on` a side of a body, where its edge on this plane may be meant."""
    refs = [fact.thing for fact in placing.all(On)] if is_point(placing.entry) else []
    return tuple(
        (
            f"`on {ref}` makes that side the page of `{placing.name}`; "
            f"to lie on its edge as seen here:  from {ref} 0"
        )
        for ref in refs
        if ref.part in SIDES
    )


def in_the_middle(placing: Placing, claims: Claims) -> tuple[str, ...]:
    """Advice for a body, hole or mark on a flat or side of a body, where a bare `at X, Y` would count from a
    corner of it; none where the body has no middle.
    """
    entry = placing.entry
    if not (is_body(entry) or is_hole(entry) or is_turned(entry)):
        return ()
    for ref in (fact.thing for fact in placing.all(On)):
        body = claims.entries.get(ref.name)
        if body is None or not is_centred(body) or ref.part not in (*SIDES, *FLATS):
            continue
        across = [pair for pair in _OPPOSITE if ref.part not in pair]
        lines = f"around {ref.name}"
        if {part for pair in across for part in pair} <= set(parts_of(body.kind)):
            lines = "   and   ".join(f"midway {ref.name}.{a}, {ref.name}.{b}" for a, b in across)
        return (f"in the middle of `{ref}`:  {lines}   or, so far from there:  at X, Y from {ref.name}",)
    return ()
