"""A zone measured back, thickened or relieved."""

from __future__ import annotations

from collections.abc import Iterator

from ...callipers import zones
from ...callipers.bench import Bench
from ...callipers.taking import sized
from ...callipers.types import Taken
from ...model.zones import Zone


def measures(bench: Bench, zone: Zone) -> Iterator[Taken]:
    """The sizes of a zone."""
    for number in zone.numbers:
        if number.word in ("by", "to"):
            found = zones.moved(bench, zone) if number.word == "by" else zones.overall(bench, zone)
            yield sized(zone, number, found, zones.NO_FLAT if found is None else "")
        elif number.word == "ramp":
            run = zones.run(bench, zone)
            yield sized(zone, number, run, zones.NO_RAMP if run is None else "")
        elif number.word in ("collar", "along"):
            yield zones.area(bench, zone, number)


__all__ = ["measures"]
