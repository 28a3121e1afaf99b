"""A rib as a solid: a wall along things, or a gusset in the corner of two flats."""

from __future__ import annotations

import itertools

from ...diagnostics.types import Trouble
from ...kinds.types import SIDES
from ...mesh.corner_bodies import Filling, filled, shared_edge
from ...mesh.kernel import Solid
from ...mesh.rounds import round_at
from ...mesh.workshop import Workshop
from ...outlines import Path, circle, facet, merge
from ...outlines.shapes import web
from ...quantities.vectors import Vector, along, dot
from .model import Gusset, Wall


def build(shop: Workshop, body: Wall | Gusset) -> Solid:
    """The rib in space.  Raises Trouble as `filling` and `corner_fill` do."""
    if isinstance(body, Gusset):
        return filled(shop, body.name, filling(shop, body), hollow=False)
    label, wide, places = shop.marks.of(body.name, "side"), body.thick.value, body.places
    bars: list[Path] = [web(a, b, wide, label) for a, b in itertools.pairwise(places)]
    bars += [circle(place, 0.5 * wide, label) for place in places[1:-1]]
    return shop.upright(body, merge([facet(bar, shop.chord) for bar in bars]))


def filling(shop: Workshop, body: Gusset) -> Filling:
    """Where the gusset stands.  Raises Trouble: 'left-open', and as `shared_edge` does."""
    edge, start, stop = shared_edge(shop, body.corner)
    reach = (body.reach[0].value, body.reach[1].value)
    return Filling(body.corner, edge, reach, _stretch(shop, body, edge, start, stop), reach)


def _stretch(shop: Workshop, body: Gusset, edge: Vector, start: float, stop: float) -> tuple[float, float]:
    """From where to where the gusset stands along its edge, mm."""
    way, thick = body.corner.way, body.thick.value
    if body.beside is not None:
        beside = body.beside
        normal, point = beside.flat.flat.normal, beside.flat.flat.point
        at = dot(way, (point[0] - edge[0], point[1] - edge[1], point[2] - edge[2]))
        inwards = -1.0 if dot(normal, way) > 0 else 1.0
        ends = at + inwards * beside.gap, at + inwards * (beside.gap + thick)
        return min(ends), max(ends)
    middle = 0.5 * (start + stop)
    if body.middle_said is not None:
        places = [dot(way, along(flat.flat.point, (edge, -1.0))) for flat in body.middle]
        middle = sum(places) / max(1, len(places))
    elif stop - start > thick + 1e-6:
        raise Trouble(
            "left-open",
            f"rib `{body.name}` can still move along the corner",
            (body.name,),
            advice=(_across(shop, body),),
        )
    return middle - 0.5 * thick, middle + 0.5 * thick


def _across(shop: Workshop, body: Gusset) -> str:
    """What would settle where a gusset stands along its corner."""
    for flat in (body.corner.first, body.corner.second):
        if round_at(shop, flat) is not None:
            beside = SIDES[2:] if flat.part in SIDES[:2] else SIDES[:2]
            return "midway " + ", ".join(f"{flat.body}.{side}" for side in beside)
    return "flush with a side, from a side near ..., or midway two sides"
