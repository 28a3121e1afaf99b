"""The corner between two flats that a rib or fillet fills."""

from __future__ import annotations

import math

from msgspec import Struct

from ..diagnostics.types import Trouble
from ..facts import Ref
from ..quantities.vectors import Vector, along, clean, cross, dot
from .builder import Builder, said_of
from .taking import Facts
from .types import Body, FlatOf, Said


class CornerOf(Struct, frozen=True):
    """Two flats that meet: unit vectors along the line they meet in, and in each flat away from the
    corner.
    """

    first: FlatOf
    second: FlatOf
    way: Vector
    into: tuple[Vector, Vector]
    said: Said


class CornerFill(Body, frozen=True, kw_only=True):
    """A body that fills a corner."""

    corner: CornerOf

    @property
    def stood_on(self) -> bool:
        """What only fills a corner has no flat to stand on."""
        return False


def corner_of(builder: Builder, facts: Facts) -> tuple[CornerOf, tuple[Ref, Ref]]:
    """The corner that a statement speaks of, and its two mentions.  Raises Trouble: 'not-placed',
    'flat-corner'.
    """
    claim = facts.need("between")
    first, second = claim.ref("first"), claim.ref("second")
    a, b = builder.flat(first), builder.flat(second)
    if a is None or b is None:
        raise Trouble("not-placed", f"`{first}` or `{second}` is not placed", (facts.name,))
    way = cross(a.flat.normal, b.flat.normal)
    size = math.sqrt(dot(way, way))
    if size < 1e-6:
        raise Trouble(
            "flat-corner",
            f"`{first}` and `{second}` lie along one another: there is no corner to fill",
            (facts.name,),
            span=claim.span,
        )
    way = clean((way[0] / size, way[1] / size, way[2] / size))
    into = (_square_to(a.flat.normal, b.flat.normal), _square_to(b.flat.normal, a.flat.normal))
    return CornerOf(a, b, way, into, said_of(claim)), (first, second)


def _square_to(own: Vector, other: Vector) -> Vector:
    """The direction that lies in a flat and leads away from the corner it makes with another: towards the
    other's outside."""
    share = dot(own, other)
    x, y, z = along(other, (own, -share))
    size = math.sqrt(x * x + y * y + z * z)
    return clean((x / size, y / size, z / size))
