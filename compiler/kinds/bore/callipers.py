"""A bore measured back: the drill shank that fills it, its depth, its flats, its mouth, how it is turned."""

from __future__ import annotations

from collections.abc import Iterator

from ...callipers import holes
from ...callipers.bench import Bench
from ...callipers.hole_forms import MATE, facing, mouth, over_flats
from ...callipers.hole_teeth import teeth
from ...callipers.taking import sized, turned
from ...callipers.types import Taken
from ...model.sections import ToothedSection
from ...model.stated import Number
from .model import Bore

FACING = {"right": 0.0, "top": 90.0, "above": 90.0, "left": 180.0, "bottom": 270.0, "below": 270.0}
SAME_TURN = {"hex": 60.0, "square": 90.0, "flats": 180.0, "flat": 360.0}
NO_FLAT = "it has no straight wall to lay a protractor on"


def measures(bench: Bench, hole: Bore) -> Iterator[Taken]:
    """The sizes of the bore."""
    toothed = isinstance(hole.section, ToothedSection)
    for row in holes.measures(bench, hole):
        if not (toothed and row.key in ("size", "meant") and not row.text.startswith("deep")):
            yield row
    if toothed:
        yield from _teeth(bench, hole)
    for number in hole.numbers:
        if number.key == "mate":
            yield sized(hole, number, None, MATE)
        elif number.word in ("flat", "flats"):
            yield over_flats(bench, hole, number, number.word == "flats")
        elif number.word in ("counterbore", "countersink"):
            yield mouth(bench, hole, number)
        elif number.word == "turned" and not toothed:
            yield _turned(bench, hole, number)


def _turned(bench: Bench, hole: Bore, number: Number) -> Taken:
    """How its flats are turned on its plane, or those of the pocket for its nut."""
    word = next((one.word for one in hole.numbers if one.word in SAME_TURN), "")
    if word in ("flat", "flats"):
        angle = facing(bench, hole, bench.own(hole, 1, "flat"))
        text = next(one.size.said.text for one in hole.numbers if one.word == word)
        side = text.partition("facing")[2].split()[:1]
        # the wall of a flat faces the middle of the hole, the flat is told by the side it is at
        angle = None if angle is None else angle + 180.0 - FACING.get("".join(side), 90.0)
    elif word:
        angle = facing(bench, hole, bench.own(hole, 1, ""))
    elif hole.mouth is not None and hole.mouth.nut:
        word, angle = "hex", facing(bench, hole, bench.own(hole, 1, "counterbore"))
    else:
        angle = None
    return turned(hole, number, angle, NO_FLAT if angle is None else "", SAME_TURN.get(word, 360.0))


def _teeth(bench: Bench, hole: Bore) -> Iterator[Taken]:
    """A bore with serrations or splines: over its grooves, how deep these are, how many."""
    splines = any(number.word == "splines" for number in hole.numbers)
    seen = teeth(bench, hole, splines)
    for number in hole.numbers:
        if number.word in ("serrated", "splines"):
            found = None if seen is None else seen.count if number.key == "count" else seen.deep
            yield sized(hole, number, found, holes.NO_WALL if found is None else "")
        elif number.word == "turned":
            many = max(1.0, sum(one.size.value for one in hole.numbers if one.key == "count"))
            angle = None if seen is None else seen.turn
            yield turned(hole, number, angle, holes.NO_WALL if angle is None else "", 360.0 / many)
        elif number.word != "deep" and (number.is_size or number.key == "meant"):
            yield holes.across(bench, hole, number, None if seen is None else seen.over)


__all__ = ["measures"]
