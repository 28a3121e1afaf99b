"""Is a body copied whose hole does not go along, because it goes through all?

A hole `through all` of several bodies belongs to none of them: it is cut once, where it is read, in whatever
lies there.  Copies of a body that it goes through come without it."""

from __future__ import annotations

import math
from collections.abc import Iterator

from ..diagnostics.types import Diagnostic, Label, Severity
from ..mesh.combine import overlap
from ..mesh.cutters import hole_tool
from ..mesh.hole_tools import reach_of
from ..mesh.misses import SLIVER
from ..model import Body
from ..model.holes import Hole
from ..places.layout import Move
from ..quantities.vectors import Vector, along, dot
from .openings import Survey

SAME = 1e-6  # mm


def holes_that_stay(scene: Survey, body: Body) -> Iterator[Diagnostic]:
    """A note for each hole through all that the copies of a body come without."""
    for hole in scene.model.of(Hole) if body.copies else ():
        of_all = hole.everywhere and len(hole.owners) > 1 and hole.copies != body.copies
        if of_all and _leaves(scene, hole, body) and _meets(scene, hole, body):
            yield _told(hole, body)


def _leaves(scene: Survey, hole: Hole, body: Body) -> bool:
    """Whether some copy of the body would bring the hole where none is."""
    frame = scene.model.frame(hole)
    start = frame.point(hole.placed.at)
    places = [start, *(move.point(start) for move in hole.copies)]
    return not all(any(_on_axis(move, start, place, frame.out) for place in places) for move in body.copies)


def _on_axis(move: Move, start: Vector, place: Vector, out: Vector) -> bool:
    """Whether a move brings the axis through `start` onto the one through `place`; both run along `out`."""
    there, tip = move.point(start), move.point(along(start, (out, 1.0)))
    for point in (there, tip):
        away = along(point, (place, -1.0))
        aside = along(away, (out, -dot(away, out)))
        if math.sqrt(dot(aside, aside)) > SAME:
            return False
    return True


def _meets(scene: Survey, hole: Hole, body: Body) -> bool:
    solid = scene.shop.solid(body.name)
    tool = hole_tool(scene.shop, hole, reach_of(body.name, solid, scene.model.frame(hole)))
    return overlap(tool, solid) > SLIVER


def _told(hole: Hole, body: Body) -> Diagnostic:
    some = ", ".join(hole.owners[:4])
    return Diagnostic(
        "hole-stays",
        Severity.NOTE,
        f"{hole.noun} `{hole.name}` goes through all, so it is cut once: the copies of `{body.name}` "
        "come without it",
        hole.span,
        others=(Label(body.span, "this is copied"),),
        advice=(f"for a hole in each copy name what it goes through:  through {some}   or copy it, too",),
    )
