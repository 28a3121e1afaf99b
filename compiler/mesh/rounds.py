"""Ribs and fillets where one of the two flats is the side of a round body: that flat only touches the round
along a line.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import numpy as np
from msgspec import Struct

from ..diagnostics.types import Trouble
from ..kinds.types import FLATS, SIDES
from ..model import Body
from ..model.types import FlatOf, Prism
from ..quantities.vectors import Vector, along, clean, cross, dot
from .combine import common, place
from .corners import hollow_section
from .kernel import Solid
from .prisms import prism
from .tools import peg
from .turnings import turned

if TYPE_CHECKING:
    from .workshop import Workshop

FAR = 2e4  # mm: beyond any part
BURIED = 0.05
"""How far (mm) a fill reaches into a round, besides what the round's facets fall short of it."""


class RoundBody(Struct, frozen=True):
    """A round body: a point of its axis in space, the way the axis runs, a way square to it, its radius in
    mm.
    """

    point: Vector
    axis: Vector
    right: Vector
    radius: float


def round_at(shop: Workshop, flat: FlatOf) -> RoundBody | None:
    """The round body that this is a side of; None for a side that is flat."""
    body = shop.model.things.get(flat.body)
    if flat.part not in SIDES or not isinstance(body, Body):
        return None
    lying = body.lying
    if lying is not None and flat.part in lying.sides:
        return RoundBody(lying.axis.origin, lying.axis.out, lying.axis.right, lying.radius)
    if body.round_radius is None:
        return None
    frame = body.frame
    return RoundBody(frame.point(body.placed.at), frame.out, frame.right, body.round_radius)


def core(fill: Solid, one: RoundBody, chord: float) -> Solid:
    """What of a fill lies well inside the round that it is made for."""
    inside = peg(2.0 * (one.radius - 2.0 * chord), -FAR, FAR, chord, 0)
    up = cross(one.axis, one.right)
    return common(
        fill, place(inside, one.point, np.array([one.right, up, one.axis], dtype=np.float64).T.copy())
    )


def behind(
    one: RoundBody | None, edge: Vector, way: Vector, start: float, stop: float, chord: float
) -> float:
    """How far (mm) a rib that stands between `start` and `stop` along the edge must reach behind the flat to
    meet the round.
    """
    if one is None:
        return 0.0
    axis = dot(way, along(one.point, (edge, -1.0)))
    off = min(one.radius, max(abs(start - axis), abs(stop - axis)))
    return one.radius - math.sqrt(one.radius**2 - off**2) + BURIED + 2.0 * chord


def round_fillet(shop: Workshop, name: str, radius: float, one: RoundBody, other: FlatOf) -> Solid:
    """A fillet that runs all round the foot of a round body on a flat, as far as the flat's body reaches.

    Its section is that of a straight fillet; its facets stay inside the true round and touch the hollow from
    the material's side.  Raises Trouble('not-square') where the round does not stand square on the flat."""
    flat = other.flat
    if abs(abs(dot(one.axis, flat.normal)) - 1.0) > 1e-9:
        raise Trouble(
            "not-square",
            f"`{other.name}` does not lie square to the axis of the round body: no fillet runs round it",
            (name,),
        )
    label = shop.marks.of(name)
    section = hollow_section(radius, shop.chord) + np.array([one.radius, 0.0])
    into = max(0.5 * one.radius, one.radius - BURIED - 2.0 * shop.chord)
    profile = np.concatenate([[[into, 0.0]], section[1:], [[into, section[-1, 1]]]])
    ring = turned(
        profile,
        np.full(len(profile), label, dtype=np.int32),
        np.ones(len(profile), dtype=np.bool_),
        shop.chord,
    )
    foot = along(one.point, (flat.normal, dot(flat.normal, along(flat.point, (one.point, -1.0)))))
    up = cross(flat.normal, one.right)
    placed = place(ring, clean(foot), np.array([one.right, up, flat.normal], dtype=np.float64).T.copy())
    return _within(shop, placed, other, radius, label)


def _within(shop: Workshop, solid: Solid, other: FlatOf, radius: float, label: int) -> Solid:
    """What stands over the outline of the flat's own body."""
    body = shop.model.things.get(other.body)
    if other.part not in FLATS or not isinstance(body, Prism):
        return solid
    reach = 2.0 * radius
    ends = (body.high, body.high + reach) if other.part == "front" else (body.low - reach, body.low)
    room = prism(shop.region(body.name), *ends, label, label)
    return common(solid, shop.placed(room, body.frame))
