"""Is some of the stretch of a hexagon, square or flat round a turning too thin to be cut at all?"""

from __future__ import annotations

from collections.abc import Iterator

from ..diagnostics.types import Diagnostic, Severity
from ..facts import Claims


def thin_grips(claims: Claims) -> Iterator[Diagnostic]:
    """A warning for each plane cut of a turning that leaves a part of its stretch round."""
    from ..solids.grips import PLANE, untouched

    for entry in claims.of_kind("turning"):
        for claim in entry.all(*PLANE):
            bare = untouched(entry, claim)
            if not bare:
                continue
            where = " and ".join(f"from {start:.4g} to {stop:.4g}" for start, stop in bare)
            said = f"`{claim.text}` cuts nothing {where}: turning `{entry.name}` is too thin there"
            yield Diagnostic("grip-misses", Severity.WARNING, said, claim.span,
                             advice=("make it smaller, or leave that stretch out",))  # fmt: skip
