"""Does a station of a turning lie in others, or beyond the turning, so that some of it is not on the part?

Of stations that overlap the larger holds (of bores the wider one), and a groove cuts what is larger than it.
A barrel may run on under a flange, and from end to end of it: its own diameter is seen beside the flange.  A
station that begins or ends inside another one is another matter: nobody can have read that end on a part."""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Sequence

from msgspec import Struct

from ..diagnostics.types import Diagnostic, Label, Severity
from ..facts import Claim, Claims, Entry
from ..mesh.sections import stretch_of
from ..mesh.stations import Stretch

ALIKE = 1e-6
"""mm: two radii that differ by less are one."""
INSIDE = 1e-6
"""mm along the axis: an end this far inside another station is inside it."""


class _Station(Struct, frozen=True):
    """A station and the stretch of the axis it speaks of."""

    claim: Claim
    part: Stretch


class _Piece(Struct, frozen=True):
    """A piece of a station's stretch: whether it is seen, and what hides it (None: the turning's end)."""

    start: float
    stop: float
    seen: bool
    holder: _Station | None


def hidden_stations(claims: Claims) -> Iterator[Diagnostic]:
    """An error for each station of which nothing is seen on the part, a warning where one of its ends is
    not.
    """
    for entry in claims.of_kind("turning"):
        outer = _stations(entry, "across", "taper")
        low, high = min(one.part.start for one in outer), max(one.part.stop for one in outer)
        whole = Stretch(low, high, 0.0, 0.0, 0)
        for some in (outer, _stations(entry, "bored", "bored taper")):
            for one in some:
                yield from _told(entry, one, [other for other in some if other is not one], whole)
        for one in _stations(entry, "groove"):
            yield from _told(entry, one, outer, whole)


def _stations(entry: Entry, *words: str) -> list[_Station]:
    return [_Station(claim, stretch_of(claim)) for claim in entry.all(*words)]


def _told(entry: Entry, one: _Station, others: Sequence[_Station], whole: Stretch) -> Iterator[Diagnostic]:
    """What is said of a station: of the pieces of its stretch, those at its ends count."""
    pieces = _pieces(one, others, whole)
    if all(piece.seen for piece in pieces):
        return
    where = f"of turning `{entry.name}`"
    if not any(piece.seen for piece in pieces):
        holder = next((piece.holder for piece in pieces if piece.holder is not None), None)
        said = f"`{one.claim.text}` {where} does nothing: {_why(one, holder)}"
        yield _diagnostic(Severity.ERROR, said, one, holder)
        return
    for first, piece in ((True, pieces[0]), (False, pieces[-1])):
        holder = piece.holder
        if piece.seen or (holder is not None and _shares_end(one, holder, first)):
            continue
        there = f"from {piece.start:.4g} to {piece.stop:.4g}"
        said = f"`{one.claim.text}` {where} does nothing {there}: {_why(one, holder)}"
        yield _diagnostic(Severity.WARNING, said, one, holder)


def _pieces(one: _Station, others: Sequence[_Station], whole: Stretch) -> list[_Piece]:
    """The stretch of a station cut where others, or the turning, begin and end."""
    part = one.part
    ends = {end for other in others for end in (other.part.start, other.part.stop)} | {
        whole.start,
        whole.stop,
    }
    places = sorted({part.start, part.stop, *(end for end in ends if part.start < end < part.stop)})
    found = []
    for start, stop in itertools.pairwise(places):
        middle = 0.5 * (start + stop)
        holder = _holder(one, others, middle)
        found.append(_Piece(start, stop, holder is None and whole.start < middle < whole.stop, holder))
    return found


def _holder(one: _Station, others: Sequence[_Station], at: float) -> _Station | None:
    """The station that hides this one at a place: a larger one; of a groove, what is smaller there."""
    there = [other for other in others if other.part.start < at < other.part.stop]
    if not there:
        return None
    largest = max(there, key=lambda other: other.part.radius(at))
    more = largest.part.radius(at) - one.part.radius(at)
    if one.claim.word == "groove":
        return largest if more < ALIKE else None
    return largest if more > ALIKE else None


def _shares_end(one: _Station, holder: _Station, first: bool) -> bool:
    """True where the hidden end of a station is no nearer the middle than that of the one that hides it."""
    if one.claim.word == "groove":
        return False
    if first:
        return one.part.start <= holder.part.start + INSIDE
    return one.part.stop >= holder.part.stop - INSIDE


def _why(one: _Station, holder: _Station | None) -> str:
    if holder is None:
        return "the turning has ended there"
    if one.claim.word == "groove":
        return f"`{holder.claim.text}` is no larger there"
    return f"it lies inside `{holder.claim.text}`"


def _diagnostic(severity: Severity, said: str, one: _Station, holder: _Station | None) -> Diagnostic:
    others = () if holder is None else (Label(holder.claim.span, "this holds there"),)
    advice = ("check where it begins and ends, and its size; or leave it out",)
    return Diagnostic("station-hidden", severity, said, one.claim.span, others=others, advice=advice)
