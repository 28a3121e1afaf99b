"""Does a load pull the layers of the print apart?

Layers hold together less well than they are strong in themselves.  Where the card says on which flat the part
is printed and which way a load pulls, that is a question of directions alone: a load within 30 degrees of the
way the layers are stacked pulls them apart, unless it presses its thing against the rest of the part.  How
strong the part is nobody asks here."""

from __future__ import annotations

import math
from collections.abc import Iterator

import numpy as np

from ..diagnostics.types import Diagnostic, Label, Severity
from ..mesh.types import Part
from ..model import Model
from ..model.card import Load
from ..model.holes import Hole
from ..quantities.vectors import Vector, along, dot

NEAR = math.cos(math.radians(30.0))
MIDDLE = 0.01  # mm
_WAYS: dict[str, Vector] = {
    "right": (1.0, 0.0, 0.0),
    "left": (-1.0, 0.0, 0.0),
    "up": (0.0, 1.0, 0.0),
    "down": (0.0, -1.0, 0.0),
    "front": (0.0, 0.0, 1.0),
    "back": (0.0, 0.0, -1.0),
}


def across_layers(model: Model, part: Part) -> Iterator[Diagnostic]:
    """A note for each load of the card that pulls the layers apart."""
    on = model.card.prints_on
    for load in pulled_apart(model, part):
        assert on is not None
        yield Diagnostic(
            "across-layers",
            Severity.NOTE,
            f"`{load.said.text}` pulls across the layers of a part that is printed on `{on.name}`",
            load.said.span,
            others=(Label(on.span, "the layers lie along this flat"),),
            advice=(
                "layers come apart before the plastic itself breaks: print it on another flat, so that they "
                "run along the load",
                "this looks at directions only, not at how much the part can bear",
            ),
        )


def pulled_apart(model: Model, part: Part) -> tuple[Load, ...]:
    """The loads that pull the layers apart, as far as directions tell: of those towards a way, flat or side,
    where the flat is known that the part is printed on."""
    on = model.card.prints_on
    bed = model.flats.get(on.name) if on is not None else None
    if bed is None:
        return ()
    return tuple(load for load in model.card.loads if _apart(model, part, load, bed.flat.normal))


def _apart(model: Model, part: Part, load: Load, bed: Vector) -> bool:
    way = _way(model, load)
    if way is None or abs(dot(way, bed)) < NEAR:
        return False
    beyond = _beyond_middle(model, part, load, way)
    return beyond > MIDDLE or (abs(beyond) <= MIDDLE and dot(way, bed) < 0.0)


def _way(model: Model, load: Load) -> Vector | None:
    """The way of a load, a unit vector; None where it is towards nothing that has a direction."""
    if load.towards is None:
        return _WAYS.get(load.way)
    aim, thing = model.flats.get(load.towards.name), model.things.get(load.on.thing)
    if aim is None or thing is None:
        return None
    x, y, z = aim.flat.normal
    if thing.spot is None or load.on.thing == aim.body:
        return x, y, z
    start = model.frame(thing).point(thing.spot.at, thing.spot.base)
    # what stands before a flat is pulled against it, what lies behind it outwards
    before = dot(aim.flat.normal, along(start, (aim.flat.point, -1.0))) > MIDDLE
    return (-x, -y, -z) if before else (x, y, z)


def _beyond_middle(model: Model, part: Part, load: Load, way: Vector) -> float:
    """How far (mm) the middle of what is loaded, of a hole the middle of its bodies, lies beyond the middle
    of the part the way of the load; 0 for what has no faces."""
    thing = model.things.get(load.on.thing)
    names = set(thing.owners) if isinstance(thing, Hole) else {load.on.thing}
    own = [label for label, (name, _) in enumerate(part.faces) if name in names]
    there = part.mesh.triangles[np.isin(part.mesh.labels, own)]
    if not len(there):
        return 0.0
    x, y, z = way
    heights = part.mesh.points @ np.array([-x if part.mirrored else x, y, z])
    mine = heights[there]
    return float(mine.min() + mine.max() - heights.min() - heights.max()) / 2.0
