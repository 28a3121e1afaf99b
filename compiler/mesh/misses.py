"""Holes that cut nothing.  One that goes `through all` must meet a body somewhere, any other each body it is
to cut.
"""

from __future__ import annotations

from collections.abc import Sequence

from ..diagnostics.types import Diagnostic, Severity
from ..model.holes import Hole
from .combine import join, overlap
from .kernel import Solid

SLIVER = 1e-3  # mm3
MOST = 64
"""So many copies of a hole are tried one by one; more of them all at once."""


class Misses:
    """Asks of each hole whether it meets its bodies, and keeps what `through all` came to until all were
    asked.
    """

    def __init__(self) -> None:
        self._all: dict[str, tuple[Hole, dict[int, bool]]] = {}

    def ask(self, hole: Hole, body: str, tools: Sequence[Solid], solid: Solid) -> list[Diagnostic]:
        """The error for a hole of which a copy cuts nothing of a body."""
        if len(tools) <= MOST:
            missing = [i for i, tool in enumerate(tools) if overlap(tool, solid) <= SLIVER]
        else:
            missing = [] if overlap(join(tools), solid) > SLIVER else list(range(len(tools)))
        if len(hole.owners) > 1 and hole.everywhere:
            met = self._all.setdefault(hole.name, (hole, {}))[1]
            for i in range(len(tools)):
                met[i] = met.get(i, False) or i not in missing
            return []
        return [_told(hole, missing[0], len(tools), f"`{body}`")] if missing else []

    def answered(self) -> list[Diagnostic]:
        """The errors for holes through all of which a copy meets no body at all."""
        found = []
        for hole, met in self._all.values():
            missing = [i for i, one in sorted(met.items()) if not one]
            if missing:
                found.append(_told(hole, missing[0], len(met), "all bodies"))
        return found


def _told(hole: Hole, copy: int, copies: int, what: str) -> Diagnostic:
    which = f" (copy .{copy + 1})" if copies > 1 else ""
    return Diagnostic(
        "hole-misses",
        Severity.ERROR,
        f"{hole.noun} `{hole.name}`{which} misses {what}: it cuts nothing",
        hole.span,
        advice=("check its place, its depth and the flat it starts from",),
    )
