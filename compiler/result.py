"""What comes of compiling a recipe: the part, its figures, and everything that was to be said."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING

from msgspec import Struct

from . import outputs, places
from .callipers.types import Taken
from .diagnostics.types import Diagnostic
from .facts import Claims
from .imports.types import ImportedMesh
from .mesh.types import Figures, Mesh, Part
from .model import Model
from .places.layout import Layout
from .source import Source
from .tree import Written

if TYPE_CHECKING:
    from .outputs import PartReport
    from .outputs.paper import Scene, Verdict
    from .places.reading_weights import Weighed


class Result(Struct, frozen=True):
    """A compiled recipe.  `part` is None when an error stands in its way (`ok` is then False).

    `imported`: the material of the bodies that come from files, by name; `taken`: every number of the recipe
    as it was taken again from the mesh."""

    source: Source
    written: tuple[Written, ...]
    claims: Claims
    layout: Layout
    part: Part | None
    diagnostics: tuple[Diagnostic, ...]
    model: Model | None = None
    imported: Mapping[str, ImportedMesh] = {}
    taken: tuple[Taken, ...] = ()

    @classmethod
    def refused(cls, source: Source, found: tuple[Diagnostic, ...]) -> Result:
        """The result for a text of which nothing could be read."""
        nothing = Claims("", (), None, {}, frozenset(), frozenset())
        return cls(source, (), nothing, Layout(), None, found)

    @property
    def ok(self) -> bool:
        """True when the part was made."""
        return self.part is not None and not any(one.is_error for one in self.diagnostics)

    @property
    def made(self) -> Model:
        """The model of a part that was made."""
        assert self.model is not None
        return self.model

    @property
    def mesh(self) -> Mesh | None:
        """The closed mesh: points (n, 3) in mm, triangles (m, 3), labels (m,)."""
        return self.part.mesh if self.part is not None and self.ok else None

    @property
    def figures(self) -> Figures | None:
        """Box, volume, surface and topology of the mesh."""
        return self.part.figures if self.part is not None and self.ok else None

    @property
    def heads(self) -> dict[str, int]:
        """The line of each statement that was understood, by its name."""
        return {name: entry.span.line for name, entry in self.claims.entries.items()}

    @property
    def title(self) -> str:
        """The recipe's title."""
        return self.claims.title

    @property
    def card(self) -> dict[str, str]:
        """The recipe card: fits, broke, changed, plastic, load, ... as written."""
        return dict(self.claims.card)

    def face(self, triangle: int) -> tuple[str, str]:
        """Which statement made a triangle, and which side or part of it: ('body', 'front').  Raises when not
        ok.
        """
        assert self.part is not None
        label = int(self.part.mesh.labels[triangle])
        return self.part.faces[label] if label >= 0 else ("", "")

    def readings(self) -> Weighed:
        """Every reading weighed against the others, and every size with its standing; also where the recipe
        has errors.
        """
        return places.weighing.weigh(self.claims, self.layout)

    def report(self, weighed: bool = True) -> PartReport:
        """The part's figures, mass, placed features and sizes, each with how well it is known (unless not
        `weighed`).

        Raises ValueError when the part was not made."""
        if self.part is None or not self.ok:
            raise ValueError("there is no part to report on: the recipe has errors")
        readings = self.readings() if weighed else None
        return outputs.features.part_report(self.made, self.part, self.source.name, readings, self.taken)

    def drawing(self, kind: str = "svg") -> bytes:
        """The dimensioned drawing as `svg`, `pdf` or `png`.  Raises ValueError when the part was not made."""
        return outputs.paper.drawing_bytes(self._scene(), kind)

    def picture(self) -> bytes:
        """A shaded, labelled picture as PNG.  Raises ValueError when the part was not made."""
        return outputs.paper.picture_bytes(self._scene())

    def inspection(self, found: str = "") -> bytes:
        """The inspection sheet as PDF; `found` holds lines such as `found pin across 5.9`.

        Raises ValueError when the part was not made, or with the lines of `found` that are not understood.
        """
        scene = self._scene()
        return outputs.paper.inspection_bytes(scene, self._read(scene, found))

    def verdicts(self, found: str) -> list[Verdict]:
        """What found values mean: pass, rework or reprint, each with what to do.  Raises as `inspection`
        does.
        """
        scene = self._scene()
        return outputs.paper.verdicts(scene, self._read(scene, found))

    def inspection_json(self, found: str = "") -> str:
        """The inspection sheet as JSON.  Raises as `inspection` does."""
        scene = self._scene()
        return outputs.paper.inspection_json(scene, self._read(scene, found))

    def template(self, paper: str = "a4") -> bytes:
        """The paper template as PDF at true size, on `a4` or `letter`.  Raises ValueError when the part was
        not made.
        """
        return outputs.paper.template_bytes(self._scene(), paper)

    @staticmethod
    def _read(scene: Scene, found: str) -> dict[str, float]:
        return outputs.paper.read_found(found, [one.key for one in outputs.paper.checks(scene)])

    def _scene(self) -> Scene:

        if self.part is None or not self.ok:
            raise ValueError("there is no part to draw: the recipe has errors")
        known = self.readings
        return outputs.paper.Scene(
            self.made, self.part, self.source.name, lambda: known().spacings(), self.taken
        )
