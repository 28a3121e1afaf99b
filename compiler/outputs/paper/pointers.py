"""Where the notes of a thing point: to its middle, to the faces it made, to the edges that were worked."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

import numpy as np

from ...model import Size, Thing
from ...model.types import Corners
from ...quantities.vectors import Vector
from .amounts import shown
from .types import Note
from .views import Scene


def often(scene: Scene, thing: Thing) -> str:
    """How often a thing is there, before its name; '' where once."""
    count = len(scene.places(thing))
    return f"{count} \u00d7 " if count > 1 else ""


def owner(scene: Scene, thing: Thing) -> str:
    """The name of a body before what is said of it; '' where there is no other body."""
    return f"{thing.name} " if scene.several else ""


def at_centre(scene: Scene, thing: Thing, text: str, radius: float) -> Note:
    """A note at the middle of a thing, its leader to a round of this radius (mm)."""
    out = scene.way(scene.model.frames[thing.placed.plane].out)
    return Note(thing.name, scene.places(thing)[0], radius, text, out)


def on_faces(
    scene: Scene, thing: Thing, text: str, detail: str = "", face: Vector | None = None
) -> Iterator[Note]:
    """A note at a point of the faces of a thing (of this detail of it): the one nearest to their middle."""
    points = scene.points(thing.name, detail)
    if len(points) and text:
        away = np.sqrt(((points - points.mean(axis=0)) ** 2).sum(axis=1)) + 1e-6 * np.arange(len(points))
        x, y, z = points[int(np.argmin(away))].tolist()
        yield Note(thing.name, (x, y, z), 0.0, text, face or scene.out(thing))


def in_middle(scene: Scene, thing: Thing, text: str, face: Vector) -> Iterator[Note]:
    """A note whose leader ends in a face, at the middle of all that a thing made."""
    points = scene.points(thing.name)
    if len(points):
        x, y, z = points.mean(axis=0).tolist()
        yield Note(thing.name, (x, y, z), None, text, face)


def at_bevels(scene: Scene, thing: Thing, sizes: Iterable[Size]) -> Iterator[Note]:
    """A note at each bevel."""
    for size in sizes:
        text = f"{owner(scene, thing)}{shown(size.value)} \u00d7 45\u00b0"
        yield from on_faces(scene, thing, text, "bevel")


def at_corners(scene: Scene, thing: Thing, corners: Iterable[Corners]) -> Iterator[Note]:
    """A note at rounded corners of an outline."""
    for corner in corners:
        where = "" if corner.places else f" {'inner' if corner.hollow else 'outer'} corners"
        detail = "round inside" if corner.hollow else "round outside"
        yield from on_faces(scene, thing, f"R{shown(corner.size.value)}{where}", detail)
