"""The last pages of the inspection sheet: every number of the recipe as it was taken again from the finished
mesh, before anything was printed.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from ...callipers import Taken
from ...quantities.vectors import XY
from ..measured import LOOK
from ..tables import SEEN, shown
from .lettering import wrapped
from .marks import Mark, Role, Text, line

OF_THE_MESH = "every number of the recipe, taken again from the mesh that is printed; nothing to fill in"
COLUMNS = (
    ("thing", 24.0),
    ("line", 62.0),
    ("said", 17.0),
    ("to be", 17.0),
    ("on the mesh", 19.0),
    ("off", 14.0),
    ("because", 29.0),
)
SIZE = 2.9
ROW = 3.6  # mm from line to line of text
FOOT = 16.0  # mm kept free at the bottom of a page


def measured_pages(taken: Sequence[Taken], start: XY) -> list[list[Mark]]:
    """The table on as many pages as it takes, each from `start` (its upper left corner) downwards; none
    where nothing was taken.
    """
    pages: list[list[Mark]] = []
    left = 0.0
    for row in taken:
        cells = _cells(row)
        tall = max(len(cell) for cell in cells) * ROW + 1.4
        if not pages or tall > left - FOOT:
            pages.append(list(_head(start)))
            left = start[1] - 6.0
        pages[-1] += _drawn(cells, start[0], left)
        left -= tall
    return pages


def _cells(row: Taken) -> list[list[str]]:
    unit = "\u00b0" if row.degrees else ""
    changed = abs(row.meant - row.given) >= SEEN
    found = ("not measured", "") if row.found is None else (shown(row.found) + unit, shown(row.off, "+"))
    texts = (
        row.thing,
        row.text,
        shown(row.given) + unit,
        shown(row.meant) + unit if changed else "",
        *found,
        LOOK if row.wrong else row.why,
    )
    return [wrapped(text, SIZE, wide - 2.0, 3) for text, (_, wide) in zip(texts, COLUMNS, strict=True)]


def _head(start: XY) -> Iterator[Mark]:
    x, top = start
    for name, wide in COLUMNS:
        yield Text((x + 1.0, top - 4.0), name, 2.8, shade=0.3)
        x += wide
    yield line(Role.VISIBLE, (start[0], top - 5.6), (x, top - 5.6))


def _drawn(cells: Sequence[Sequence[str]], x: float, top: float) -> Iterator[Mark]:
    for (_, wide), lines in zip(COLUMNS, cells, strict=True):
        for number, words in enumerate(lines):
            yield Text((x + 1.0, top - 3.2 - number * ROW), words, SIZE)
        x += wide
