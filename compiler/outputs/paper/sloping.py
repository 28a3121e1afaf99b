"""Slopes on a drawing: the angle of a plane that leans or of a sloping flat, and the heights it was read
by.
"""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from ...kinds.types import SIDES
from ...model import Thing
from ...model.things import Plane
from ...model.types import Prism
from ...model.types import Slope as Told
from ...places.layout import Spot
from ...quantities.vectors import XY, along, clean, cross, dot
from ..slopes import SlopeAngle, slopes
from .amounts import amount, exactly
from .types import Dimension, Note
from .views import Scene, finished

NEAR = 1e-3  # mm


def slope_notes(scene: Scene) -> list[Note]:
    """The angle of every slope."""
    found = (_note(scene, slope) for slope in slopes(scene.model))
    return [note for note in found if note is not None]


def _note(scene: Scene, slope: SlopeAngle) -> Note | None:
    """The angle at the middle of what the slope left in the mesh; None where nothing.

    It follows from the two heights, so it stands in brackets (ISO 129-1)."""
    part = scene.part
    normal, origin = np.array(scene.way(slope.frame.out)), np.array(finished(slope.frame.origin, part))
    points = part.mesh.points[np.abs((part.mesh.points - origin) @ normal) < NEAR]
    level = clean(cross(slope.frame.out, slope.under.out))
    size = dot(level, level) ** 0.5
    if len(points) < 3 or size < 1e-9:
        return None
    middle = 0.5 * (points.min(axis=0) + points.max(axis=0))
    x, y, z = (middle - normal * float((middle - origin) @ normal)).tolist()
    face = scene.way(along((0.0, 0.0, 0.0), (level, 1.0 / size)))
    angle = exactly(slope.degrees).text().replace(")", "\u00b0)")
    thick = _thicknesses(scene.model.things[slope.name])
    return Note(slope.name, (x, y, z), 0.0, f"{slope.name} {slope.word} {thick}{angle}", face)


def _thicknesses(thing: Thing) -> str:
    """How thick a body is at the two places it was read at; of heights that were read at sides both are
    drawn.
    """
    told = _told(thing)
    if told is None or not isinstance(thing, Prism) or thing.straight_sided:
        return ""
    sizes = zip((told.first, told.second), told.at, strict=True)
    return "".join(f"{amount(size).text()} at {at.name}, " for size, at in sizes)


def _told(thing: Thing) -> Told | None:
    return thing.slope if isinstance(thing, Plane | Prism) else None


def slope_sizes(scene: Scene, thing: Thing) -> Iterator[Dimension]:
    """The two heights of a slope, at the sides where they were read."""
    told = _told(thing)
    if told is None or told.under not in scene.model.frames:
        return
    frame = scene.model.frames[told.under]
    for size, at in zip((told.first, told.second), told.at, strict=True):
        owner = scene.model.things.get(at.thing)
        if owner is None or owner.spot is None or owner.spot.plane != told.under or at.part not in SIDES:
            continue
        ends, said = (told.base, told.base + told.out * size.value), amount(size)
        pairs = tuple(
            (scene.place(frame, corner, ends[0]), scene.place(frame, corner, ends[1]))
            for corner in _ends_of_side(owner.spot, at.part)
        )
        yield Dimension(thing.name, pairs, said.text(), said.value, None, scene.way(frame.out))


def _ends_of_side(spot: Spot, side: str) -> tuple[XY, XY]:
    """The two corners at the ends of a side of a box."""
    (x, y), (w, h) = spot.at, spot.half
    if side in ("left", "right"):
        x += w if side == "right" else -w
        return (x, y - h), (x, y + h)
    y += h if side == "top" else -h
    return (x - w, y), (x + w, y)
