"""What to measure on the printed part: every size and every reading, and what to expect.

Expected readings are worked out for the part as made: `far-far 33.75` of two holes that were made wider is a
larger number on the new part."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from ...model.types import ReadDistance
from .amounts import wanted
from .relations import Gap, gaps
from .slices import checks_of
from .types import Check, Gauge, Limits
from .views import Scene


def checks(scene: Scene) -> list[Check]:
    """Everything to measure, holes and pegs first, then the distances, then the sizes of bodies; none
    twice.
    """
    sizes = [check for thing in scene.model.things.values() for check in checks_of(scene, thing)]
    mates = [check for check in sizes if check.mates]
    across = {check.across: check.key for check in mates if check.across}
    between = [check for gap in gaps(scene) for check in _of_gap(gap, scene, across)]
    kept: dict[str, Check] = {}
    for check in (*mates, *between, *(check for check in sizes if not check.mates)):
        kept.setdefault(check.key, check)
    return list(kept.values())


def _of_gap(gap: Gap, scene: Scene, across: Mapping[str, str]) -> Iterator[Check]:
    """What each reading of a distance is expected to be; `across`: the key of each thing's size across."""
    for read in gap.readings:
        mine, theirs = _edges(read, gap)
        reading = gap.amount.value + mine * gap.reach + theirs * gap.their_reach
        if reading <= 0:
            continue
        key = " ".join(word for word in (gap.name, "from", gap.other, read.edges) if word)
        size = wanted(reading)
        leans = tuple(
            (across[name], 0.5 * share)
            for name, share, reach in ((gap.name, mine, gap.reach), (gap.other, theirs, gap.their_reach))
            if share and reach and name in across
        )
        critical = any(_locates(scene, name) for name in (gap.name, gap.other))
        limits = Limits(size.low, size.high, size.low, size.high)
        yield Check(key, Gauge.GAP, _how(read, gap), reading, limits, leans, critical)


def _edges(read: ReadDistance, gap: Gap) -> tuple[int, int]:
    """The share (-1, 0, 1) of each party's reach in a reading between its edges."""
    if len(read.sides) == 2:
        return read.sides[0], read.sides[1]
    (only,) = read.sides or (0,)
    is_mine = gap.straight or gap.their_reach == 0.0 or gap.reach
    return (only, 0) if is_mine else (0, only)


def _locates(scene: Scene, name: str) -> bool:
    thing = scene.model.things.get(name)
    return thing is not None and thing.fit is not None and thing.fit.locates


_EDGE = {-1: "near", 0: "centre", 1: "far"}


def _how(read: ReadDistance, gap: Gap) -> str:
    a, b = gap.name, gap.other
    if read.sides == (1, 1):
        return f"inner jaws spread: far edge of {a} to far edge of {b}"
    if read.sides == (-1, -1):
        return f"outer jaws over what stands between {a} and {b}"
    if len(read.sides) == 2:
        return f"{_EDGE[read.sides[0]]} edge of {a} to {_EDGE[read.sides[1]]} edge of {b}"
    if read.sides in ((-1,), (1,)):
        edge = _EDGE[read.sides[0]]
        mine = gap.reach or gap.straight
        return f"from {b} to the {edge} edge of {a}" if mine else f"from {a} to the {edge} edge of {b}"
    if gap.reach == 0.0 and gap.straight:
        return f"square from {b} to {a}"
    if gap.reach == 0.0 and gap.their_reach == 0.0:
        return f"from {a} to {b}"
    return f"between the middles of {a} and {b}: measure between edges and add or take off the halves"
