"""The finished solid as arrays, and its figures.  Lengths in mm."""

from __future__ import annotations

from msgspec import Struct

from ..quantities.arrays import Floats, Ints


class Mesh(Struct, frozen=True):
    """A closed triangle mesh in canonical order (the same for the same solid, whatever built it).

    points (n, 3) in mm; triangles (m, 3) indices, anticlockwise seen from outside; labels (m,): which face
    label of the caller each triangle carries, -1 where none."""

    points: Floats
    triangles: Ints
    labels: Ints


class Figures(Struct, frozen=True):
    """What can be said of a mesh in numbers: sizes of its box (mm), volume (mm3), surface (mm2), topology;
    `hollows`: cavities closed all round.
    """

    low: tuple[float, float, float]
    high: tuple[float, float, float]
    volume: float
    area: float
    watertight: bool
    pieces: int
    genus: int
    triangles: int
    hollows: int = 0

    @property
    def box(self) -> tuple[float, float, float]:
        """Sizes of the bounding box along x, y, z in mm."""
        return (self.high[0] - self.low[0], self.high[1] - self.low[1], self.high[2] - self.low[2])


class Part(Struct, frozen=True):
    """The finished part: mesh, figures, and what each face label stands for (statement, detail).

    The mesh was mirrored in x when `mirrored`, then moved by minus `low`, so that its box begins at the
    origin."""

    mesh: Mesh
    figures: Figures
    faces: tuple[tuple[str, str], ...]
    mirrored: bool
    low: tuple[float, float, float]
