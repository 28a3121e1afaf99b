"""Does a station of a turning lie in others, or beyond the turning, so that some of it is not on the part?

Of stations that overlap the larger holds (of bores the wider one), and a groove cuts what is larger than it.
A barrel may run on under a flange, and from end to end of it: its own diameter is seen beside the flange.  A
station that begins or ends inside another one is another matter: nobody can have read that end on a part."""

from __future__ import annotations

import itertools
from collections.abc import Iterable, Iterator, Sequence

from msgspec import Struct

from ...diagnostics.types import Diagnostic, Label, Severity
from ...model.types import Said
from .model import Station, Turning
from .stretches import Stretch, stretch_of

ALIKE = 1e-6
"""mm: two radii that differ by less are one."""
INSIDE = 1e-6
"""mm along the axis: an end this far inside another station is inside it."""


class _Placed(Struct, frozen=True):
    """A station by its line and the stretch of the axis it speaks of; `cuts`: it is a groove."""

    said: Said
    part: Stretch
    cuts: bool = False


class _Piece(Struct, frozen=True):
    """A piece of a station's stretch: whether it is seen, and what hides it (None: the turning's end)."""

    start: float
    stop: float
    seen: bool
    holder: _Placed | None


def hidden_stations(turning: Turning) -> Iterator[Diagnostic]:
    """An error for each station of which nothing is seen on the part, a warning where one of its ends is
    not.
    """
    outer = _placed(turning.outer)
    low, high = min(one.part.start for one in outer), max(one.part.stop for one in outer)
    whole = Stretch(low, high, 0.0, 0.0)
    for some in (outer, _placed(turning.bored)):
        for one in some:
            yield from _told(turning.name, one, [other for other in some if other is not one], whole)
    for one in _placed(turning.grooves, cuts=True):
        yield from _told(turning.name, one, outer, whole)


def _placed(stations: Iterable[Station], cuts: bool = False) -> list[_Placed]:
    return [_Placed(station.said, stretch_of(station), cuts) for station in stations]


def _told(name: str, one: _Placed, others: Sequence[_Placed], whole: Stretch) -> Iterator[Diagnostic]:
    """What is said of a station: of the pieces of its stretch, those at its ends count."""
    pieces = _pieces(one, others, whole)
    if all(piece.seen for piece in pieces):
        return
    where = f"of turning `{name}`"
    if not any(piece.seen for piece in pieces):
        holder = next((piece.holder for piece in pieces if piece.holder is not None), None)
        said = f"`{one.said.text}` {where} does nothing: {_why(one, holder)}"
        yield _diagnostic(Severity.ERROR, said, one, holder)
        return
    for first, piece in ((True, pieces[0]), (False, pieces[-1])):
        holder = piece.holder
        if piece.seen or (holder is not None and _shares_end(one, holder, first)):
            continue
        there = f"from {piece.start:.4g} to {piece.stop:.4g}"
        said = f"`{one.said.text}` {where} does nothing {there}: {_why(one, holder)}"
        yield _diagnostic(Severity.WARNING, said, one, holder)


def _pieces(one: _Placed, others: Sequence[_Placed], whole: Stretch) -> list[_Piece]:
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


def _holder(one: _Placed, others: Sequence[_Placed], at: float) -> _Placed | None:
    """The station that hides this one at a place: a larger one; of a groove, what is smaller there."""
    there = [other for other in others if other.part.start < at < other.part.stop]
    if not there:
        return None
    largest = max(there, key=lambda other: other.part.radius(at))
    more = largest.part.radius(at) - one.part.radius(at)
    if one.cuts:
        return largest if more < ALIKE else None
    return largest if more > ALIKE else None


def _shares_end(one: _Placed, holder: _Placed, first: bool) -> bool:
    """True where the hidden end of a station is no nearer the middle than that of the one that hides it."""
    if one.cuts:
        return False
    if first:
        return one.part.start <= holder.part.start + INSIDE
    return one.part.stop >= holder.part.stop - INSIDE


def _why(one: _Placed, holder: _Placed | None) -> str:
    if holder is None:
        return "the turning has ended there"
    if one.cuts:
        return f"`{holder.said.text}` is no larger there"
    return f"it lies inside `{holder.said.text}`"


def _diagnostic(severity: Severity, said: str, one: _Placed, holder: _Placed | None) -> Diagnostic:
    others = () if holder is None else (Label(holder.said.span, "this holds there"),)
    advice = ("check where it begins and ends, and its size; or leave it out",)
    return Diagnostic("station-hidden", severity, said, one.said.span, others=others, advice=advice)
