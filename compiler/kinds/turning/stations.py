"""The sizes of a turning's stations, and the places on its axis that they run between, each by a name of its
own.
"""

from __future__ import annotations

from collections.abc import Iterator

from msgspec import Struct

from ...facts.types import Claim, Entry, Measure
from ...quantities import Quantity

TAPERS = ("taper", "bored taper")
ROUND_STATIONS = ("across", "groove", "bored", *TAPERS)
SHAPED = ("bead", "cove", "vee")
SIZED = (*ROUND_STATIONS, *SHAPED, "hex", "square", "flat")
PLACED = (*SIZED, "serrated", "splines", "diamond", "thread", "screws on", "screws into")
"""Facts that speak of places on the axis."""


class StationSize(Struct, frozen=True):
    """One size of a station: the slot it stands in, its name (`across from 3 to 17`, `taper at 18`), where on
    the axis it is taken (mm: a place, or the middle of its stretch), and the fact it is from."""

    key: str
    name: str
    at: float
    measure: Measure
    claim: Claim


def station_sizes(entry: Entry) -> list[StationSize]:
    """Every size of a turning's stations from one end to the other; two that would share a name are told
    apart by `.2`.
    """
    found = [one for claim in entry.all(*SIZED) for one in _sizes_of(claim)]
    names: dict[str, int] = {}
    unique = []
    for one in sorted(found, key=lambda one: (one.at, one.name, one.claim.text)):
        count = names[one.name] = names.get(one.name, 0) + 1
        unique.append(
            StationSize(
                one.key, one.name if count == 1 else f"{one.name}.{count}", one.at, one.measure, one.claim
            )
        )
    return unique


def _sizes_of(claim: Claim) -> Iterator[StationSize]:
    word, size = claim.word, claim.get("size")
    if word in TAPERS:
        for key, end in (("first", "start"), ("second", "stop")):
            at = claim.number(end)
            yield StationSize(key, f"{word} at {told(at)}", at, claim.measure(key), claim)
    elif isinstance(size, Measure) and word in SHAPED:
        at = claim.number("station")
        name = f"{word}{' inside' if claim.get('which') else ''} at {told(at)}"
        yield StationSize("size", name, at, size, claim)
        yield StationSize("wide", f"{name} wide", at, claim.measure("wide"), claim)
    elif isinstance(size, Measure):
        start, stop = claim.number("start"), claim.number("stop")
        yield StationSize(
            "size", f"{word} from {told(start)} to {told(stop)}", 0.5 * (start + stop), size, claim
        )


def station_places(entry: Entry, *words: str) -> list[Quantity]:
    """The places on the axis that these facts speak of, in their order; of one that is said twice the less
    certain holds.
    """
    found: dict[float, Quantity] = {}
    for claim in entry.all(*words):
        for key in ("start", "stop", "station"):
            if isinstance(place := claim.get(key), Quantity):
                known = found.setdefault(round(place.value, 6), place)
                if (place.standing, place.u) > (known.standing, known.u):
                    found[round(place.value, 6)] = place
    return [place for _, place in sorted(found.items())]


def outer_size(claim: Claim) -> Measure:
    """The larger size of an `across` or a `taper` as it was read (as it is to be made where it never was)."""
    if claim.word not in TAPERS:
        return claim.measure("size")
    return max(claim.measure("first"), claim.measure("second"), key=_value)


def widest(entry: Entry) -> Measure | None:
    """The largest size across a turning's outside, None where it has none."""
    return max((outer_size(claim) for claim in entry.all("across", "taper")), key=_value, default=None)


def _value(size: Measure) -> float:
    return (size.read or size.made).value


def told(place: float) -> str:
    """A place on the axis, to a hundredth of a mm."""
    return f"{round(place, 2) + 0.0:g}"
