"""Numbers of a fact that were read off the part, and what tables call them.

The sizes of a statement are told by their fact (`long`), the stations of a turning by their places
(`facts/turned.py`), readings of places by the adjustment.  What is left are numbers that are wanted as a rule
and were read this time: a slope, a height, a bevel, the step of a row."""

from __future__ import annotations

from collections.abc import Iterator

from ..kinds.turning.stations import told
from ..quantities import Quantity, Standing
from .types import Claim, Entry, Measure

_BEHIND = {"depth": "deep", "free": "over", "thick": "thick", "mouth": "through", "play": "backlash"}
_WHERE = {"first": "here", "second": "there"}
_OF_PLACES = frozenset({"apart", "readings", "start", "station", "stop", "x", "y"})  # told with the places


def number_name(claim: Claim, key: str) -> str:
    """What tables call a number of a fact: its word, with what tells it from others of the fact."""
    where = claim.get(_WHERE.get(key, ""))
    if where is not None:
        return f"{claim.word} at {where}"
    name = claim.word
    if isinstance(station := claim.get("station"), Quantity):
        name += f" at {told(station.value)}"
    return f"{name} {_BEHIND[key]}" if key in _BEHIND else name


def read_numbers(entry: Entry) -> Iterator[tuple[str, Measure]]:
    """The numbers of a statement that were read and are no sizes told by their fact, with their names."""
    turned = entry.kind == "turning"
    for claim in entry.claims if entry.kind != "let" else ():
        for key in dict.fromkeys(one.key for one in claim.taken):
            value = claim.get(key)
            if isinstance(value, Measure) and turned and key in ("number", "depth", "mouth"):
                yield number_name(claim, key), value
            elif key in _OF_PLACES or claim.word == "angle":
                continue
            elif isinstance(value, Quantity) and value.standing is Standing.READ:
                yield number_name(claim, key), Measure(value, value)


__all__ = ["number_name", "read_numbers"]
