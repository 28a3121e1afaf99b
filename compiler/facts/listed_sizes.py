"""Every size of a recipe by name, as read and as made, for whoever lists or weighs them."""

from __future__ import annotations

from collections.abc import Iterator

from msgspec import Struct

from ..kinds.turning.stations import PLACED, station_places, station_sizes, told
from ..quantities import Quantity, Standing, Unit
from .extents import size_claim
from .made_sizes import made
from .read_numbers import number_name, read_numbers
from .types import Claim, Claims, Entry, Measure

ZERO = 1e-6  # mm from where the stations of a turning are counted
_READ_OTHERWISE = {("gear", "meshes"): ("apart", "centres"), ("row", "over"): ("readings", "over")}
"""Readings that are neither the size of a thing nor its place: (kind, fact) -> their slot, and what they are
called.
"""


class ListedSize(Struct, frozen=True):
    """A size of a statement: what it is called, as read (None: never), as it is in the mesh, and how many
    pitches or teeth the reading went over (a pitch is made as one).

    `leant_on`: places may be read to its edges, so that the readings of places tell of it too."""

    name: str
    word: str
    read: Quantity | None
    made: Quantity
    over: int = 1
    leant_on: bool = False


def listed_sizes(claims: Claims) -> Iterator[ListedSize]:
    """All sizes, statement by statement."""
    for entry in claims.entries.values():
        yield from _stations(entry) if entry.kind == "turning" else _sizes(entry, claims)
        for word, size in read_numbers(entry):
            yield ListedSize(entry.name, word, size.read, size.made)


def _sizes(entry: Entry, claims: Claims) -> Iterator[ListedSize]:
    for claim in entry.claims:
        for key, value in claim.values:
            if isinstance(value, Measure) and value.made.unit in (Unit.PLAIN, Unit.LENGTH):
                yield _size(entry, claim, key, value, claims)
        slot, called = _READ_OTHERWISE.get((entry.kind, claim.word), ("", ""))
        if slot and claim.get(slot) is not None:
            given = claim.quantity(slot)
            yield ListedSize(entry.name, called, given if given.standing is Standing.READ else None, given)


def _size(entry: Entry, claim: Claim, key: str, value: Measure, claims: Claims) -> ListedSize:
    found, over = size_claim(entry), claim.get("over")
    # the diameter that a chord and its rise come to is a size of its own
    chord = claim.word == "chord"
    word = key if chord and key == "across" else number_name(claim, key)
    leant_on = found is not None and found[0] is claim and (not chord or word == "across")
    times = int(over.value) if isinstance(over, Quantity) else 1
    mesh = made(entry, claim, value, claims)
    return ListedSize(entry.name, word, value.read, mesh, times, leant_on)


def _stations(entry: Entry) -> Iterator[ListedSize]:
    """The sizes of a turning's stations, and the places on its axis that they run between, other than its
    zero.
    """
    for one in station_sizes(entry):
        yield ListedSize(entry.name, one.name, one.measure.read, one.measure.made)
    for place in station_places(entry, *PLACED):
        if abs(place.value) > ZERO:
            read = place if place.standing is Standing.READ else None
            yield ListedSize(entry.name, f"at {told(place.value)}", read, place)
