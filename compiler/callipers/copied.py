"""Copies of a pattern as they are found on the mesh: where each lies, how far from the next."""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence

from ..facts.placing import PlacingFact
from ..model import Thing
from ..model.stated import Number
from ..model.types import Pattern
from ..quantities.vectors import XY
from .bench import Bench
from .locating import located

MOST_COPIES = 400
TOO_MANY = f"there are more than {MOST_COPIES} copies: they are not measured one by one"
NOT_ONE = "what it copies has no one place on the part, or other patterns copy it too"
NOT_FOUND = "not all of its copies are left on the part to be measured"

Places = list[XY | None]


def copied(bench: Bench, pattern: Pattern) -> Thing | None:
    """The first thing that a pattern copies, where no other pattern does and it has a place."""
    for mention in pattern.of:
        thing = bench.model.things.get(mention.thing)
        if thing is not None and thing.spot is not None and len(thing.copies) + 1 == pattern.total:
            return thing
    return None


def places(bench: Bench, pattern: Pattern) -> tuple[Places, str]:
    """Where each copy lies on the plane of what is copied (None: not found); else why that is not known."""
    thing = copied(bench, pattern)
    if thing is None:
        return [], NOT_ONE
    if pattern.total > MOST_COPIES:
        return [], TOO_MANY
    frame = bench.model.frame(thing)
    found = [located(bench, thing.name, str(k), frame) for k in range(1, pattern.total + 1)]
    return [None if one is None or not one.real else one.at for one in found], ""


def counted(pattern: Pattern, found: Places) -> int | None:
    """How many copies there are; None where some were not found: they may be filled, cut away or askew."""
    count = sum(at is not None for at in found)
    return count if count == pattern.total else None


def all_found(found: Places) -> list[XY] | None:
    """The places, where each was found."""
    known = [at for at in found if at is not None]
    return known if known and len(known) == len(found) else None


def furthest(values: Sequence[float], meant: float) -> float:
    """Of several that should be alike the one that is furthest from what was meant."""
    return max(values, key=lambda value: abs(value - meant))


def steps(found: Sequence[XY]) -> list[float]:
    """How far each place lies from the one before."""
    return [math.dist(a, b) for a, b in itertools.pairwise(found)]


def numbers_of(thing: Thing, *kinds: type[PlacingFact]) -> list[Number]:
    """The numbers of a thing in its facts of some types."""
    lines = {by.fact.claim.span for by in thing.placed_by if isinstance(by.fact, kinds)}
    return [number for number in thing.numbers if number.size.said.span in lines]
