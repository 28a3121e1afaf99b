"""Material that comes ready made: the finished part of another recipe, or a mesh from a file.

It lies as the statement says (`lies on`, `turned`), its box begins at the origin, its back is at height 0.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from msgspec import Struct

from ..quantities.vectors import Vector
from .needs import HOLES

if TYPE_CHECKING:
    import numpy as np
    import numpy.typing as npt


class Held(Struct, frozen=True):
    """A thing of a used part: where its centre is (mm), and its size across as made (0: none, or it leans).

    `kind`: what it is in its own recipe; `axis`: unit vector square to the page it was read on; `bored`: a
    hole's size across as made, whichever way it runs (None: it has none, or is no hole)."""

    at: Vector
    across: float = 0.0
    kind: str = "point"
    axis: Vector = (0.0, 0.0, 1.0)
    bored: float | None = None

    @property
    def is_hole(self) -> bool:
        """Whether it is a hole in its own recipe."""
        return self.kind in HOLES


class Stock(Struct, frozen=True, eq=False):
    """A closed mesh: points (n, 3) in mm, triangles (m, 3), labels (m,) into `faces`, what each face is
    called (none: by the side of the box it lies in, named when the stock is laid down).

    `box`: sizes of its box; `held`: what a used part's own recipe names; `hollows`: its holes, each with the
    names of its faces; `wound`: it has threads; `twin`: the same with threads wound the other way, for a copy
    that is mirrored."""

    box: Vector
    points: npt.NDArray[np.float64]
    triangles: npt.NDArray[np.int32]
    labels: npt.NDArray[np.int32]
    faces: tuple[str, ...]
    held: dict[str, Held] = {}
    hollows: dict[str, tuple[str, ...]] = {}
    wound: bool = False
    twin: Stock | None = None
