"""What is said of shapes that outlines are made of, and of all else that has no kind of its own."""

from __future__ import annotations

from collections.abc import Iterator

from ...model import Size, Thing
from ...model.things import OutlineArc, Rectangle, Round, Web
from .amounts import amount
from .lettering import DIAMETER
from .pointers import at_centre, at_corners, often, on_faces
from .types import Dimension, Note
from .views import Scene


def notes(scene: Scene, thing: Thing) -> Iterator[Note]:
    """What a shape is."""
    before = f"{often(scene, thing)}{thing.name} "
    if isinstance(thing, Round) and is_edge(scene, thing):
        yield at_centre(scene, thing, before + amount(thing.size).text(DIAMETER), min(thing.placed.half))
    elif isinstance(thing, OutlineArc):
        if thing.radius is not None:
            yield from on_faces(scene, thing, before + amount(thing.radius).text("R"))
        elif thing.rise is not None:
            yield from on_faces(scene, thing, f"{before}rise {amount(thing.rise).text()}")
    elif isinstance(thing, Web):
        yield from on_faces(scene, thing, f"{before}{amount(thing.wide).text()} wide")
    elif isinstance(thing, Rectangle):
        yield from at_corners(scene, thing, thing.corners)


def sizes(scene: Scene, thing: Thing) -> Iterator[Dimension]:
    """The sides of a rectangle."""
    if isinstance(thing, Rectangle) and thing.spot is not None:
        yield from sides(scene, thing, thing.sizes, (thing.spot.base,))


def sides(
    scene: Scene, thing: Thing, told: tuple[Size, ...], heights: tuple[float, ...]
) -> Iterator[Dimension]:
    """How long and how wide a box is on its plane, drawn at one of these heights over it."""
    spot, frame = thing.placed, scene.model.frames[thing.placed.plane]
    (x, y), (w, h) = spot.at, spot.half
    ends = [((x - w, y - h), (x + w, y - h)), ((x - w, y - h), (x - w, y + h))]
    for size, (a, b) in zip(map(amount, told), ends, strict=False):
        pairs = tuple((scene.place(frame, a, z), scene.place(frame, b, z)) for z in heights)
        yield Dimension(thing.name, pairs, size.text(), size.value, scene.way(frame.out))


def is_edge(scene: Scene, thing: Thing) -> bool:
    """Whether something of the part was made by a shape: one that only marks a place is no edge."""
    return any(thing.name in face for face in scene.part.faces)
