"""Edges and slopes of plates and blocks measured back, by the words of their lines."""

from __future__ import annotations

from collections.abc import Iterator

from ...callipers import edges
from ...callipers.bench import Bench
from ...callipers.flat_things import NO_FACE
from ...callipers.standing import raised
from ...callipers.taking import sized
from ...callipers.types import Taken
from ...model.types import Prism


def edge_rows(bench: Bench, body: Prism) -> Iterator[Taken]:
    """Its bevels, rounded corners, taper, how far it reaches, how high it is raised."""
    for number in body.numbers:
        if number.word == "bevel":
            yield edges.bevel(bench, body, number)
        elif number.word in ("round inside", "round outside"):
            alone = sum(one.word == number.word for one in body.numbers) == 1
            yield edges.rounded_corner(bench, body, number, alone)
        elif number.word in ("taper", "reaches"):
            take = edges.tapered if number.word == "taper" else edges.reaches
            found = take(bench, body, number)
            yield sized(body, number, found, NO_FACE if found is None else "")
        elif number.word == "springs":
            yield sized(body, number, None, edges.BENDS)
        elif number.word in ("grow", "shrink"):
            yield sized(body, number, None, edges.ALONG_IT)
    yield from raised(bench, body)


__all__ = ["edge_rows"]
