"""A bore measured back: the drill shank that fills it, its depth, its flats, its mouth, its teeth, its
thread.
"""

from __future__ import annotations

from collections.abc import Iterator

from ...callipers import holes
from ...callipers.bench import Bench
from ...callipers.taking import Seen, sized
from ...callipers.teeth import counted_in, in_bore
from ...callipers.turned import axis_of_bands
from ...callipers.types import Taken
from ...model.stated import Number
from .. import needed_file
from .model import Bore

THREADS = ("thread", "screws on")
TEETH = ("serrated", "splines")


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
