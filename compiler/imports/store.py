"""What one run of the compiler has read and made so far, so that nothing is read or made twice."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from pathlib import Path

from msgspec import Struct, field

from ..diagnostics.types import Diagnostic, Severity, Span
from ..quantities import Quantity
from ..quantities.arrays import Floats, Longs
from ..source import Shelf, Source
from ..tree import Tree
from .types import FinishedPart, MadeRecipe

MOST_MESSAGES = 300

Run = Callable[[Source, tuple[Diagnostic, ...], "Store", Mapping[str, Quantity]], MadeRecipe]
Shifted = Callable[[Floats, Longs, float, float], "tuple[Floats, Longs] | None"]


class Makers(Struct, frozen=True):
    """What only later rooms can do; the pipeline hands it in, so that this room imports none of them.

    `run` compiles a used recipe: its text, what was said of that, the store, the numbers set from outside.
    `shifted` moves the whole surface of a closed mesh: points (n, 3), triangles (m, 3), mm outwards
    (inwards: < 0), chord in mm; None where nothing is left.  It may raise Trouble."""

    run: Run
    shifted: Shifted


class Store(Struct):
    """Where files are looked for, how finely curves are faceted (`chord`, mm), and what was read and made.

    `flipped`: the recipe at work is mirrored as a whole by the one that uses it."""

    shelf: Shelf
    chord: float
    makers: Makers
    read: dict[Path, tuple[Source, tuple[Diagnostic, ...], Tree]] = field(default_factory=dict)
    made: dict[tuple[object, ...], MadeRecipe] = field(default_factory=dict)
    shifted: dict[tuple[object, ...], FinishedPart] = field(default_factory=dict)
    flipped: bool = False

    def beside(self, file: Path, flipped: bool) -> Store:
        """The same store for a recipe that is used by the one at work."""
        return Store(
            self.shelf.beside(file), self.chord, self.makers, self.read, self.made, self.shifted, flipped
        )


class Messages(Struct):
    """Messages as they are found, up to a number that nobody reads to the end."""

    found: list[Diagnostic] = field(default_factory=list)

    def say(
        self,
        code: str,
        headline: str,
        span: Span,
        advice: tuple[str, ...] = (),
        severity: Severity = Severity.ERROR,
    ) -> None:
        """Keep one message."""
        if len(self.found) < MOST_MESSAGES:
            self.found.append(Diagnostic(code, severity, headline, span, advice=advice))
