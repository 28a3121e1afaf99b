"""The finished part as seen from somewhere: frames of its pages, outline, and the marks of what lies on
them.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
from msgspec import Struct

from ...facts import BODIES, HOLES, Claims, Entry
from ...mesh import shadow
from ...mesh.types import Mesh, Part
from ...model import Model
from ...places.layout import Frame, Layout
from ...places.planes import SHEET, Pages
from ...places.weighing import weigh
from ...quantities.arrays import Floats
from ...quantities.vectors import XY, Vector, clean

if TYPE_CHECKING:
    from .rings import PitchCircle


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


class Scene:
    """A compiled part with the questions that all paper asks of it."""

    def __init__(
        self, model: Model, claims: Claims, layout: Layout, part: Part, source_name: str = ""
    ) -> None:
        self.model, self.claims, self.layout = model, claims, layout
        self.part, self.source_name = part, source_name
        self.pages = Pages(claims, layout)
        self._spacings: dict[frozenset[str], float] | None = None
        self._circles: list[PitchCircle] | None = None

    def spacings(self) -> dict[frozenset[str], float]:
        """Standard uncertainty (mm) of the distance of neighbouring holes, as all readings of their page
        together say.
        """
        if self._spacings is None:
            pages = weigh(self.claims, self.layout).pages
            self._spacings = {
                frozenset((one.first, one.second)): 0.5 * one.expanded
                for page in pages
                for one in page.spacings
            }
        return self._spacings

    def circles(self) -> list[PitchCircle]:
        """The pitch circles of its rings."""
        if self._circles is None:
            from .rings import pitch_circles

            self._circles = pitch_circles(self)
        return self._circles

    def page_of(self, entry: Entry) -> str | None:
        """The page a thing lies on, None where it has none that is placed."""
        spot = self.layout.spots.get(entry.name)
        page = spot.page if spot is not None else None
        if page is None and entry.kind in BODIES:
            page = self.pages.stand(entry.name)[0]
        return page if page in self.layout.frames else None

    def view(self, page: str) -> View:
        """The view straight onto a page."""
        return page_view(self.layout.frames[page], self.part)

    def views(self) -> list[tuple[View, list[str]]]:
        """Views onto all pages that hold material or holes, each with its pages; the sheet first, then by
        name.
        """
        names = {
            page
            for entry in self.claims.of_kind(*BODIES, *HOLES)
            if (page := self.page_of(entry)) is not None
        }
        found: list[tuple[View, list[str]]] = []
        for page in sorted(names, key=lambda name: (name != SHEET, name)):
            view = self.view(page)
            same = next((pages for seen, pages in found if seen == view), None)
            if same is None:
                found.append((view, [page]))
            else:
                same.append(page)
        return found

    def places(self, entry: Entry) -> list[Vector]:
        """Where a thing and its copies lie in the finished part."""
        spot = self.layout.spots.get(entry.name)
        if spot is None:
            return []
        start = self.layout.frames[spot.page].point(spot.at, spot.base)
        return [
            finished(at, self.part)
            for at in (start, *(one.point(start) for one in self.layout.copies.get(entry.name, ())))
        ]
