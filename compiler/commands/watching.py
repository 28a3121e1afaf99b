"""Waits until a recipe, or a file it speaks of, has been saved.

Files are looked at by time and size, which works on every disk and costs next to nothing.  A change is taken
up once all have rested for a moment, so that a burst of saves is taken up a few times only; a recipe that is
missing or empty is most likely being written at this moment and gets a little longer."""

from __future__ import annotations

import re
import time
from collections.abc import Callable, Sequence
from pathlib import Path

from ..source import Row, read_file

LOOK = 0.02  # s between two looks
REST = 0.02  # s that the files must have rested
WAIT = 0.4  # s after which they are read all the same
MOST_FILES = 60
MOST_BYTES = 1_000_000  # of a recipe that is looked into for further files
Stamp = tuple[int, int, int] | None

_SPOKEN_OF = re.compile(r'(?:use|blank)\s+\S+\s+"([^"]{1,200}\.(mend|stl|3mf))"', re.IGNORECASE)


def watch(path: Path, take: Callable[[], None]) -> None:
    """Call `take` at once and after every change, for ever."""
    last = _rested([path])
    while True:
        # stamped before they are read: what is saved meanwhile differs from `last` and is taken up at once
        last = {one: last.get(one, _stamp(one)) for one in files_spoken_of(path)}
        take()
        while {one: _stamp(one) for one in last} == last:
            time.sleep(LOOK)
        last = _rested(list(last))


def files_spoken_of(path: Path) -> list[Path]:
    """The recipe and every file that it, or a recipe it uses, speaks of, there or not; none outside its
    folder.
    """
    root = path.resolve().parent
    found, unread = [path], [path]
    while unread and len(found) < MOST_FILES:
        recipe = unread.pop()
        base = recipe.resolve().parent
        for row in _rows(recipe):
            told = None if row.indented else _SPOKEN_OF.match(row.text)
            file = None if told is None else _inside(base / told[1], root)
            if told is None or file is None or file in found:
                continue
            found.append(file)
            if told[2].lower() == "mend":
                unread.append(file)
    return found[:MOST_FILES]


def _inside(file: Path, root: Path) -> Path | None:
    try:
        whole = file.resolve()
    except (OSError, RuntimeError, ValueError):
        return None
    return whole if whole.is_relative_to(root) else None


def _rows(recipe: Path) -> Sequence[Row]:
    try:
        return read_file(recipe)[0].rows if recipe.is_file() and recipe.stat().st_size <= MOST_BYTES else ()
    except OSError:
        return ()


def _stamp(path: Path) -> Stamp:
    """What tells that a file has changed; None where there is none (an editor may be putting a new one in its
    place).
    """
    try:
        told = path.stat()
    except (OSError, ValueError):
        return None
    return (told.st_mtime_ns, told.st_size, told.st_ino)


def _rested(files: Sequence[Path]) -> dict[Path, Stamp]:
    """The stamps of the files as soon as all rest; the first is the recipe."""
    start = since = time.monotonic()
    stamps = {one: _stamp(one) for one in files}
    while time.monotonic() - start < WAIT:
        recipe = stamps[files[0]]
        if recipe is not None and recipe[1] and time.monotonic() - since >= REST:
            break
        time.sleep(REST / 3)
        now = {one: _stamp(one) for one in files}
        if now != stamps:
            stamps, since = now, time.monotonic()
    return stamps
