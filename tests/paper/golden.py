"""Drawings boiled down to a page each: every text with its place to the mm, and how many lines there are of
each kind.

`python -m tests.paper.golden` writes the pages anew; look at the drawings themselves before the change is
kept."""

from __future__ import annotations

from collections import Counter
from pathlib import Path

import makegood
from makegood.outputs.paper import drawing_sheet
from makegood.outputs.paper.marks import Arc, Line, Sheet, Text

from .reading import EXAMPLES, HERE

PAGES = HERE / "golden"


def boiled_down(sheet: Sheet) -> str:
    """A sheet as a few dozen lines of text."""
    counts = Counter(one.role.name.lower() for one in sheet.marks if isinstance(one, Line | Arc))
    rows = [
        f"sheet {sheet.width:g} x {sheet.height:g}",
        *(f"{count} {name}" for name, count in sorted(counts.items())),
    ]
    texts = [
        (round(one.at[0]), round(one.at[1]), round(one.turn), one.text)
        for one in sheet.marks
        if isinstance(one, Text)
    ]
    rows += [f"{x:4} {y:4} {turn:4}  {text}" for x, y, turn, text in sorted(texts)]
    return "\n".join(rows) + "\n"


def page_of(path: Path) -> str:
    """The page of an example."""
    return boiled_down(drawing_sheet(makegood.compile_file(path)._scene()))


if __name__ == "__main__":
    PAGES.mkdir(exist_ok=True)
    for example in EXAMPLES:
        (PAGES / f"{example.stem}.txt").write_text(page_of(example), encoding="utf-8")
