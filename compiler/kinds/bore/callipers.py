"""A bore measured back: the drill shank that fills it, its depth, its flats, its mouth, its teeth, its
thread.
"""

from __future__ import annotations

from collections.abc import Iterator

from ...callipers import holes
from ...callipers.bench import Bench
from ...callipers.hole_forms import MATE, facing, mouth, over_flats
from ...callipers.taking import Seen, sized, turned
from ...callipers.teeth import counted_in, in_bore
from ...callipers.turned import axis_of_bands
from ...callipers.types import Taken
from ...model.stated import Number
from .. import needed_file
from .model import Bore

THREADS = ("thread", "screws on")
TEETH = ("serrated", "splines")
FACING = {"right": 0.0, "top": 90.0, "above": 90.0, "left": 180.0, "bottom": 270.0, "below": 270.0}
SAME_TURN = {"hex": 60.0, "square": 90.0, "flats": 180.0, "flat": 360.0}
NO_FLAT = "it has no straight wall to lay a protractor on"


def measures(bench: Bench, hole: Bore) -> Iterator[Taken]:
    """The sizes of the bore."""
    threads = [number for number in hole.numbers if number.word in THREADS]
    if threads:
        own = needed_file("thread", "callipers")
        yield from own.thread_rows(bench, hole, threads, own.wound_round(bench, hole, True))
    word = next((number.word for number in hole.numbers if number.word in TEETH), "")
    across = ("across", "drill", "same as", word) if word else ()
    toothed = [number for number in hole.numbers if number.word in across or (word and number.key == "meant")]
    if toothed:
        yield from _toothed(bench, hole, toothed, word)
    spans = {number.size.said.span for number in (*threads, *toothed)}
    yield from (row for row in holes.measures(bench, hole) if row.span not in spans)
    yield from _forms(bench, hole)


def _forms(bench: Bench, hole: Bore) -> Iterator[Taken]:
    """Its mate, its flats, its mouth, how it is turned."""
    for number in hole.numbers:
        if number.key == "mate" and number.word not in THREADS:
            yield sized(hole, number, None, MATE)
        elif number.word in ("flat", "flats"):
            yield over_flats(bench, hole, number, number.word == "flats")
        elif number.word in ("counterbore", "countersink"):
            yield mouth(bench, hole, number)
        elif number.word == "turned":
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


def _toothed(bench: Bench, hole: Bore, numbers: list[Number], word: str) -> Iterator[Taken]:
    """A bore with teeth in its wall: across their ground, how deep they are, how many."""
    facets = bench.own(hole, 1, "")
    axis = axis_of_bands((facets,), bench.home(hole), bench.model.frame(hole).out)
    seen = None if axis is None else in_bore(facets, axis, word)
    for number in numbers:
        if axis is None or seen is None:
            yield sized(hole, number, None, holes.NO_WALL)
        elif number.key == "count":
            count = counted_in(facets, axis)
            told: Seen = (None, holes.NO_WALL) if count is None else (count, "")
            yield sized(hole, number, *told)
        elif number.key == "depth":
            yield sized(hole, number, seen[0] - seen[1])
        else:
            yield holes.across(bench, hole, number, 2 * seen[0])


__all__ = ["measures"]
