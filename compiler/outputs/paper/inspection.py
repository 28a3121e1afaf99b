"""The inspection sheet: a table on paper to fill in at the bench, the same as JSON, and the verdicts on found
values.
"""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping, Sequence

from ..tables import rounded
from .amounts import shown
from .checks import checks
from .lettering import text_width, wrapped
from .marks import PAPERS, Mark, Role, Sheet, Text, line, ring
from .measured_pages import OF_THE_MESH, measured_pages
from .pdf import pdf_bytes
from .types import Check, Outcome, Verdict
from .verdicts import verdict
from .views import Scene

EDGE = 14.0
SIZE = 3.1
ROW = 3.9  # mm from line to line of text
COLUMNS = (
    ("", 6.0),
    ("what", 33.0),
    ("how to take it", 45.0),
    ("as printed", 20.0),
    ("expected", 14.0),
    ("will do", 21.0),
    ("drills", 15.0),
    ("found", 14.0),
    ("verdict", 14.0),
)
CAUTIONS = (
    (
        "Drills are run through one after the other, slowly, the "
        "part held in a vice and never in the fingers: plastic grabs."
    ),
    "A hole is as printed before any drill was in it. Let the part cool before it is measured.",
    "\u2022 marks what must be right for the part to work.",
)
TO_FILL = "write found values as lines `found KEY VALUE` into the file beside it"


def verdicts(scene: Scene, found: Mapping[str, float]) -> list[Verdict]:
    """What each found value means, in the order of the sheet."""
    listed = {one.key: one for one in checks(scene)}
    return [verdict(one, found[key], found, listed) for key, one in listed.items() if key in found]


def inspection_bytes(scene: Scene, found: Mapping[str, float]) -> bytes:
    """The inspection sheet as PDF; found values and verdicts stand in their columns."""
    return pdf_bytes(inspection_sheets(scene, found), f"{scene.model.card.title}: inspection sheet")


def inspection_sheets(scene: Scene, found: Mapping[str, float]) -> list[Sheet]:
    """The sheets of the table, as many as it takes."""
    wide, high = PAPERS["a4"]
    said = {one.key: one for one in verdicts(scene, found)}
    rows = [_row(number, one, said.get(one.key)) for number, one in enumerate(checks(scene), start=1)]
    pages: list[list[Mark]] = []
    left = 0.0
    for row in rows:
        tall = max(len(cell) for cell in row) * ROW + 2.2
        if not pages or tall > left - EDGE - 22.0:
            pages.append([])
            left = high - EDGE - 22.0
            pages[-1] += _head(left)
            left -= 6.0
        pages[-1] += _cells(row, left, tall)
        left -= tall
    pages = pages or [[Text((EDGE, high - EDGE - 26), "there is nothing to measure", SIZE)]]
    total = len(pages)
    pages += measured_pages(scene.taken, (EDGE, high - EDGE - 22.0))
    return [
        Sheet(wide, high, (*_around(scene, number, len(pages), number <= total), *marks))
        for number, marks in enumerate(pages, start=1)
    ]


def band(low: float, high: float) -> str:
    """From where to where, as it stands in the table."""
    return f"{shown(max(low, 0.0))} \u2013 {shown(high)}"


def _row(number: int, check: Check, said: Verdict | None) -> list[list[str]]:
    same = (check.limits.printed_low, check.limits.printed_high) == (check.limits.low, check.limits.high)
    cells = [
        f"{number}",
        ("\u2022 " if check.critical else "") + check.key,
        check.how,
        "" if same else band(check.limits.printed_low, check.limits.printed_high),
        shown(check.value),
        band(check.limits.low, check.limits.high),
        ", ".join(f"{one:g}" for one in check.limits.drills),
        *(("", "") if said is None else (f"{said.found:.2f}", said.outcome.value)),
    ]
    room = [wide - 2.0 for _, wide in COLUMNS]
    split = [wrapped(cell, SIZE, space, 4) for cell, space in zip(cells, room, strict=True)]
    if said is not None and said.outcome is not Outcome.PASS:
        split[2] += wrapped(f"{said.outcome.value}: {said.advice}", SIZE, room[2], 5)
    return split


def _head(top: float) -> Iterator[Mark]:
    x = EDGE
    for name, wide in COLUMNS:
        yield Text((x + 1.0, top - 4.0), name, 2.8, shade=0.3)
        x += wide
    yield line(Role.VISIBLE, (EDGE, top - 5.6), (x, top - 5.6))


def _cells(row: Sequence[Sequence[str]], top: float, tall: float) -> Iterator[Mark]:
    x = EDGE
    for (name, wide), lines in zip(COLUMNS, row, strict=True):
        for number, words in enumerate(lines):
            yield Text((x + 1.0, top - 3.4 - number * ROW), words, SIZE)
        if name == "found":
            low = top - tall + 0.6
            yield ring(
                Role.NARROW, [(x, low), (x + wide - 1, low), (x + wide - 1, top - 0.4), (x, top - 0.4)]
            )
        x += wide
    yield line(Role.NARROW, (EDGE, top - tall), (x, top - tall))


def _around(scene: Scene, number: int, total: int, to_fill: bool) -> Iterator[Mark]:
    wide, high = PAPERS["a4"]
    title, plastic = scene.model.card.title, scene.model.card.plastic
    yield Text(
        (EDGE, high - EDGE - 4),
        wrapped(title, 5.0, wide - 2 * EDGE - 40, 1, True)[0] if title.strip() else "part",
        5.0,
        bold=True,
    )
    count = f"inspection sheet {number} of {total}"
    yield Text((wide - EDGE - text_width(count, 3.0), high - EDGE - 4), count, 3.0)
    made_of = f"; plastic {plastic.text}" if plastic is not None else ""
    said = f"from {scene.source_name}{made_of}; sizes in mm; " + (TO_FILL if to_fill else OF_THE_MESH)
    for row, words in enumerate(wrapped(said, 2.8, wide - 2 * EDGE, 2)):
        yield Text((EDGE, high - EDGE - 10 - 3.6 * row), words, 2.8, shade=0.25)
    for row, words in enumerate(reversed(CAUTIONS) if to_fill else ()):
        yield Text((EDGE, EDGE + 1.0 + 4.0 * row), words, 2.9)


def inspection_json(scene: Scene, found: Mapping[str, float]) -> str:
    """The sheet as JSON with sorted keys, a line end at the last."""
    said = {one.key: one for one in verdicts(scene, found)}
    rows = []
    for one in checks(scene):
        told = said.get(one.key)
        rows.append(
            {
                "key": one.key,
                "kind": one.gauge.value,
                "how": one.how,
                "expected": rounded(one.value),
                "low": rounded(one.limits.low),
                "high": rounded(one.limits.high),
                "printed_low": rounded(one.limits.printed_low),
                "printed_high": rounded(one.limits.printed_high),
                "drills": list(one.limits.drills),
                "critical": one.critical,
                "found": rounded(told.found) if told else None,
                "verdict": told.outcome.value if told else None,
                "advice": told.advice if told else None,
            }
        )
    return (
        json.dumps(
            {"title": scene.model.card.title, "checks": rows}, sort_keys=True, indent=2, allow_nan=False
        )
        + "\n"
    )
