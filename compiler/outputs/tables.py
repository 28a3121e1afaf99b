"""Numbers and aligned columns as all tables of this room show them.  Lengths in mm."""

from __future__ import annotations

import math
from collections.abc import Sequence

from ..diagnostics.cells import columns, harmless

_DECIMALS = 6  # of all numbers in the JSON
_SHOWN = 2  # of lengths in the table: what callipers show
SEEN = 0.005  # mm: less is shown as nothing


def rounded(value: float) -> float:
    """The value to 1e-6, never -0.0: the one rounding of all reported numbers."""
    return round(float(value), _DECIMALS) + 0.0


def finite(value: float) -> float | None:
    """The value for JSON; None for one without limit."""
    return rounded(value) if math.isfinite(value) else None


def shown(value: float, sign: str = "") -> str:
    """A length as the tables show it, `open` for one without limit; `sign` is `+` where a plus is to be
    seen.
    """
    if not math.isfinite(value):
        return "open"
    return format(round(rounded(value), _SHOWN) + 0.0, f"{sign}.{_SHOWN}f")


def aligned(rows: Sequence[tuple[str, ...]], indent: str, sides: Sequence[str]) -> list[str]:
    """Rows of cells under one another, two blanks between; `sides` holds `>` for a column flush right."""
    cells = [[harmless(cell) for cell in row] for row in rows]
    widths = [max(columns(cell) for cell in column) for column in zip(*cells, strict=True)]
    lines = []
    for row in cells:
        padded = [
            " " * (width - columns(cell)) + cell if side else cell + " " * (width - columns(cell))
            for cell, width, side in zip(row, widths, sides, strict=True)
        ]
        lines.append((indent + "  ".join(padded)).rstrip())
    return lines
