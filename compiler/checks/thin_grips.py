"""Does a grip run past the end of its turning, or is some of the stretch of a hexagon, square or flat too
thin for it?
"""

from __future__ import annotations

from collections.abc import Iterator

from ..diagnostics.types import Diagnostic, Severity
from ..facts import Claims


def thin_grips(claims: Claims) -> Iterator[Diagnostic]:
    """A warning for each grip of a turning that cuts nothing in a part of its stretch."""
    from ..mesh.grips import CUTS, PLANE, beyond, untouched

    for entry in claims.of_kind("turning"):
        for claim in entry.all(*CUTS):
            bare = untouched(entry, claim) if claim.word in PLANE else []
            for some, why, advice in (
                (bare, "is too thin", "make it smaller, or leave that stretch out"),
                (beyond(entry, claim), "has ended", "check where it begins and ends"),
            ):
                if some:
                    where = " and ".join(f"from {start:.4g} to {stop:.4g}" for start, stop in some)
                    said = f"`{claim.text}` cuts nothing {where}: turning `{entry.name}` {why} there"
                    yield Diagnostic("grip-misses", Severity.WARNING, said, claim.span, advice=(advice,))
