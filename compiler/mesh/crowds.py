"""Copies that would take the kernel too long, or too much memory."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence

import numpy as np

from ..diagnostics.types import Diagnostic, Severity, Span
from ..places.layout import Move
from .kernel import Solid

MOST_MEETINGS = 4_000
MOST_FACETS = 2_000_000


def crowded(name: str, span: Span, solid: Solid, moves: Sequence[Move]) -> Diagnostic | None:
    """Copies that lie nearly all on one another, answered: joining them takes time with the square of their
    number.
    """
    if not moves or solid.is_empty():
        return None
    box = np.array(solid.bounding_box(), dtype=np.float64)
    cell = max(1e-6, float(np.sort(box[3:] - box[:3])[1]))
    x, y, z = (0.5 * (box[:3] + box[3:])).tolist()
    places = [(x, y, z), *(move.point((x, y, z)) for move in moves)]
    counts = Counter(tuple(one) for one in np.floor(np.array(places) / cell).tolist()).values()
    if sum(count * (count - 1) for count in counts) <= MOST_MEETINGS:
        return None
    said = f"the copies of `{name}` lie on one another, up to {max(counts)} of them in {cell:.4g} mm"
    return Diagnostic("bad-count", Severity.ERROR, said, span, advice=("fewer copies, or a larger pitch",))


def too_fine(name: str, span: Span, solid: Solid, copies: int) -> Diagnostic | None:
    """More facets in all copies of a thread or gear than memory should be asked for, answered."""
    if not copies or solid.num_tri() * copies <= MOST_FACETS:
        return None
    said = (
        f"the {copies + 1} copies of `{name}` have "
        f"{solid.num_tri() * (copies + 1) // 1000} thousand facets in all"
    )
    return Diagnostic(
        "too-many-facets",
        Severity.ERROR,
        said,
        span,
        advice=("ask for coarser curves: --chord 0.05", "fewer copies"),
    )
