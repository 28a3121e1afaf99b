"""The threads of a turning: what they stand on, and where they wind in the mesh."""

from __future__ import annotations

import itertools
from collections.abc import Sequence

from ...diagnostics.types import Trouble, at_fault
from ..thread.form import NO_THREAD
from ..thread.ridges import MEETS, Wound, threaded
from .model import Winding
from .stretches import Stretch

LEAST_WALL = 0.04  # mm, and six chords: facets of both sides of the wall cut into it


def wound(some: Sequence[Winding], base: float, out: int, label: int, flip: bool) -> tuple[Wound, ...]:
    """The threads of a turning about z, station 0 at height `base`; `flip` makes the other hand."""
    ends = [sorted((base + out * one.start, base + out * one.stop)) for one in some]
    return tuple(
        Wound(one.form, low, high, one.form.left != flip, label)
        for one, (low, high) in zip(some, ends, strict=True)
    )


def check_thread(
    name: str,
    one: Winding,
    outer: list[Stretch],
    grooves: list[Stretch],
    inner: list[Stretch],
    chord: float,
) -> None:
    """Raise Trouble where a thread reaches out of the body or stands on nothing: 'bad-station',
    'thread-misses', 'no-wall'."""
    low, high = min(part.start for part in outer), max(part.stop for part in outer)
    if one.start < low - 1e-9 or one.stop > high + 1e-9 or one.stop - one.start < 1e-9:
        raise Trouble(
            "bad-station",
            f"the thread of `{name}` runs from {one.start:g} to {one.stop:g}, the body from "
            f"{low:g} to {high:g}",
            (name,),
        )
    ends = {end for part in (*outer, *grooves, *inner) for end in (part.start, part.stop)}
    places = sorted({one.start, one.stop, *(end for end in ends if one.start < end < one.stop)})
    bare: list[float] = []
    hollow = [0.0]
    for start, stop in itertools.pairwise(places):
        middle = 0.5 * (start + stop)
        for place in (start, stop):
            stations = [part.radius(place) for part in outer if part.start < middle < part.stop]
            cuts = [part.radius(place) for part in grooves if part.start < middle < part.stop]
            bare.append(min([max(stations, default=0.0), *cuts]))
            hollow += [part.radius(place) for part in inner if part.start < middle < part.stop]
    with at_fault(one.said.span, "thread-misses"):
        _check_ground(name, one, min(bare), max(hollow), chord)


def _check_ground(name: str, one: Winding, bare: float, hollow: float, chord: float) -> None:
    """Raise Trouble where a thread finds no material to stand on: 'thread-misses', 'no-wall'.

    `bare` and `hollow`: the least radius of the body's outside and the greatest of its bore, along the
    thread."""
    across = one.form.ground
    if one.form.outside:
        if bare < one.ground - MEETS:
            raise Trouble(
                "thread-misses",
                f"`{name}` is only {2 * bare:.4g} across where its thread has a core of "
                f"{across:.4g}: the ridges would stand on nothing",
                (name,),
                advice=(f"make it {one.form.across:.4g} across there: the thread is cut from that",),
            )
        wall, other = one.ground - hollow, f"bored {2 * hollow:.4g}"
    else:
        if hollow > one.ground + MEETS:
            raise Trouble(
                "thread-misses",
                f"`{name}` is bored {2 * hollow:.4g} where its thread is {across:.4g} wide: the "
                "ridges would stand on nothing",
                (name,),
                advice=("a thread makes its own bore: end the `bored` line where the thread begins",),
            )
        wall, other = bare - one.ground, f"{2 * bare:.4g} across outside"
    if wall < LEAST_WALL + 6.0 * chord:
        raise Trouble(
            "no-wall",
            f"the thread of `{name}` goes to {across:.4g} across where the body is {other}: no wall is left",
            (name,),
            advice=("more material there, or a smaller thread",),
        )


__all__ = ["NO_THREAD", "check_thread", "threaded", "wound"]
