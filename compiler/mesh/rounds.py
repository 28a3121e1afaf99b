"""Ribs and fillets where one of the two flats is the side of a round body: that flat only touches the round
along a line.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import numpy as np
from msgspec import Struct

from ..diagnostics.types import Trouble
from ..facts import Entry, Ref
from ..facts.types import FLATS, SIDES
from ..places.layout import Flat
from ..places.planes import OUTWARD
from ..quantities.vectors import Vector, along, clean, cross, dot
from .combine import common, place
from .corners import hollow_section
from .kernel import Solid
from .prisms import prism
from .tools import peg
from .turnings import turned

if TYPE_CHECKING:
    from .bodies import Bodies

FAR = 2e4  # mm: beyond any part
BURIED = 0.05
"""How far (mm) a fill reaches into a round, besides what the round's facets fall short of it."""


class Round(Struct, frozen=True):
    """A round body: a point of its axis in space, the way the axis runs, a way square to it, its radius in
    mm.
    """

    point: Vector
    axis: Vector
    right: Vector
    radius: float


def round_at(bodies: Bodies, ref: Ref) -> Round | None:
    """The round body that this is a side of; None for a side that is flat."""
    entry = bodies.claims.entries.get(ref.name)
    if entry is None or ref.part not in SIDES or entry.kind not in ("peg", "turning"):
        return None
    if entry.has("hex", "square", "lies along"):
        return None
    spot, frame = bodies.spot(entry), bodies.frame(ref.name)
    return Round(frame.point(spot.at), frame.out, frame.right, spot.half[0])


def has_flat(entry: Entry, ref: Ref) -> bool:
    """False for the side of a hexagonal or square peg that is so turned that an edge stands there."""
    turned_by = entry.one("turned")
    for word, sides in (("hex", 6), ("square", 4)):
        if entry.kind == "peg" and entry.has(word) and ref.part in SIDES:
            step = math.tau / sides
            off = (
                OUTWARD[ref.part] - math.radians(turned_by.number("angle") if turned_by is not None else 0.0)
            ) % step
            return min(off, step - off) < 1e-6
    return True


def core(fill: Solid, one: Round, chord: float) -> Solid:
    """What of a fill lies well inside the round that it is made for."""
    inside = peg(2.0 * (one.radius - 2.0 * chord), -FAR, FAR, chord, 0)
    up = cross(one.axis, one.right)
    return common(
        fill, place(inside, one.point, np.array([one.right, up, one.axis], dtype=np.float64).T.copy())
    )


def behind(one: Round | None, edge: Vector, way: Vector, start: float, stop: float, chord: float) -> float:
    """How far (mm) a rib that stands between `start` and `stop` along the edge must reach behind the flat to
    meet the round.
    """
    if one is None:
        return 0.0
    axis = dot(way, along(one.point, (edge, -1.0)))
    off = min(one.radius, max(abs(start - axis), abs(stop - axis)))
    return one.radius - math.sqrt(one.radius**2 - off**2) + BURIED + 2.0 * chord


def round_fillet(bodies: Bodies, entry: Entry, one: Round, other: Ref, flat: Flat) -> Solid:
    """A fillet that runs all round the foot of a round body on a flat, as far as the flat's body reaches.

    Its section is that of a straight fillet; its facets stay inside the true round and touch the hollow from
    the material's side.  Raises Trouble('not-square') where the round does not stand square on the flat."""
    if abs(abs(dot(one.axis, flat.normal)) - 1.0) > 1e-9:
        raise Trouble(
            "not-square",
            f"`{other}` does not lie square to the axis of the round body: no fillet runs round it",
            (entry.name,),
        )
    claim = entry.one("radius")
    assert claim is not None
    radius, label = claim.number("size"), bodies.marks.of(entry.name)
    section = hollow_section(radius, bodies.chord) + np.array([one.radius, 0.0])
    into = max(0.5 * one.radius, one.radius - BURIED - 2.0 * bodies.chord)
    profile = np.concatenate([[[into, 0.0]], section[1:], [[into, section[-1, 1]]]])
    ring = turned(
        profile,
        np.full(len(profile), label, dtype=np.int32),
        np.ones(len(profile), dtype=np.bool_),
        bodies.chord,
    )
    foot = along(one.point, (flat.normal, dot(flat.normal, along(flat.point, (one.point, -1.0)))))
    up = cross(flat.normal, one.right)
    placed = place(ring, clean(foot), np.array([one.right, up, flat.normal], dtype=np.float64).T.copy())
    return _within(bodies, placed, other, radius, label)


def _within(bodies: Bodies, solid: Solid, other: Ref, radius: float, label: int) -> Solid:
    """What stands over the outline of the flat's own body."""
    kind = bodies.claims.entries[other.name].kind
    if other.part not in FLATS or kind not in ("plate", "block", "strip"):
        return solid
    low, high = bodies.pages.heights(other.name)
    ends = (high, high + 2.0 * radius) if other.part == "front" else (low - 2.0 * radius, low)
    room = prism(bodies.region(other.name), *ends, label, label)
    return common(solid, bodies.placed(room, bodies.frame(other.name)))
