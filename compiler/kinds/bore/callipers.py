"""A bore measured back: the drill shank that fills it, its depth, its flats, its mouth."""

from __future__ import annotations

from collections.abc import Iterator

from ...callipers import holes
from ...callipers.bench import Bench
from ...callipers.types import Taken
from .model import Bore


def measures(bench: Bench, hole: Bore) -> Iterator[Taken]:
    """The sizes of the bore."""
    yield from holes.measures(bench, hole)
