"""What outlines run along, and the walls that are drawn along them, on the finished mesh."""

from __future__ import annotations

import math
from collections.abc import Iterable
from typing import cast

from ..kinds import own_file
from ..model import Body
from ..model.sections import Belted, Chained, Merged, Walked
from ..places.layout import Frame
from ..quantities.vectors import XY, dot
from .bench import ALONG, Bench


def walls_through(bench: Bench, point: str, frame: Frame, at: XY, within: float) -> list[tuple[XY, float]]:
    """The walls of bodies drawn through a point that pass it within some mm, as a plane sees them
    edge-on: normal and offset, the largest first.
    """
    found = []
    for body in drawn_with(bench, point):
        for flat in bench.flats(body):
            way = dot(flat.normal, frame.right), dot(flat.normal, frame.up)
            if math.hypot(*way) < 1 - ALONG:
                continue
            foot, _ = frame.onto(flat.point)
            offset = foot[0] * way[0] + foot[1] * way[1]
            if abs(at[0] * way[0] + at[1] * way[1] - offset) < within:
                found.append((way, offset, flat.area))
    return [(way, offset) for way, offset, _ in sorted(found, key=lambda one: -one[2])]


def drawn_with(bench: Bench, point: str) -> list[str]:
    """The bodies that are drawn through a point, and all else that their outlines run along."""
    if "drawn" not in bench.kept:
        bench.kept["drawn"] = _drawn_through(bench)
    return cast("dict[str, list[str]]", bench.kept["drawn"]).get(point, [])


def trimmed(bench: Bench, names: Iterable[str]) -> bool:
    """Whether any of some bodies is cut off by a plane."""
    return any(body.trims for body in bench.model.of(Body) if body.name in names)


def _drawn_through(bench: Bench) -> dict[str, list[str]]:
    """What carries the faces of outlines, by each name that their lines speak of."""
    found: dict[str, list[str]] = {}
    for body in bench.model.of(Body):
        along = _drawn_along(body)
        for name in along:
            found.setdefault(name, []).extend((body.name, *along))
    return found


def grown(bench: Bench, name: str) -> float:
    """How far (mm) the outline that is drawn along a thing was said to be grown (shrunk: < 0)."""
    for body in bench.model.of(Body):
        if name in _drawn_along(body):
            own = own_file(body.noun, "callipers")
            if own is not None and hasattr(own, "grown"):
                return float(own.grown(body))
    return 0.0


def _drawn_along(body: Body) -> list[str]:
    """The names of the things that the outline of a body runs along."""
    match getattr(body, "outline", None):
        case Walked(stops):
            return [stop.owner for stop in stops]
        case Belted(rounds) | Chained(rounds):
            return [one.owner for one in rounds]
        case Merged(shapes):
            return [one.owner for one in shapes]
    return []
