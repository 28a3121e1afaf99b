"""The thread that a line asks for, from its facts: named by its ISO name, or read from a neck, a bolt or a
lid.
"""

from __future__ import annotations

from ...diagnostics.types import Trouble
from ...facts import Claim, Claims, Entry, Ref
from ...facts.needs import USUAL_CLEAR
from .form import ThreadForm, ThreadName, check_form, mate, metric_form


def form_of(claim: Claim, claims: Claims, inside: bool) -> ThreadForm:
    """The form that a `thread`, `screws on` or `screws into` line asks for; `inside`: a plain `thread` is cut
    in a bore.

    `screws on` goes onto an outside thread and so is an inside one; `screws into` the other way about.
    Raises Trouble."""
    outside = claim.word == "screws into" or (claim.word == "thread" and not inside)
    told = claim.get("mate")
    if claim.word == "thread":
        return _named(told, claim, claims, outside)
    other = _named(told, claim, claims, not outside)
    if isinstance(told, str):
        # The basic profile has a flat root on both sides, and only the bolt's is rounded.
        other = ThreadForm(
            other.across, other.core, other.pitch, other.crest, other.foot, not outside, rounded=outside
        )
    return mate(other, claim.number("clear") if claim.get("clear") is not None else USUAL_CLEAR)


def _named(told: object, claim: Claim, claims: Claims, outside: bool) -> ThreadForm:
    if isinstance(told, Ref):
        return read_form(claims.entries[told.name], outside)
    assert isinstance(told, str)
    return metric_form(told, claim.get("series") is not None, outside)


def read_form(entry: Entry, outside: bool) -> ThreadForm:
    """The thread that a neighbour carries, as read; raises Trouble('fact-missing') and 'bad-thread'."""
    pitch_claim = entry.one("pitch")
    if pitch_claim is None:
        raise _missing(entry, "its `pitch`", "pitch 12.1 over 4")
    over = pitch_claim.get("over")
    pitch = pitch_claim.number("size") / (pitch_claim.number("over") if over is not None else 1.0)
    sizes = {
        word: claim.number("size")
        for word in ("across", "core", "deep")
        if (claim := entry.one(word)) is not None
    }
    if len(sizes) < 2:
        raise _missing(
            entry, "two of `across`, `core` and `deep`", "core 24.0" if "core" not in sizes else "deep 1.1"
        )
    across = sizes.get("across", sizes.get("core", 0.0) + 2.0 * sizes.get("deep", 0.0))
    core = sizes.get("core", across - 2.0 * sizes.get("deep", 0.0))
    widths = [entry.one(word) for word in ("crest", "foot")]
    if widths[0] is None or widths[1] is None:
        raise _missing(entry, "how wide its ridge is at `crest` and `foot`", "crest 1.2   and   foot 2.0")
    starts = entry.one("starts")
    form = ThreadForm(
        across,
        core,
        pitch,
        widths[0].number("size"),
        widths[1].number("size"),
        outside,
        int(starts.number("count")) if starts is not None else 1,
        entry.has("left-handed"),
    )
    check_form(form, f"`{entry.name}`", entry.name)
    return form


def _missing(entry: Entry, what: str, write: str) -> Trouble:
    return Trouble(
        "fact-missing",
        f"neighbour `{entry.name}` carries a thread but does not say {what}",
        (entry.name,),
        advice=(f"add a line such as: {write}",),
    )


def name_of_thread(claim: Claim) -> ThreadName | None:
    """How a thread that is named after a screw is called (`M8`, `m8x0.75`); None for one that was read."""
    named = claim.get("mate")
    if not isinstance(named, str):
        return None
    screw, _, pitch = named.upper().partition("X")
    if claim.get("series") is not None:
        pitch = f"{metric_form(named, True, True).pitch:g}"
    return ThreadName(screw, pitch, claim.number("clear") if claim.get("clear") is not None else None)
