"""makegood: from readings taken off a broken part to a printable spare.

The flow, room by room: source (text) -> language (what a line may be) -> tree (as written) -> imports (parts
of other files) -> facts (as claimed) -> network and places (where everything lies) -> model (the part as it
will be made) -> outlines (flat) -> mesh (one watertight body) -> checks (questions asked of it) -> outputs
(files).  `quantities`, `diagnostics` and `kinds` serve them all.  `pipeline.run` is the flow in one function.

For programs: `compile_text`, `compile_file` and `tidy_text`.  Lengths are in mm, angles in degrees as written
and in radians inside; meshes are numpy arrays.  Nothing heavy is imported before the first recipe is
compiled."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from .diagnostics.types import Diagnostic
    from .result import Result

__all__ = ["CHORD", "Result", "compile_file", "compile_text", "tidy_text"]

CHORD = 0.01


def compile_text(
    text: str, name: str = "recipe.mend", *, chord: float = CHORD, folder: str | Path | None = None
) -> Result:
    """Compile a recipe given as text; `name` is what messages call it, `folder` where files it speaks of are
    looked for.

    `chord` is the greatest distance (mm) between a facet and the curve it stands for.  Mistakes in the recipe
    never raise: they are in `Result.diagnostics`, and `Result.ok` is False."""
    from .pipeline import run
    from .source import read_text, shelf_of

    return run(*read_text(text, name), chord, None if folder is None else shelf_of(Path(name), Path(folder)))


def compile_file(path: str | Path, *, chord: float = CHORD) -> Result:
    """Compile a recipe file.  Raises OSError when it can't be read."""
    from .pipeline import run
    from .source import read_file, shelf_of

    return run(*read_file(Path(path)), chord, shelf_of(Path(path)))


def tidy_text(text: str, name: str = "recipe.mend") -> tuple[str | None, tuple[Diagnostic, ...]]:
    """A recipe in the one true layout, or None with the lines that are not understood (nothing is then
    changed).
    """
    from .source import read_text
    from .tree import parse_rows, tidy_rows

    source, found = read_text(text, name)
    tree, written, unparsed = parse_rows(source)
    del tree
    if any(one.is_error for one in (*found, *unparsed)):
        return None, (*found, *unparsed)
    return tidy_rows(written), (*found, *unparsed)


def __getattr__(name: str) -> Any:
    if name == "Result":
        from .result import Result

        return Result
    raise AttributeError(name)
