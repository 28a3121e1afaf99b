"""Does the finished mesh have every size, place and angle that the recipe says?

The callipers took them all again (`callipers`); what differs though nothing in the recipe changes it is an
error: the part on the screen is not the part that was read."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from ..callipers import Taken
from ..diagnostics.types import Diagnostic, Severity

MOST = 8
"""So many are told one by one: what is placed wrongly pulls all that hangs on it along."""


def not_as_said(taken: Iterable[Taken]) -> Iterator[Diagnostic]:
    """An error for each number that the mesh has otherwise, `MOST` at most."""
    wrong = [row for row in taken if row.wrong]
    for row in wrong[:MOST]:
        more = (
            f", and {len(wrong) - MOST} more like it" if len(wrong) > MOST and row is wrong[MOST - 1] else ""
        )
        yield Diagnostic(
            "not-as-said",
            Severity.ERROR,
            f"`{row.text}` of {row.noun} `{row.thing}`: the finished part has "
            f"{_shown(row, row.found)} there, not {_shown(row, row.meant)}{more}",
            row.span,
            advice=(
                "look whether another line puts or cuts it otherwise; if none does, the fault is in the "
                "compiler: please report it with the recipe, and don't print the part",
            ),
        )


def _shown(row: Taken, value: float | None) -> str:
    assert value is not None
    return f"{value:.2f} degrees" if row.degrees else f"{value:.3f}"
