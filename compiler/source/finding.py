"""Finds the files a recipe speaks of: beside it or below its folder, never anywhere else; and the patterns we
ship.

A recipe may come from a stranger, so a path that climbs out, by `..`, by an absolute path or by a link, is
refused before anything is opened, and only ordinary files are ever opened."""

from __future__ import annotations

import stat
from pathlib import Path

from msgspec import Struct

from ..diagnostics import nearest
from ..diagnostics.types import Trouble

PATTERNS = Path(__file__).parent.parent / "patterns"
MOST_NAME = 200
MOST_LOOKED_AT = 500


class Shelf(Struct, frozen=True):
    """Where a recipe's files are looked for: `base` the folder it stands in, `root` the folder that none may
    leave.

    Both are None for a text without a file; then only the patterns we ship are there.  `trail`: the files at
    work, outermost first."""

    root: Path | None = None
    base: Path | None = None
    trail: tuple[Path, ...] = ()

    def beside(self, file: Path) -> Shelf:
        """The shelf of a recipe that was found on this one."""
        root = PATTERNS if file.parent == PATTERNS else self.root
        return Shelf(root, file.parent, (*self.trail, file))


def shelf_of(recipe: Path, folder: Path | None = None) -> Shelf:
    """The shelf of a recipe that is compiled for its own sake, or of a text that stands in a folder."""
    if folder is not None:
        return Shelf(folder.resolve(), folder.resolve())
    here = recipe.resolve()
    return Shelf(here.parent, here.parent, (here,))


def shipped() -> list[str]:
    """Names of the patterns we ship, sorted."""
    return sorted(path.stem for path in PATTERNS.glob("*.mend"))


def find_file(name: str, endings: tuple[str, ...], shelf: Shelf) -> Path:
    """The file a name speaks of: with an ending beside the recipe, without one a pattern we ship (recipes
    only).

    Raises Trouble('outside-folder') or Trouble('no-such-file')."""
    _stays_inside(name, shelf)
    if "." not in name and "/" not in name and ".mend" in endings:
        if name in shipped():
            return PATTERNS / f"{name}.mend"
        raise _missing(name, endings, shelf)
    if not name.lower().endswith(endings):
        raise Trouble(
            "no-such-file", f'"{name}" should end in {" or ".join(endings)}', advice=_other_kind(name)
        )
    if shelf.root is None or shelf.base is None:
        raise _missing(name, endings, shelf)
    try:
        path = (shelf.base / name).resolve()
    except (OSError, RuntimeError):  # links in a circle
        raise _missing(name, endings, shelf) from None
    if not path.is_relative_to(shelf.root):
        raise Trouble(
            "outside-folder",
            f'"{name}" is a link that leads out of the recipe\'s folder',
            advice=("copy the file itself beside the recipe",),
        )
    try:
        ordinary = stat.S_ISREG(path.stat().st_mode)
    except (OSError, ValueError):
        raise _missing(name, endings, shelf) from None
    if not ordinary:
        raise Trouble("no-such-file", f'"{name}" is no file', advice=("name a file beside the recipe",))
    return path


def _stays_inside(name: str, shelf: Shelf) -> None:
    """Refuse by its text alone a path that is absolute or climbs out of the root."""
    wrong = ""
    if len(name) > MOST_NAME or not name.strip() or not name.isprintable():
        wrong = "is no file's name"
    elif name.startswith(("/", "~")) or "\\" in name or ":" in name:
        wrong = "is not written as a place beside the recipe"
    else:
        depth = len(shelf.base.relative_to(shelf.root).parts) if shelf.base and shelf.root else 0
        for part in name.split("/"):
            depth += -1 if part == ".." else part not in ("", ".")
            if depth < 0:
                wrong = "leaves the recipe's folder"
                break
    if wrong:
        shown = name if len(name) <= 40 else name[:30] + "..."
        raise Trouble(
            "outside-folder",
            f'"{shown}" {wrong}',
            advice=("put the file beside the recipe, or in a folder below it: parts/clip.mend",),
        )


def _other_kind(name: str) -> tuple[str, ...]:
    lower = name.lower()
    if lower.endswith((".stl", ".3mf")):
        return (f'a mesh is stock:  blank NAME "{name}"',)
    if lower.endswith(".mend"):
        return (f'a recipe is used:  use NAME "{name}"',)
    return ()


def _missing(name: str, endings: tuple[str, ...], shelf: Shelf) -> Trouble:
    """The answer to a name that stands for nothing, with names that may have been meant."""
    known = _beside(endings, shelf)
    patterns = shipped() if ".mend" in endings else []
    near = nearest(name, [*known, *patterns])
    if not near and name.endswith(".mend"):
        near = [one for one in patterns if one == name[:-5]]
    said = f'there is no file "{name}" beside the recipe'
    if "." not in name:
        said = f'no pattern is called "{name}"'
    elif shelf.root is None:
        said = f'"{name}" is not there: this text stands in no folder'
    advice = ["did you mean " + " or ".join(f'"{one}"' for one in near) + "?"] if near else []
    if patterns and not near:
        advice.append("patterns that come with makegood: " + " ".join(patterns))
    return Trouble("no-such-file", said, advice=tuple(advice))


def _beside(endings: tuple[str, ...], shelf: Shelf) -> list[str]:
    if shelf.base is None:
        return []
    found = []
    try:
        for number, path in enumerate(shelf.base.iterdir()):
            if number >= MOST_LOOKED_AT:
                break
            if path.name.lower().endswith(endings):
                found.append(path.name)
    except OSError:
        return []
    return sorted(found)
