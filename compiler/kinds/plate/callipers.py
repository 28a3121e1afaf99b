"""A plate measured back: its thickness; its outline is measured at what it runs along."""

from __future__ import annotations

from collections.abc import Iterator

from ...callipers.bench import Bench
from ...callipers.prisms import thickness
from ...callipers.types import Taken
from ..block.edge_callipers import edge_rows
from .model import Plate


def measures(bench: Bench, body: Plate) -> Iterator[Taken]:
    """The sizes of the plate."""
    for number in body.numbers:
        if number.word == "thick":
            yield thickness(bench, body, number)
    yield from edge_rows(bench, body)


def grown(body: Plate) -> float:
    """How far (mm) its outline was said to be grown; shrunk: < 0."""
    sign = {"grow": 1.0, "shrink": -1.0}
    return sum(sign[number.word] * number.size.value for number in body.numbers if number.word in sign)
