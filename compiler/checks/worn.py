"""Is a worn size copied as it is?  A worn hole is too large and a worn peg too small: the spare would be born
worn.
"""

from __future__ import annotations

from ..diagnostics.types import Diagnostic, Severity
from ..facts import Claim, Claims, Entry, Measure
from ..facts.needs import FIT_WORDS

_FITTED = frozenset({"across", "drill", "hex", "square", "wide"})
_MAKERS = (
    "block",
    "bore",
    "notch",
    "peg",
    "plate",
    "rectangle",
    "rib",
    "rim",
    "round",
    "slot",
    "strip",
    "turning",
    "web",
)


def copied_wear(claims: Claims) -> list[Diagnostic]:
    """A warning for each size of the part that was read at a worn place and is made as it was read."""
    return [
        _copied(entry, claim)
        for entry in claims.of_kind(*_MAKERS)
        for claim in entry.claims
        if any("worn" in one.conditions and _as_read(entry, claim, one.key) for one in claim.taken)
    ]


def _as_read(entry: Entry, claim: Claim, key: str) -> bool:
    """True where the size is made as it was read: no `made` or `wanted`, and no fit word that settles it."""
    size = claim.get("size" if claim.word == "drill" else key)
    if not isinstance(size, Measure) or size.read is None or size.made != size.read:
        return False
    return not (claim.word in _FITTED and entry.kind != "turning" and entry.has(*FIT_WORDS[:-1]))


def _copied(entry: Entry, claim: Claim) -> Diagnostic:
    said = f"the worn size of `{entry.name}` is copied: {claim.text}"
    made = (
        "say behind the reading what it should be: made ..."
        if entry.kind == "turning"
        else (f"say what it should be: {claim.text} made ...")
    )
    advice = [made] if claim.word != "drill" else []
    if entry.kind in ("bore", "peg", "slot"):
        advice.append("or say what it is for: turns on 6.0, slides on 6.0, clears M4")
    return Diagnostic("worn-copied", Severity.WARNING, said, claim.span, advice=tuple(advice))
