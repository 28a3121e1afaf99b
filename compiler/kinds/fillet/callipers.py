"""A fillet measured back: the round that lies in its corner."""

from __future__ import annotations

from collections.abc import Iterator

from ...callipers.bench import Bench
from ...callipers.flat_things import NO_FACE
from ...callipers.taking import sized
from ...callipers.types import ALLOWED, Taken
from ...quantities.vectors import dot
from .model import Fillet

SQUARE = 1e-6
FLAT_ENDS = "it is cut off where the flat ends that it stands on"
ROUND_FOOT = "it runs round a foot that leans: no radius gauge lies in it"


def measures(bench: Bench, body: Fillet) -> Iterator[Taken]:
    """Its radius; round the foot of a round body, which stands square, it is as high as its radius."""
    facets, corner = bench.own(body), body.corner
    for number in body.numbers:
        if number.word != "radius":
            continue
        face = bench.rounded(facets, corner.way)
        if facets.empty:
            yield sized(body, number, None, NO_FACE)
        elif face is not None and face.inside:
            yield sized(body, number, face.radius)
        elif abs(dot(corner.first.flat.normal, corner.second.flat.normal)) < SQUARE:
            spans = [facets.span(one.flat.normal) for one in (corner.first, corner.second)]
            found = min(high - low for low, high in spans)
            cut = found < number.size.value - ALLOWED
            yield sized(body, number, None if cut else found, FLAT_ENDS if cut else "")
        else:
            yield sized(body, number, None, ROUND_FOOT)


__all__ = ["measures"]
