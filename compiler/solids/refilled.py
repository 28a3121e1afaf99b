"""Which holes of used parts another body fills again: their own recipes can't know what they are joined to."""

from __future__ import annotations

from collections.abc import Mapping

from ..diagnostics.types import Diagnostic, Label, Severity
from ..facts import Claims
from .bodies import Bodies
from .combine import overlap
from .kernel import Solid

SLIVER = 1e-3  # mm3
MOST = 100


def refilled(claims: Claims, bodies: Bodies, built: Mapping[str, Solid]) -> list[Diagnostic]:
    """A warning for each hole of a used part that a body of this recipe reaches into."""
    found: list[Diagnostic] = []
    for name in [one for one in sorted(claims.stock) if claims.stock[one].hollows and one in built][:MOST]:
        for hole, solid in bodies.hollows(name)[:MOST]:
            for other in sorted(built):
                if other == name or overlap(solid, built[other]) <= SLIVER:
                    continue
                said = f"`{other}` fills part of `{hole}` of `{name}`"
                advice = (f"bore it again through both: around {name}.{hole}, through {other}", "or move one of the two")
                others = (Label(claims.entries[other].span, "this is in the way"),)
                found.append(Diagnostic("hole-filled", Severity.WARNING, said, claims.entries[name].span, others=others,
                                        advice=advice))  # fmt: skip
    return found
