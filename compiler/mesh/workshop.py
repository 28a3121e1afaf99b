"""The workshop in which each body's own material is made, before zones and holes, by what its kind says of
it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from types import ModuleType
from typing import cast

import numpy as np

from ..diagnostics.types import Answered, Trouble
from ..imports.types import ImportedMesh
from ..kinds import needed_file, own_file
from ..model import Body, Model
from ..model.types import Prism
from ..outlines import Region
from ..outlines.marks import Marks
from ..places.layout import Frame
from ..quantities.arrays import Floats
from .combine import place
from .drawn import drawn
from .kernel import Solid
from .prisms import prism


class Workshop:
    """Builds the bare material of each body of a model in space, each once.

    `marks` gives every face its label, `chord` is the greatest facet error in mm, `meshes` the material of
    bodies that come from a file."""

    def __init__(self, model: Model, marks: Marks, chord: float, meshes: Mapping[str, ImportedMesh]) -> None:
        self.model, self.marks, self.chord, self.meshes = model, marks, chord, meshes
        # A thread keeps its hand where the body is mirrored afterwards: it is wound the other way before.
        self.flip = model.card.wound
        self.plain = self.flip
        self.built: Mapping[str, Solid] = {}
        self._regions: dict[str, Region] = {}
        self._bare: dict[tuple[str, bool], Solid] = {}

    @contextmanager
    def other_hand(self) -> Iterator[None]:
        """While it lasts, threads are wound the other way and marks turned over."""
        self.flip = not self.flip
        try:
            yield
        finally:
            self.flip = not self.flip

    def body(self, name: str) -> Body:
        """A body by its name.  Raises Trouble where there is none, `Answered` where it could not be made."""
        found = self.model.things.get(name)
        if found is None:
            raise Answered(name)
        if not isinstance(found, Body):
            raise Trouble("wrong-kind", f"a {found.noun} has no flat outline to work inside", (name,))
        return found

    def region(self, name: str) -> Region:
        """The outline of a plate, block or strip on its plane, before holes.  Raises Trouble('wrong-kind')
        for a body without one, and what its kind raises."""
        if name not in self._regions:
            body = self.body(name)
            own = own_file(body.noun, "solid")
            if own is None or not hasattr(own, "region"):
                raise Trouble("wrong-kind", f"a {body.noun} has no flat outline to work inside", (name,))
            self._regions[name] = own.region(self, body)
        return self._regions[name]

    def solid(self, name: str, region: Region | None = None) -> Solid:
        """The bare material of a body in space; `region` replaces the outline of a prism where holes were let
        in already."""
        body = self.body(name)
        if region is not None:
            assert isinstance(body, Prism), name
            return drawn(self, body, region)
        key = (name, self.flip)
        if key not in self._bare:
            own = needed_file(body.noun, "solid")
            self._bare[key] = cast(Solid, own.build(self, body))
        return self._bare[key]

    @staticmethod
    def placed(solid: Solid, frame: Frame) -> Solid:
        """What was made upright about z, as it stands in a frame."""
        if frame == Frame():
            return solid
        return place(solid, frame.origin, axes(frame))

    def upright(self, body: Body, region: Region) -> Solid:
        """A region drawn out of its plane between the heights of a body."""
        front, back = (self.marks.of(body.name, face) for face in ("front", "back"))
        return self.placed(prism(region, body.low, body.high, front, back), body.frame)

    def bare_stock(self, body: Body) -> Solid:
        """The material of a file in the frame of its plane."""
        spot, heights = body.placed, (body.low, body.high)
        mesh = self.mesh(body.name)
        solid = _of_files().stock_solid(mesh, spot.at, heights, spot.out, self.marks, body.name)
        return cast(Solid, solid)

    def mesh(self, name: str) -> ImportedMesh:
        """The material of a file; while threads are wound the other way for a mirrored copy, its twin."""
        mesh = self.meshes[name]
        return mesh.twin if self.flip != self.plain and mesh.twin is not None else mesh

    def hollows(self, name: str) -> list[tuple[str, Solid]]:
        """The holes of a used part, each with its name, filled out to the hull of its walls."""
        body = self.body(name)
        spot, heights = body.placed, (body.low, body.high)
        some = _of_files().hollow_solids(self.meshes[name], spot.at, heights, spot.out)
        return [(hole, self.placed(solid, body.frame)) for hole, solid in some]


def _of_files() -> ModuleType:
    """What makes solids of the meshes of other files, for both kinds of bodies that bring them in."""
    return needed_file("use", "material")


def axes(frame: Frame) -> Floats:
    """A frame's axes as the columns of a matrix (3, 3)."""
    return np.array([frame.right, frame.up, frame.out], dtype=np.float64).T.copy()


__all__ = ["Workshop", "axes"]
