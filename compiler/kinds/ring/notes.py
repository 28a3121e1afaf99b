"""Pitch circles: a chain line through the copies of a ring (ISO 128, 04.1), and its diameter where the ring
was read by it.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

from ...model.types import Centre
from ...outputs.paper.amounts import amount
from ...outputs.paper.lettering import DIAMETER
from ...outputs.paper.relations import centre_of, copied
from ...outputs.paper.types import PitchCircle
from ...outputs.paper.views import Scene, finished
from ...quantities import Quantity
from ...quantities.vectors import along, dot
from .model import RingPattern

SMALLEST = 0.05  # mm: rings no wider are none


def circles(scene: Scene, ring: RingPattern) -> Iterator[PitchCircle]:
    """The pitch circle of every thing that the ring copies, where that has a centre off its middle."""
    about = centre_of(scene, ring.about)
    for thing, places in copied(scene, ring):
        if about is None or thing.centre < Centre.CROSS:
            continue
        spot, frame = thing.placed, scene.model.frames[thing.placed.plane]
        centre = frame.point(spot.at, spot.base)
        middle = along(about, (frame.out, dot(frame.out, along(centre, (about, -1.0)))))
        radius = math.dist(middle, centre)
        if radius < SMALLEST:
            continue
        hand = -1.0 if scene.part.mirrored else 1.0
        sweep = 2.0 * math.pi if ring.over is None else hand * math.radians(ring.over.value)
        at, out = finished(middle, scene.part), scene.way(frame.out)
        yield PitchCircle(ring.name, at, out, radius, places[0], sweep, _text(ring, radius))


def _text(ring: RingPattern, radius: float) -> str:
    said = []
    if ring.circle is not None:
        told = amount(Quantity(2.0 * radius, ring.circle.u, ring.circle.standing, ring.circle.unit))
        said.append(f"{ring.name} pitch circle {told.text(DIAMETER)}")
    if ring.over is not None:
        said.append(("" if said else f"{ring.name} ") + f"over {ring.over.value:g}\u00b0")
    return ", ".join(said)
