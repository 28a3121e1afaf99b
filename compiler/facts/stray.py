"""Do the readings of one size agree with one another?

Each reading stands for the stretch from value - give to value + give.  All agree when all stretches share a
place, and for stretches of a line that is so when every two of them do (Helly's theorem in one dimension):
the highest lower end lies no higher than the lowest upper end.  A reading is named as the stray when the rest
agree without it, and without no other.  Worn places are left out: a worn hole is not round, so its readings
differ and are all true."""

from __future__ import annotations

import math
from collections.abc import Sequence

from ..diagnostics.types import Diagnostic, Label, Severity
from ..quantities import Standing
from .types import Claim, Claims, Entry, SingleReading

SAME = 1e-9


def stray_readings(claims: Claims) -> list[Diagnostic]:
    """A warning for each list of readings that can't all be of one size."""
    return [
        _scattered(entry, claim, taken)
        for entry in claims.entries.values()
        for claim in entry.claims
        for taken in _lists(claim)
        if _comparable(taken) and not agree(taken)
    ]


def _lists(claim: Claim) -> list[list[SingleReading]]:
    """The readings of each size of a fact that was read more than once (`taper 26.0, 26.1 at 3, 24.0 at 18`
    has two sizes).
    """
    lists: dict[str, list[SingleReading]] = {}
    for one in claim.taken if len(claim.taken) > 1 else ():
        lists.setdefault(one.key, []).append(one)
    return [some for some in lists.values() if len(some) > 1]


def agree(taken: Sequence[SingleReading]) -> bool:
    """True when some size lies within the give-or-take of every reading."""
    # A reading's uncertainty was made from its give-or-take as that of a rectangle, a / sqrt 3 (JCGM 100,
    # 4.3.7).
    gives = [one.number.u * math.sqrt(3) for one in taken]
    lowest_top = min(one.number.value + give for one, give in zip(taken, gives, strict=True))
    highest_foot = max(one.number.value - give for one, give in zip(taken, gives, strict=True))
    return highest_foot <= lowest_top + SAME


def stray_of(taken: Sequence[SingleReading]) -> SingleReading | None:
    """The one reading without which the others agree; None where it can't be told."""
    if len(taken) < 3:
        return None
    out = [one for i, one in enumerate(taken) if agree([*taken[:i], *taken[i + 1 :]])]
    return out[0] if len(out) == 1 else None


def _comparable(taken: Sequence[SingleReading]) -> bool:
    return not any("worn" in one.conditions or one.number.standing is not Standing.READ for one in taken)


def _scattered(entry: Entry, claim: Claim, taken: Sequence[SingleReading]) -> Diagnostic:
    values = [one.number.value for one in taken]
    apart = max(values) - min(values)
    said = (
        f"the readings of `{claim.word}` of `{entry.name}` "
        f"lie {apart:.4g} apart, more than their give-or-take"
    )
    stray = stray_of(taken)
    if stray is None:
        return Diagnostic(
            "stray-reading",
            Severity.WARNING,
            said,
            claim.span,
            advice=(
                "read it once more and add the reading; or give them a wider give-or-take: +-0.2",
                "if it really differs from place to place, give the size where it matters",
            ),
        )
    label = Label(stray.span, f"the others agree without {stray.number.value:g}")
    return Diagnostic(
        "stray-reading",
        Severity.WARNING,
        said,
        claim.span,
        others=(label,),
        advice=(f"read it once more; leave {stray.number.value:g} out if it was a slip",),
    )
