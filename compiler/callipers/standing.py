"""How high things stand over the flat they are on."""

from __future__ import annotations

from collections.abc import Iterator

from ..facts.placing import Raised
from ..model import Body
from ..model.stated import Number
from ..quantities.vectors import Vector, along, dot
from .bench import Bench
from .surfaces import flats_of
from .taking import sized
from .types import Taken

SQUARE = 1 - 1e-6
NOTHING_UNDER = "the flat it is raised from, or its own, is not left on the part"


def stands_at(bench: Bench, body: Body, way: Vector) -> float | None:
    """How far along a way (mm) from where a body was put the flat lies that it stands on; None where it
    stands on none, or is raised off it.
    """
    if _steps(body):
        return None
    return _under(bench, body, way)


def _steps(body: Body) -> list[Number]:
    """The numbers by which a body is raised off what it stands on."""
    lines = {by.fact.claim.span for by in body.placed_by if isinstance(by.fact, Raised)}
    return [number for number in body.numbers if number.size.said.span in lines]


def _under(bench: Bench, body: Body, way: Vector) -> float | None:
    """The flat of the mesh it stands on, nearest to where it was put; along a way from there."""
    flats = [
        flat
        for on in body.stands_on
        if on.part and not on.part.isdigit()
        for flat in flats_of(bench.faces(on.thing, on.part))
        if abs(dot(flat.normal, way)) > SQUARE
    ]
    frame = bench.model.frame(body)
    home = dot(along(frame.origin, (frame.out, body.base)), way)
    away = [dot(flat.point, way) - home for flat in flats]
    return min(away, key=abs) if away else None


def foot_of(bench: Bench, body: Body) -> float | None:
    """How high over its plane a body stands: at the flat it is on, or where its plane has it; None where
    nothing is left of that flat.
    """
    frame, base = bench.model.frame(body), body.base
    if not any(on.part and not on.part.isdigit() for on in body.stands_on):
        return base
    under = _under(bench, body, frame.out)
    steps = sum(number.size.value for number in _steps(body))
    # raised, it was put so much further out than that flat
    return None if under is None else base + under + steps * body.out


def raised(bench: Bench, body: Body) -> Iterator[Taken]:
    """How high a body was raised off the flat it is on: from that to its own back."""
    for number in _steps(body):
        frame = bench.model.frame(body)
        backs = bench.level(bench.own(body, 1, "back" if body.out > 0 else "front"), frame)
        under = _under(bench, body, frame.out)
        if not backs or under is None:
            yield sized(body, number, None, NOTHING_UNDER)
            continue
        own = min(backs, key=lambda at: abs(at - body.base))
        yield sized(body, number, (own - body.base - under) * body.out)


__all__ = ["foot_of", "raised", "stands_at"]
