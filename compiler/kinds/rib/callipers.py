"""A rib measured back: how thick it is, how high, how far it reaches along the flats of its corner."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from ...callipers.bench import Bench
from ...callipers.flat_things import NO_FACE
from ...callipers.surfaces import flats_of
from ...callipers.taking import sized
from ...callipers.types import Taken
from ...model.stated import Number
from ...model.types import FlatOf
from ...quantities.vectors import Vector, dot
from .model import Gusset, Wall

STRAIGHT = 1 - 1e-6
TWICE = "read twice: the first of both lines holds"


def measures(bench: Bench, body: Wall | Gusset) -> Iterator[Taken]:
    """The sizes of the rib."""
    for number in body.numbers:
        if number.word == "thick":
            found = _thick(bench, body)
        elif number.word == "high":
            found = _high(bench, body)
        elif number.word == "reach" and isinstance(body, Gusset):
            yield _reached(bench, body, number)
            continue
        else:
            continue
        yield sized(body, number, found, NO_FACE if found is None else "")


def _high(bench: Bench, body: Wall | Gusset) -> float | None:
    """From its foot to its top, square to the flat it stands on."""
    facets = bench.own(body)
    if facets.empty:
        return None
    low, high = facets.span(bench.model.frame(body).out)
    return high - low


def _thick(bench: Bench, body: Wall | Gusset) -> float | None:
    """From its largest wall to the nearest one that faces the other way; a gusset's stand across its
    corner.
    """
    flats = flats_of(bench.own(body))
    if isinstance(body, Gusset):
        flats = [flat for flat in flats if abs(dot(flat.normal, body.corner.way)) > STRAIGHT]
    else:
        out = bench.model.frame(body).out
        flats = [flat for flat in flats if abs(dot(flat.normal, out)) < 1 - STRAIGHT]
    for first in flats:
        apart = [
            dot(first.point, first.normal) - dot(flat.point, first.normal)
            for flat in flats
            if dot(flat.normal, first.normal) < -STRAIGHT
        ]
        if apart:
            return min(apart, key=abs)
    return None


def _reached(bench: Bench, body: Gusset, number: Number) -> Taken:
    """A reach; of two readings of the same one the first holds."""
    said = number.size.said
    same = [one for one in body.numbers if one.word == said.word and one.size.said.of == said.of]
    first = min(same, key=lambda one: one.size.said.span.line)
    found = _reach(bench, body, said.of)
    if found is None:
        return sized(body, number, None, NO_FACE)
    return sized(body, number, found, "" if first is number else TWICE, first.size.value)


def _reach(bench: Bench, body: Gusset, of: tuple[str, ...]) -> float | None:
    """From the edge in which its two flats meet to the tip of it that lies in the flat spoken of."""
    facets, corner = bench.own(body), body.corner
    which = next((k for k, flat in enumerate((corner.first, corner.second)) if flat.name in of), None)
    if facets.empty or which is None:
        return None
    (a, b), (c, d) = _plane(bench, corner.first), _plane(bench, corner.second)
    edge = np.linalg.solve(np.array([a, c, corner.way]), np.array([b, d, 0.0]))
    into = np.asarray(corner.into[which])
    return float((facets.corners.reshape(-1, 3) @ into).max() - edge @ into)


def _plane(bench: Bench, flat: FlatOf) -> tuple[Vector, float]:
    """A flat of a corner, as the mesh has it: normal and offset along it."""
    seen = bench.flat(flat.body, flat.part)
    told = flat.flat
    if seen is not None and dot(seen.normal, told.normal) > STRAIGHT:
        return seen.normal, dot(seen.point, seen.normal)
    return told.normal, dot(told.point, told.normal)


__all__ = ["measures"]
