"""A rim measured back: how thick its wall is, how high, how far it stands in from the outline it follows."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator

import numpy as np

from ...callipers.bench import Bench
from ...callipers.flat_things import NO_FACE
from ...callipers.surfaces import Facets, vector
from ...callipers.taking import sized
from ...callipers.types import Taken
from ...quantities.vectors import along
from .model import Rim

STRAIGHT = 1 - 1e-9
SAME = 1e-3
MOST_ASKED = 60
"""The wall is measured through so many of its faces, the largest."""


def measures(bench: Bench, body: Rim) -> Iterator[Taken]:
    """The sizes of the rim."""
    for number in body.numbers:
        if number.word == "high":
            found = _high(bench, body)
        elif number.word == "thick":
            found = _most(_through(bench, body))
        elif number.word == "inset":
            found = _most(_within(bench, body))
        else:
            continue
        yield sized(body, number, found, NO_FACE if found is None else "")


def _high(bench: Bench, body: Rim) -> float | None:
    """From its foot to its top, square to the flat it stands on."""
    facets = bench.own(body)
    if facets.empty:
        return None
    low, high = facets.span(bench.model.frame(body).out)
    return high - low


def _through(bench: Bench, body: Rim) -> Iterator[tuple[float, float]]:
    """Through the wall from faces of its inner side, with the area of each."""
    inner = bench.own(body, 1, "inner side")
    for row in np.argsort(-inner.areas)[:MOST_ASKED]:
        way = vector(-inner.normals[row])
        start = along(vector(inner.corners[row].mean(axis=0)), (way, SAME))
        ahead = [at for at in bench.crossings(start, way) if at > 0]
        if ahead:
            yield ahead[0] + SAME, float(inner.areas[row])


def _within(bench: Bench, body: Rim) -> Iterator[tuple[float, float]]:
    """From walls of the body it follows to walls of its own outer side that face the same way."""
    outer, around = bench.own(body, 1, "side"), _followed(bench, body)
    if outer.empty or around.empty:
        return
    offsets = np.einsum("ij,ij->i", around.normals, around.corners[:, 0])
    for row in np.argsort(-outer.areas)[:MOST_ASKED]:
        normal = outer.normals[row]
        same = around.normals @ normal > STRAIGHT
        if same.any():
            apart = offsets[same] - float(normal @ outer.corners[row, 0])
            yield float(apart[np.argmin(np.abs(apart))]), float(outer.areas[row])


def _followed(bench: Bench, body: Rim) -> Facets:
    """The walls of the body whose outline it follows, and of what that outline was drawn along."""
    host = bench.model.things[body.follows]
    names = {host.name, *(name for said in host.said for name in said.of)}
    out = np.asarray(bench.model.frame(body).out)
    parts = [bench.faces(name) for name in sorted(names)]
    walls = [facets.some(np.abs(facets.normals @ out) < 1 - STRAIGHT) for facets in parts]
    return Facets(
        np.concatenate([one.corners for one in walls]),
        np.concatenate([one.normals for one in walls]),
        np.concatenate([one.areas for one in walls]),
        np.concatenate([one.numbers for one in walls]),
    )


def _most(sizes: Iterable[tuple[float, float]]) -> float | None:
    """The size with the most area behind it: a wall that something stands against, or that is cut, is thicker
    or thinner only there.
    """
    weight: dict[int, float] = defaultdict(float)
    value: dict[int, float] = {}
    for size, area in sizes:
        key = round(size / SAME)
        weight[key] += area
        value.setdefault(key, size)
    best = max(weight, key=lambda key: weight[key], default=None)
    return None if best is None else value[best]


__all__ = ["measures"]
