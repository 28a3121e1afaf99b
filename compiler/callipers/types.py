"""What the callipers find on the finished mesh, beside what was said of it.  Lengths mm, angles degrees."""

from __future__ import annotations

from msgspec import Struct

from ..diagnostics.types import Span

ALLOWED = 0.005
"""How far (mm) a size on the mesh may be off: its points are snapped to 1e-6, and what is read off facets is
read where they touch the true surface."""
ALLOWED_ANGLE = 0.05
"""The same of an angle, degrees: of two flats some millimetres long that are off by `ALLOWED`."""


class Taken(Struct, frozen=True):
    """A number of a recipe held against the mesh.

    `thing` and `noun` name the statement, `text` and `span` its line, `key` the slot of that line; `given` as
    it was read or wanted, `meant` as the mesh should have it, `found` as it has it (None: not measured, `why`
    says what stands in the way); `allowed`: how far the two may be apart."""

    thing: str
    noun: str
    text: str
    span: Span
    key: str
    given: float
    meant: float
    found: float | None
    allowed: float
    degrees: bool = False
    why: str = ""

    @property
    def off(self) -> float:
        """Found less meant; 0 where it was not measured."""
        return 0.0 if self.found is None else self.found - self.meant

    @property
    def wrong(self) -> bool:
        """Whether the mesh has it other than it was said."""
        return self.found is not None and not abs(self.off) <= self.allowed
