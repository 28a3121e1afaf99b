"""Which holes another body fills again or closes.  Used parts' own recipes can't know what they are joined
to.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from enum import Enum

import numpy as np

from ..diagnostics.types import Diagnostic, Label, Severity
from ..model import Model
from ..model.brought import Brought
from ..model.holes import Hole
from ..places.layout import Frame
from ..quantities.arrays import Floats
from ..quantities.vectors import clean
from .combine import moved, overlap, touches, trim
from .kernel import Solid
from .workshop import Workshop

SLIVER = 1e-3  # mm3
MOST = 100
MOST_TRIED = 2_000
ROOM = 1e-3
"""What stands in a hole and keeps this far (mm) from its wall stands free."""
SHUT = 0.99
"""A hole is closed where a body covers this share of its mouth."""
TWINS = "move the copies apart: a hole of one ends in the other"


class Filled(Enum):
    """How a body stands in a hole: free of its wall; filling it where the hole may cut both; or only to be
    moved; or one with it, being just of its size.
    """

    FREE = 1
    BOTH = 2
    APART = 3
    ONE = 4


def body_of(name: str) -> str:
    """The body that a copy is one of."""
    return name.split(".")[0]


def in_the_way(model: Model, hole: Hole, name: str, own: set[str], how: Filled) -> Diagnostic:
    """The warning for a hole that a body or copy (`ear.2`) which it does not cut reaches into; a note where
    it stands free or is one with it.
    """
    twin = body_of(name) in own
    others = () if twin else (Label(model.things[body_of(name)].span, "this is in the way"),)
    if how is Filled.FREE:
        said = f"`{name}` stands in {hole.noun} `{hole.name}`, with room about it"
        advice = ("if that is meant, all is well; if something is to go through, move one of the two",)
        return Diagnostic("hole-filled", Severity.NOTE, said, hole.span, others=others, advice=advice)
    if how is Filled.ONE:
        said = f"`{name}` is just as large as {hole.noun} `{hole.name}`, so the two are made one"
        advice = ("if it is to come out or to turn, make the hole larger, or it smaller",)
        return Diagnostic("hole-filled", Severity.NOTE, said, hole.span, others=others, advice=advice)
    both = f"through {', '.join(sorted({*own, body_of(name)}))}   cuts both; or "
    advice = (TWINS if twin else f"{both if how is Filled.BOTH else ''}move one of the two",)
    said = f"`{name}` fills part of {hole.noun} `{hole.name}`"
    return Diagnostic("hole-filled", Severity.WARNING, said, hole.span, others=others, advice=advice)


def mouths(tools: Iterable[Solid], own: Iterable[tuple[float, float]], frame: Frame) -> list[Solid]:
    """What each tool of a hole cuts below and above its bodies, whose lowest and highest heights over its
    page are `own`.
    """
    heights = list(own)
    x, y, z = frame.out
    low = frame.point((0.0, 0.0), min(one[0] for one in heights))
    high = frame.point((0.0, 0.0), max(one[1] for one in heights))
    ends = ((low, (x, y, z)), (high, clean((-x, -y, -z))))
    return [trim(tool, at, way, 0) for tool in tools for at, way in ends]


def closed(
    model: Model, hole: Hole, found: Iterable[Solid], own: Iterable[str], name: str, solid: Solid
) -> Diagnostic | None:
    """A note where a hole right through its `own` bodies ends at another that covers one of its mouths."""
    if all(one.volume() <= SLIVER or overlap(one, solid) < SHUT * one.volume() for one in found):
        return None
    said = f"{hole.noun} `{hole.name}` is closed at one end by `{name}`, which it does not go through"
    advice = (
        f"through {', '.join(sorted({*own, name}))}   cuts both; if it is to end there, say how deep it is",
    )
    others = (Label(model.things[name].span, "this closes it"),)
    return Diagnostic("hole-closed", Severity.NOTE, said, hole.span, others=others, advice=advice)


def refilled(shop: Workshop, parts: Sequence[tuple[str, Solid]], boxes: Floats) -> list[Diagnostic]:
    """A warning for each hole of a used part, or of a copy of one, that a body or another copy reaches into.

    `parts`: each body and copy with its material in place, `boxes` (n, 2, 3) theirs.
    """
    found: dict[tuple[str, str, str], Diagnostic] = {}
    where = {name: k for k, (name, _) in enumerate(parts)}
    tried = 0
    used = [one for one in shop.model.of(Brought) if shop.meshes[one.name].hollows and one.name in where]
    for body in used[:MOST]:
        name = body.name
        for hole, first in shop.hollows(name)[:MOST]:
            for number, move in enumerate((None, *body.copies), start=1):
                tried += 1
                if tried > MOST_TRIED:
                    return list(found.values())
                solid = first if move is None else moved(first, move)
                own = name if number == 1 else f"{name}.{number}"
                box = np.array(solid.bounding_box()).reshape(2, 3)
                meets = ((box[0] < boxes[:, 1]) & (boxes[:, 0] < box[1])).all(axis=1)
                for other, there in (parts[k] for k in np.flatnonzero(meets).tolist()):
                    key = (name, hole, body_of(other))
                    least = SLIVER + (
                        shop.chord * float(solid.surface_area()) if body_of(other) == name else 0.0
                    )
                    if other != own and key not in found and overlap(solid, there) > least:
                        free = not touches(solid ^ there, parts[where[own]][1], ROOM)
                        found[key] = _taken(shop, own, hole, other, free)
    return list(found.values())


def _taken(shop: Workshop, own: str, hole: str, other: str, free: bool) -> Diagnostic:
    """What is said of a hole of a used part (`own`: which copy of it) that something stands in."""
    body, name = body_of(own), body_of(other)
    others = () if name == body else (Label(shop.model.things[name].span, "this is in the way"),)
    span = shop.model.things[body].span
    if free:
        advice = ["if that is meant, all is well; if something is to go through, move one of the two"]
        return Diagnostic(
            "hole-filled",
            Severity.NOTE,
            f"`{other}` stands in `{hole}` of `{own}`, with room about it",
            span,
            others=others,
            advice=tuple(advice),
        )
    used = shop.model.things[body]
    held = dict(used.held).get(hole) if isinstance(used, Brought) else None
    # only a hole that runs out of the page is bored again by a bore laid around it
    again = own == body and name == other and name != body and held is not None and held.across > 0.0
    advice = [f"bore it again through both: around {body}.{hole}, through {name}"] if again else []
    advice += ["move one of the two"] if name != body else [TWINS]
    advice = ["or " + one if k else one for k, one in enumerate(advice)]
    return Diagnostic(
        "hole-filled",
        Severity.WARNING,
        f"`{other}` fills part of `{hole}` of `{own}`",
        span,
        others=others,
        advice=tuple(advice),
    )
