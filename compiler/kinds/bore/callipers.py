"""A bore measured back: the drill shank that fills it, its depth, its flats, its mouth, its thread."""

from __future__ import annotations

from collections.abc import Iterator

from ...callipers import holes
from ...callipers.bench import Bench
from ...callipers.types import Taken
from .. import needed_file
from .model import Bore

THREADS = ("thread", "screws on")


def measures(bench: Bench, hole: Bore) -> Iterator[Taken]:
    """The sizes of the bore."""
    threads = [number for number in hole.numbers if number.word in THREADS]
    if threads:
        own = needed_file("thread", "callipers")
        yield from own.thread_rows(bench, hole, threads, own.wound_round(bench, hole, True))
    spans = {number.size.said.span for number in threads}
    yield from (row for row in holes.measures(bench, hole) if row.span not in spans)
