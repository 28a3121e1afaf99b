"""A fillet as a solid: a hollow in the corner of two flats, or all round the foot of a round body."""

from __future__ import annotations

import math

from ...mesh.corner_bodies import Filling, filled, shared_edge
from ...mesh.kernel import Solid
from ...mesh.rounds import round_at, round_fillet
from ...mesh.workshop import Workshop
from ...quantities.vectors import dot
from .model import Fillet


def build(shop: Workshop, body: Fillet) -> Solid:
    """The fillet in space.  Raises Trouble as `shared_edge`, `round_fillet` and `corner_fill` do."""
    one, corner = filling(shop, body), body.corner
    for side, other in ((corner.first, corner.second), (corner.second, corner.first)):
        foot = round_at(shop, side)
        if foot is not None:
            return round_fillet(shop, body.name, body.radius.value, foot, other)
    return filled(shop, body.name, one, hollow=True)


def filling(shop: Workshop, body: Fillet) -> Filling:
    """Where the fillet lies; it touches a flat at r / tan(half the angle) from the edge."""
    edge, start, stop = shared_edge(shop, body.corner)
    radius, share = body.radius.value, dot(*body.corner.into)
    end = radius * math.sqrt((1.0 + share) / (1.0 - share))
    return Filling(body.corner, edge, (radius, radius), (start, stop), (end, end))
