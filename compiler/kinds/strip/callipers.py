"""A strip measured back: how thick it is between its two faces, how wide, how round its bends are inside."""

from __future__ import annotations

import math
from collections.abc import Iterator

import numpy as np

from ...callipers.bench import Bench
from ...callipers.standing import foot_of, raised
from ...callipers.surfaces import Facets, FlatFace, flats_of
from ...callipers.taking import Seen, sized
from ...callipers.teeth import section
from ...callipers.turned import FoundAxis
from ...callipers.types import Taken
from ...quantities.arrays import Floats
from ...quantities.vectors import dot
from .model import Strip

GONE = "no two faces of it are left that lie over one another"
NO_BEND = "no rounded bend of it is left on the part"
FOOT = "neither its back nor the flat it stands on is left on the part"
SIDES = ("left side", "right side")
SQUARE = 1e-6
SAME = 1e-5
LEG = 0.25
"""Share of the largest flat of a face that a leg has at least."""
OFF_ROUND = 1e-3
MUCH_LONGER = 1.5
SHARPEST = math.radians(50.0)
"""A corner that turns by more is no corner of a rounded bend: the smallest rounds have 12 facets, and may
begin with half a one."""


def measures(bench: Bench, strip: Strip) -> Iterator[Taken]:
    """The sizes of the strip."""
    for number in strip.numbers:
        if number.word == "thick":
            yield sized(strip, number, *_thick(bench, strip))
        elif number.word == "wide":
            yield sized(strip, number, *_wide(bench, strip))
        elif number.word == "turns inside":
            yield sized(strip, number, *_bend(bench, strip))
    yield from raised(bench, strip)


def _thick(bench: Bench, strip: Strip) -> Seen:
    """Between the two faces of a straight leg, where they are closest; without one between the rounds of a
    bend."""
    left, right = (_legs(flats_of(bench.own(strip, 1, side))) for side in SIDES)
    apart = [away for one in left for other in right if (away := _over(one, other)) > SAME]
    return (min(apart), "") if apart else (None, GONE)


def _legs(flats: list[FlatFace]) -> list[FlatFace]:
    """Those of flats that are legs, not facets of bends."""
    return [flat for flat in flats if flat.area > LEG * flats[0].area]


def _over(one: FlatFace, other: FlatFace) -> float:
    """How far two flats that face away from each other are apart; 0 for others."""
    if dot(one.normal, other.normal) > SQUARE - 1:
        return 0.0
    return dot(one.point, one.normal) - dot(other.point, one.normal)


def _wide(bench: Bench, strip: Strip) -> Seen:
    frame = bench.model.frame(strip)
    front, back = (bench.level(bench.own(strip, 1, face), frame) for face in ("front", "back"))
    if strip.out < 0:
        front, back = back, front
    foot = back[0] if back else foot_of(bench, strip)
    if not front or foot is None:
        return None, FOOT
    return max(abs(at - foot) for at in front), ""


def _bend(bench: Bench, strip: Strip) -> Seen:
    """The radius inside of a bend: its facets and its legs all touch one circle.  Of several (a path may be
    wrapped round something, too) the one nearest to what the bends were built with."""
    frame = bench.model.frame(strip)
    axis = FoundAxis(frame.origin, frame.out, frame.right, frame.up)
    found: list[float] = []
    for side in SIDES:
        facets = bench.own(strip, 1, side)
        if facets.empty:
            continue
        heights = axis.heights(facets.corners)
        pieces = section(facets, axis, 0.5 * float(heights.min() + heights.max()) + 1e-4)
        for chain in _chains(pieces):
            found += _rounds(chain, _faces_left(chain, axis, facets))
    if not found or strip.turns_inside is None:
        return None, NO_BEND
    built = strip.turns_inside.value
    return min(found, key=lambda radius: abs(radius - built)), ""


def _faces_left(points: Floats, axis: FoundAxis, facets: Facets) -> bool:
    """Whether the side that a row of corners runs along faces to the left of it."""
    steps = np.diff(points, axis=0)
    longest = int(np.hypot(*steps.T).argmax())
    step = steps[longest] / np.hypot(*steps[longest])
    middle = 0.5 * (points[longest] + points[longest + 1])
    seen, corner = axis.across(np.asarray(axis.start) + facets.normals), axis.across(facets.corners[:, 0])
    mine = (np.abs(seen @ step) < SQUARE) & (np.abs(((corner - middle) * seen).sum(axis=1)) < SAME)
    return bool(mine.any()) and float(seen[mine][0] @ np.array([-step[1], step[0]])) > 0


def _chains(pieces: Floats) -> Iterator[Floats]:
    """Pieces put end to end: the corners of each row of them, those in the middle of straights left out."""
    left = [(tuple(np.round(a, 5).tolist()), tuple(np.round(b, 5).tolist())) for a, b in pieces]
    left = [piece for piece in left if piece[0] != piece[1]]
    while left:
        chain = list(left.pop())
        grown = True
        while grown:
            grown = False
            for k, (a, b) in enumerate(left):
                if chain[-1] in (a, b):
                    chain.append(b if chain[-1] == a else a)
                elif chain[0] in (a, b):
                    chain.insert(0, b if chain[0] == a else a)
                else:
                    continue
                left.pop(k)
                grown = True
                break
        points = np.array(chain)
        steps = np.diff(points, axis=0)
        turns = np.abs(_turns(steps))
        yield points[np.concatenate([[True], turns > 1e-3, [True]])]


def _turns(steps: Floats) -> Floats:
    """How far a row of steps turns at each corner, anticlockwise."""
    a, b = steps[:-1], steps[1:]
    turns: Floats = np.arctan2(a[:, 0] * b[:, 1] - a[:, 1] * b[:, 0], (a * b).sum(axis=1))
    return turns


def _rounds(points: Floats, faces_left: bool) -> Iterator[float]:
    """The radii of the hollow rounds in a row of corners: those that turn to where their side faces."""
    steps = np.diff(points, axis=0)
    turns = _turns(steps) * (1 if faces_left else -1)
    across = np.stack([-steps[:, 1], steps[:, 0]], axis=1)
    across /= np.linalg.norm(across, axis=1)[:, None]
    long = np.hypot(*steps.T)
    start = 0
    while start < len(turns):
        stop = start
        while stop < len(turns) and 0 < turns[stop] < SHARPEST:
            stop += 1
            if stop < len(turns) and long[stop] > MUCH_LONGER * long[stop - 1 if stop - start > 1 else stop]:
                break  # a leg: behind it the next bend begins
        if stop - start >= 2:
            run = across[start : stop + 1]
            offsets = (run * points[start : stop + 1]).sum(axis=1)
            rows = np.column_stack([run, np.ones(len(run))])
            found = np.linalg.lstsq(rows, offsets, rcond=None)[0]
            if float(np.abs(rows @ found - offsets).max()) < OFF_ROUND:
                yield abs(float(found[2]))
        start = max(stop, start + 1)


__all__ = ["measures"]
