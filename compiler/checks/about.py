"""Does a number that is only `about` size or place a hole or a peg?

`about` says that a number was made to look right.  A hole or peg must meet something, so what it hangs on
must be read or wanted: its own size, the size of what it goes on, its place, and the places of points, lines
and rounds that its place is read from, however many lie between."""

from __future__ import annotations

from ..diagnostics.types import Diagnostic, Severity
from ..facts import Claim, Claims, Entry, Measure, Ref
from ..facts.needs import FIT_WORDS, PATTERNS
from ..quantities import Quantity, Standing

_MUST_FIT = ("bore", "peg", "slot")
_SIZES = frozenset({"across", "drill", "flat", "flats", "hex", "long", "square", "wide", *FIT_WORDS})
_PLACES = frozenset(
    {
        "angle",
        "around",
        "at",
        "flush with",
        "from",
        "level with",
        "midway",
        "on",
        "parallel to",
        "plumb with",
        "raised",
        "square to",
        "through",
        "touches",
    }
)
_BETWEEN = frozenset({"line", "neighbour", "point", "rectangle", "round", *_MUST_FIT})


def about_numbers(claims: Claims) -> list[Diagnostic]:
    """A warning for each `about` number that a hole or peg hangs on."""
    found: list[Diagnostic] = []
    seen: set[str] = set()
    for hole in claims.of_kind(*_MUST_FIT):
        waiting = [hole.name]
        while waiting:
            entry = claims.entries.get(waiting.pop())
            if entry is None or entry.name in seen or entry.kind not in _BETWEEN:
                continue
            seen.add(entry.name)
            for claim in entry.claims:
                if claim.word in _PLACES or claim.word in _SIZES:
                    found.extend(_asked(claim, entry, hole))
                    waiting.extend(value.name for _, value in claim.values if isinstance(value, Ref))
    return [*found, *_copied(claims)]


def _copied(claims: Claims) -> list[Diagnostic]:
    """The same of the steps from copy to copy of a hole or peg."""
    found: list[Diagnostic] = []
    for pattern in claims.of_kind(*sorted(PATTERNS)):
        holes = [claims.entries.get(ref.name) for claim in pattern.all("of") for ref in claim.refs("things")]
        hole = next((one for one in holes if one is not None and one.kind in _MUST_FIT), None)
        if hole is not None:
            found.extend(
                one for claim in pattern.all("angle", "over", "pitch") for one in _asked(claim, pattern, hole)
            )
    return found


def _asked(claim: Claim, entry: Entry, hole: Entry) -> list[Diagnostic]:
    if not any(_is_about(value) for _, value in claim.values):
        return []
    sized = claim.word in _SIZES
    what = "sized" if sized else "placed"
    said = f"`{entry.name}` is {what} by a number that is only `about`: {claim.text}"
    label = "" if entry.name == hole.name else f"{hole.kind} `{hole.name}` hangs on it"
    settle = f"read it, or say that you chose it: {claim.text.replace('about ', '')} wanted"
    advice = (
        settle
        if sized and claim.word not in FIT_WORDS
        else "read it, or choose a number and leave `about` out"
    )
    return [Diagnostic("about-placed", Severity.WARNING, said, claim.span, label, advice=(advice,))]


def _is_about(value: object) -> bool:
    number = value.made if isinstance(value, Measure) else value
    return isinstance(number, Quantity) and number.standing is Standing.ABOUT
