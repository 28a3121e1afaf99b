"""What comes from other files, as data: what was asked for, and the finished parts.

`ImportedPart` is the light half (sizes and names), which the facts are built with; `ImportedMesh` is the
material, which nothing before the mesh room reads.  Importing this file loads no numpy of its own."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING, ClassVar

from msgspec import Struct

from ..diagnostics.types import Diagnostic, Span
from ..quantities import Quantity
from ..quantities.vectors import Vector

if TYPE_CHECKING:
    import numpy as np
    import numpy.typing as npt


class Setting(Struct, frozen=True):
    """A named number of a used recipe that is set from outside, worked out, and where that is written."""

    name: str
    number: Quantity
    span: Span


class ImportRequest(Struct, frozen=True):
    """One body that comes from a file: its name, the file's name as written, how it lies.

    `noun`: the kind of the statement, whose file `imports` brings it in.  `lies_on`: the side of its box that
    becomes its back; `turned`: then anticlockwise by degrees; `span` is the place of the statement,
    `file_span` of the file's name."""

    name: str
    file: str
    span: Span
    file_span: Span
    lies_on: str = "back"
    turned: float = 0.0

    noun: ClassVar[str] = ""


class RecipeRequest(ImportRequest, frozen=True):
    """The finished part of another recipe (`use`).

    `flipped`: the recipe that uses it is mirrored as a whole; `mirrored`: a `mirror` copies this body."""

    settings: tuple[Setting, ...] = ()
    flipped: bool = False
    mirrored: bool = False

    noun: ClassVar[str] = "use"


class MeshRequest(ImportRequest, frozen=True):
    """A mesh file (`blank`): the unit it is said to be in (none: as the file says), where `repair` is said,
    and by how many mm it is to `grow` or `shrink` (`change` is that word, empty for neither)."""

    unit: str = ""
    repair: Span | None = None
    change: str = ""
    by: float = 0.0

    noun: ClassVar[str] = "blank"


class HeldThing(Struct, frozen=True):
    """A thing of a used part: where its centre is (mm), and its size across as made (0: none, or it leans).

    `kind`: what it is in its own recipe; `axis`: unit vector square to the page it was read on; `bored`: a
    hole's size across as made, whichever way it runs (None: it has none, or is no hole); `hole`: it is one.
    """

    at: Vector
    across: float = 0.0
    kind: str = "point"
    axis: Vector = (0.0, 0.0, 1.0)
    bored: float | None = None
    hole: bool = False


class ImportedPart(Struct, frozen=True):
    """What the facts learn of a body from a file: the sizes of its box (mm), what its own recipe names
    (places counted from the corner of the box), and whether it has threads (`wound`)."""

    box: Vector
    held: Mapping[str, HeldThing] = {}
    wound: bool = False


class ImportedMesh(Struct, frozen=True, eq=False):
    """A closed mesh: points (n, 3) in mm, triangles (m, 3), labels (m,) into `faces`, what each face is
    called (none: by the side of the box it lies in, named when it is laid down).

    `box`: sizes of its box, which begins at the origin; `hollows`: the holes of a used part, each with the
    names of its faces; `twin`: the same with threads wound the other way, for a copy that is mirrored."""

    box: Vector
    points: npt.NDArray[np.float64]
    triangles: npt.NDArray[np.int32]
    labels: npt.NDArray[np.int32]
    faces: tuple[str, ...]
    hollows: Mapping[str, tuple[str, ...]] = {}
    twin: ImportedMesh | None = None


class FinishedPart(Struct, frozen=True, eq=False):
    """Both halves of a part from a file."""

    part: ImportedPart
    mesh: ImportedMesh


class MadeRecipe(Struct, frozen=True, eq=False):
    """What came of compiling a used recipe: its messages, and its part (None where an error stands in its
    way)."""

    said: tuple[Diagnostic, ...]
    part: FinishedPart | None


class Imports(Struct, frozen=True, eq=False):
    """All that a recipe brought in, by the name of the body: the light halves, and the meshes."""

    parts: Mapping[str, ImportedPart] = {}
    meshes: Mapping[str, ImportedMesh] = {}
