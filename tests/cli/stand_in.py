"""A compiler that gives what its recipe says, so that the command line is tested apart from geometry.

A recipe for it is a list of words: `broken` gives an error, `doubtful` a warning, `trips` a fault of the
compiler, `refused` a reason given by code that knows no lines, `slow` takes its time."""

from __future__ import annotations

import time
from dataclasses import dataclass, field
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import makegood
import makegood.outputs
import numpy as np
from makegood.diagnostics import Diagnostic, Severity, Span, Trouble
from makegood.mesh.types import Figures, Mesh
from makegood.outputs import PartReport

ERROR = Diagnostic("two-places", Severity.ERROR, "hook could be in two places", Span(1, 1, 7), "here")
WARNING = Diagnostic("thin-wall", Severity.WARNING, "the wall at hook is 0.3 thin", Span(1, 1, 9))
CORNERS = [(0.0, 0.0, 0.0), (30.0, 0.0, 0.0), (0.0, 20.0, 0.0), (0.0, 0.0, 10.0)]


@dataclass
class Result:
    """What a run of the compiler leaves, as far as the command line looks at it."""

    source: Any
    diagnostics: tuple[Diagnostic, ...]
    mesh: Mesh | None = None
    figures: Figures | None = None
    title: str = "stand-in"
    card: dict[str, str] = field(default_factory=lambda: {"plastic": "PETG"})

    @property
    def ok(self) -> bool:
        return not any(diagnostic.is_error for diagnostic in self.diagnostics)

    def report(self, weighed: bool = True) -> PartReport:
        assert self.figures is not None
        return PartReport(self.title, self.source.name, self.figures, "PETG", 1.27, 1.27)


def compile_file(path: Path, *, chord: float = 0.01) -> Result:
    text = Path(path).read_text(encoding="utf-8")
    if "trips" in text:
        raise ZeroDivisionError("secret of the house")
    if "refused" in text:
        raise Trouble("too-thin", "the neck is too narrow for the round", advice=("make it smaller",))
    if "slow" in text:
        time.sleep(30)
    found = tuple(told for word, told in (("broken", ERROR), ("doubtful", WARNING)) if word in text)
    source = SimpleNamespace(name=Path(path).name, lines=tuple(text.split("\n")))
    if ERROR in found:
        return Result(source, found)
    triangles = np.array([(0, 2, 1), (0, 1, 3), (0, 3, 2), (1, 2, 3)], dtype=np.int32)
    mesh = Mesh(np.array(CORNERS), triangles, np.full(4, -1, dtype=np.int32))
    return Result(source, found, mesh, Figures((0, 0, 0), (30, 20, 10), 1000.0, 900.0, True, 1, 0, 4))


def tidy_text(text: str, name: str) -> tuple[str | None, tuple[Diagnostic, ...]]:
    return (None, (ERROR,)) if "broken" in text else (text.strip() + "\n", ())


def put_in() -> None:
    """Put the stand-in where the command line looks for the compiler."""
    for name, value in REPLACED:
        setattr(makegood, name, value)


REPLACED = (("compile_file", compile_file), ("tidy_text", tidy_text))
