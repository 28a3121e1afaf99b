"""The finished part as seen from somewhere: frames of its pages, outline, and the marks of what lies on
them.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping

import numpy as np
from msgspec import Struct

from ...callipers import Taken
from ...mesh.looking import shadow
from ...mesh.types import Mesh, Part
from ...model import Body, Model, Thing
from ...model.holes import Hole
from ...model.types import SHEET
from ...places.layout import Frame
from ...quantities.arrays import Floats
from ...quantities.vectors import XY, Vector, clean


class View(Struct, frozen=True):
    """A way of looking at the finished part: unit vectors to the right, up, and out towards the eye."""

    right: Vector
    up: Vector
    out: Vector

    def flat(self, points: Floats) -> Floats:
        """Points (n, 3) of the part as (n, 2) of the view, mm."""
        seen: Floats = points @ np.array([self.right, self.up], dtype=np.float64).T
        return seen

    def depth(self, points: Floats) -> Floats:
        """How far points (n, 3) lie towards the eye, mm."""
        seen: Floats = points @ np.array(self.out, dtype=np.float64)
        return seen

    def at(self, point: Vector) -> XY:
        """One point of the part in the view."""
        x, y = self.flat(np.array([point]))[0]
        return float(x), float(y)

    def outline(self, mesh: Mesh) -> list[Floats]:
        """The outline of a mesh with its openings, rings (n, 2)."""
        return shadow(mesh, self.right, self.up, self.out)


def finished(point: Vector, part: Part) -> Vector:
    """A placed point in the finished part: mirrored for the other hand, then counted from the corner of its
    box.
    """
    x = -point[0] if part.mirrored else point[0]
    return (x - part.low[0], point[1] - part.low[1], point[2] - part.low[2])


def page_view(frame: Frame, part: Part) -> View:
    """A page as its reader sees it; of the other hand the finished part is shown, so right and left change
    places.
    """
    if not part.mirrored:
        return View(frame.right, frame.up, frame.out)

    def turned(way: Vector, sign: float) -> Vector:
        return clean((-sign * way[0] + 0.0, sign * way[1] + 0.0, sign * way[2] + 0.0))

    return View(turned(frame.right, -1.0), turned(frame.up, 1.0), turned(frame.out, 1.0))


def _none() -> Mapping[frozenset[str], float]:
    return {}


class Scene:
    """A compiled part with the questions that all paper asks of it.

    `spacings`: asked once, when first needed, for the standard uncertainty (mm) of the distance of
    neighbouring holes, as all readings of their plane together say; `taken`: what was taken again from the
    mesh."""

    def __init__(
        self,
        model: Model,
        part: Part,
        source_name: str = "",
        spacings: Callable[[], Mapping[frozenset[str], float]] = _none,
        taken: tuple[Taken, ...] = (),
    ) -> None:
        self.model, self.part, self.source_name, self.taken = model, part, source_name, taken
        self._ask_spacings = spacings
        self._spacings: Mapping[frozenset[str], float] | None = None

    def spacings(self) -> Mapping[frozenset[str], float]:
        """Standard uncertainty (mm) of the distance of neighbouring holes."""
        if self._spacings is None:
            self._spacings = self._ask_spacings()
        return self._spacings

    @property
    def several(self) -> bool:
        """Whether the part is made of more than one body."""
        return len(self.model.of(Body)) > 1

    def view(self, page: str) -> View:
        """The view straight onto a page."""
        return page_view(self.model.frames[page], self.part)

    def views(self) -> list[tuple[View, list[str]]]:
        """Views onto all pages that hold material or holes, each with its pages; the sheet first, then by
        name.
        """
        names = {thing.plane for thing in self.model.things.values() if isinstance(thing, Body | Hole)}
        found: list[tuple[View, list[str]]] = []
        for page in sorted(names, key=lambda name: (name != SHEET, name)):
            view = self.view(page)
            same = next((pages for seen, pages in found if seen == view), None)
            if same is None:
                found.append((view, [page]))
            else:
                same.append(page)
        return found

    # -- places and ways in the finished part --------------------------------------------------------

    def place(self, frame: Frame, at: XY, height: float) -> Vector:
        """A place over a plane, in the finished part."""
        return finished(frame.point(at, height), self.part)

    def way(self, way: Vector) -> Vector:
        """A direction in the finished part."""
        return (-way[0] + 0.0 if self.part.mirrored else way[0], way[1], way[2])

    def out(self, thing: Thing) -> Vector:
        """The way out of the plane that a thing lies on; of one on no plane, out of the sheet."""
        return self.way(self.model.frames[thing.plane].out if thing.plane else (0.0, 0.0, 1.0))

    def places(self, thing: Thing) -> list[Vector]:
        """Where a thing and its copies lie in the finished part."""
        if thing.spot is None:
            return []
        start = self.model.frames[thing.spot.plane].point(thing.spot.at, thing.spot.base)
        moved = (start, *(move.point(start) for move in thing.copies))
        return [finished(at, self.part) for at in moved]

    def points(self, name: str, detail: str = "") -> Floats:
        """Points (n, 3) of the faces that a statement made (of this detail of it), mm."""
        mesh = self.part.mesh
        labels = [
            number
            for number, (owner, said) in enumerate(self.part.faces)
            if owner == name and (not detail or said == detail)
        ]
        found: Floats = mesh.points[np.unique(mesh.triangles[np.isin(mesh.labels, labels)].ravel())]
        return found
