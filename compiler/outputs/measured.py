"""What was taken again from the finished mesh, as a table and as JSON: as read, as it is to be, as found."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence

from ..callipers import Taken
from .tables import SEEN, aligned, finite, rounded, shown

LOOK = "differs: look at it; these callipers are new and can be mistaken"
"""Beside a number that was found other than it was said."""
HEAD = ("thing", "line", "", "said", "to be", "found", "off", "")
_TO_THE_RIGHT = ("said", "to be", "found", "off")
_WAYS = {"x": "across", "y": "up", "start": "from", "stop": "to"}
"""What a slot of a line is called in the table, where the line has several."""


def measured_table(taken: Sequence[Taken]) -> Iterator[str]:
    """Every number that was measured, what was changed on purpose with its reason; then, by reason, what
    can't be measured.
    """
    found = [row for row in taken if row.found is not None]
    if found:
        yield "measured on the finished mesh"
        often = Counter((row.thing, row.text) for row in found)
        rows = _without_idle([HEAD, *(_row(row, often[row.thing, row.text] == 1) for row in found)])
        yield from aligned(rows, "  ", [">" if name in _TO_THE_RIGHT else "" for name in rows[0]])
    yield from _not_measured([row for row in taken if row.found is None])


def _row(row: Taken, alone: bool) -> tuple[str, ...]:
    assert row.found is not None
    unit = " deg" if row.degrees else ""
    changed = abs(row.meant - row.given) >= SEEN
    return (
        row.thing,
        row.text,
        "" if alone else _WAYS.get(row.key, ""),
        shown(row.given) + unit,
        shown(row.meant) + unit if changed else "",
        shown(row.found) + unit,
        shown(row.off, "+"),
        LOOK if row.wrong else row.why,
    )


def on_mesh(taken: Sequence[Taken], thing: str, text: str, way: str) -> Taken | None:
    """The reading of a line as it was taken again, of two distances the one `across` or `up`."""
    rows = [row for row in taken if row.thing == thing and row.text == text and row.found is not None]
    if way:
        rows = [row for row in rows if _WAYS.get(row.key) == way]
    return rows[0] if rows else None


def _without_idle(rows: list[tuple[str, ...]]) -> list[tuple[str, ...]]:
    """The rows without the columns in which nothing stands."""
    kept = [k for k in range(len(rows[0])) if any(row[k] for row in rows[1:])]
    return [tuple(row[k] for k in kept) for row in rows]


def _not_measured(rows: Sequence[Taken]) -> Iterator[str]:
    reasons: dict[str, dict[tuple[str, str], None]] = {}
    for row in rows:
        reasons.setdefault(row.why, {})[row.thing, row.text] = None
    if reasons:
        yield "not measured on the mesh"
    for why, lines in reasons.items():
        yield f"  {why}:"
        yield from aligned([(thing, text) for thing, text in lines], "    ", ("", ""))


def measured_json(taken: Sequence[Taken]) -> list[dict[str, object]]:
    """The same as JSON: `given` as read or wanted, `meant` as the mesh should have it, `found` (null: not
    measured), in mm or degrees by `unit`, and why it differs from what was read or was not measured.
    """
    return [
        {
            "thing": row.thing,
            "line": row.text,
            "slot": row.key,
            "unit": "deg" if row.degrees else "mm",
            "given": rounded(row.given),
            "meant": rounded(row.meant),
            "found": None if row.found is None else finite(row.found),
            "off": rounded(row.off),
            "as_said": None if row.found is None else not row.wrong,
            "why": LOOK if row.wrong else row.why,
        }
        for row in taken
    ]
