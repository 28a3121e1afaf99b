"""Where the corner lies that a rib or fillet fills: its edge, and the stretch where both flats are there."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
from msgspec import Struct

from ..diagnostics.types import Answered, Trouble, at_fault
from ..model import Body
from ..model.corners import CornerOf
from ..model.things import Plane
from ..model.types import FlatOf
from ..places.layout import Flat
from ..quantities.vectors import Vector, dot
from .corners import FillSection, InsideCorner, corner_fill
from .kernel import Solid
from .rounds import behind, round_at

if TYPE_CHECKING:
    from .workshop import Workshop

LEAST = 1e-6  # mm: flats that share less of an edge do not meet


class Filling(Struct, frozen=True):
    """A corner and what fills it: a point of its edge, how far (mm) it reaches along each flat (a fillet: its
    radius), from where to where along the edge, and how far from the edge it ends on each flat."""

    corner: CornerOf
    edge: Vector
    reach: tuple[float, float]
    stretch: tuple[float, float]
    ends: tuple[float, float]


def shared_edge(shop: Workshop, corner: CornerOf) -> tuple[Vector, float, float]:
    """A point of the line in which two flats meet, and the stretch along it where both bodies are there.

    Raises Trouble: 'wrong-kind', 'not-square' for a side where an edge stands, 'flats-apart'."""
    edge = _meeting(corner.first.flat, corner.second.flat, corner.way)
    for flat in (corner.first, corner.second):
        _ask_flat(shop, flat)
    spans = [
        _span(shop, flat.body, edge, corner.way)
        for flat in (corner.first, corner.second)
        if isinstance(shop.model.things[flat.body], Body)
    ]
    if not spans:
        raise Trouble(
            "wrong-kind",
            f"`{corner.first.name}` and `{corner.second.name}` are planes: a corner needs a flat of a body",
            advice=("between leaf.front, base.top",),
        )
    start, stop = max(span[0] for span in spans), min(span[1] for span in spans)
    if stop - start < LEAST:
        raise Trouble(
            "flats-apart",
            f"`{corner.first.name}` and `{corner.second.name}` do not meet along an edge",
            span=corner.said.span,
        )
    return edge, start, stop


def _ask_flat(shop: Workshop, flat: FlatOf) -> None:
    """Raise Trouble where a name is not that of a flat of a body or of a plane."""
    thing = shop.model.things.get(flat.body)
    if thing is None:
        raise Answered(flat.body)
    if not isinstance(thing, Body | Plane):
        raise Trouble(
            "wrong-kind",
            f"`{flat.body}` is a {thing.noun}: a corner needs flats of bodies",
            advice=("between leaf.front, base.top",),
        )
    if isinstance(thing, Body) and thing.is_edge(flat.part):
        raise Trouble(
            "not-square",
            f"`{flat.name}` is an edge of `{flat.body}`, no flat: no corner can be filled there",
            advice=("name another side, or turn it",),
        )


def _span(shop: Workshop, name: str, edge: Vector, way: Vector) -> tuple[float, float]:
    """How far a body reaches along a way, from its points: the box would say too much of one that leans."""
    ends = (np.asarray(shop.solid(name).to_mesh64().vert_properties)[:, :3] - edge) @ way
    return float(ends.min()), float(ends.max())


def _meeting(a: Flat, b: Flat, way: Vector) -> Vector:
    """A point on the line where two planes meet: the one level with the origin along that line."""
    rows = np.array([a.normal, b.normal, way], dtype=np.float64)
    sides = np.array([dot(a.normal, a.point), dot(b.normal, b.point), 0.0], dtype=np.float64)
    x, y, z = np.linalg.solve(rows, sides)
    return (float(x), float(y), float(z))


def filled(shop: Workshop, name: str, filling: Filling, hollow: bool) -> Solid:
    """The material in a corner: hollow as a fillet, or straight.  Raises Trouble as `corner_fill` does."""
    corner, (start, stop) = filling.corner, filling.stretch
    deep = [
        behind(round_at(shop, flat), filling.edge, corner.way, start, stop, shop.chord)
        for flat in (corner.first, corner.second)
    ]
    where = InsideCorner(filling.edge, corner.way, *corner.into, start, stop)
    section = FillSection(*filling.reach, hollow, (deep[0], deep[1]))
    with at_fault(corner.said.span, "flat-corner"):
        return corner_fill(where, section, shop.marks.of(name), shop.chord)
