"""Plates of all kinds of outline, with bores at known places and zones round these."""

from __future__ import annotations

import itertools
from random import Random

from .readings import apart, bore_depth, hole_size, read
from .writing import XY, Placed, Recipe, Statement, begun, size


def _layout(rnd: Random, count: int, pitch: float) -> list[XY]:
    """Places well apart: squares of a grid, each place somewhere in the middle of its square or right in
    it.
    """
    squares = rnd.sample([(i, j) for i in range(4) for j in range(3)], count)
    ease = 0.15 * pitch
    return [
        (
            round(i * pitch + rnd.choice((0.0, rnd.uniform(-ease, ease))), 3),
            round(j * pitch + rnd.choice((0.0, rnd.uniform(-ease, ease))), 3),
        )
        for i, j in squares
    ]


def plate(rnd: Random) -> Recipe:
    """A plate: bores at known places, ends round them, and an outline over these."""
    made = begun(rnd)
    body, pitch, thick = made.name(rnd), rnd.choice((18.0, 22.0, 30.0)), rnd.choice((3.0, 4.2, 6.0, 8.5))
    known: list[Placed] = []
    ends: list[tuple[str, XY, float]] = []
    openings = 0
    for at in _layout(rnd, rnd.randint(1, 5), pitch):
        name, across = made.name(rnd), round(rnd.uniform(2.6, 5.0), 1)
        facts, r = hole_size(made, name, across, rnd)
        one = Placed(name, at, r)
        depth, opens = bore_depth(body, thick, rnd, across)
        if any(
            "hex" in fact or "square" in fact or "flat" in fact or "clears" in fact or " on " in fact
            for fact in facts
        ):
            depth, opens = [fact for fact in depth if "sink" not in fact and "counter" not in fact], opens
        made.add("bore", rnd, *facts, *depth, *read(one, known, rnd), name=name)
        known.append(one)
        made.places[name] = at
        openings += opens
        end = made.name(rnd)
        wide = rnd.choice((11.0, 12.0, 13.5))
        made.add("round", rnd, f"around {name}", f"across {size(made, wide, rnd)}", name=end)
        ends.append((end, at, wide))
        made.places[end] = at
        _zones(made, body, name, wide, thick, rnd)
    outline = _outline(made, ends, rnd)
    made.add("plate", rnd, f"thick {size(made, thick, rnd)}", *outline, name=body)
    made.genus = openings if len(ends) < 2 or not outline[0].startswith("merge") else None
    hole = made.name(rnd)
    made.cuts.append(
        Statement("bore", hole, [f"at {{0.3}}, {{0.2}} from {ends[0][0]}", "across {5.6}", f"through {body}"])
    )
    return made


def _zones(made: Recipe, body: str, bore: str, wide: float, thick: float, rnd: Random) -> None:
    ramp = [f"ramp {{{rnd.choice((0.5, 1.0))}}}"] if rnd.random() < 0.5 else []
    face = rnd.choice((f"{body}.front", f"{body}.back", body))
    where = f"collar {bore} to {{{wide - rnd.choice((0.0, 1.0, -4.0))}}} overall"
    more = rnd.choice((f"by {{{rnd.choice((0.8, 2.0))}}}", f"to {{{thick + 3.0}}} overall"))
    made.thickens.append(Statement("thicken", made.name(rnd), [f"on {face}", where, more, *ramp]))
    less = rnd.choice((f"by {{{round(0.2 * thick, 3)}}}", f"to {{{round(0.7 * thick, 3)}}} overall"))
    made.cuts.append(Statement("relieve", made.name(rnd), [f"on {face}", where, less, *ramp]))


def _outline(made: Recipe, ends: list[tuple[str, XY, float]], rnd: Random) -> list[str]:
    names = [name for name, _, _ in ends]
    if len(ends) == 1:
        return [f"merge {names[0]}"]
    pick = rnd.choice(("belt", "belt", "chain", "merge", "outline"))
    if pick == "merge":
        bars = [
            made.add("web", rnd, f"joins {a}, {b}", f"wide {{{rnd.choice((5.0, 8.0))}}}").name
            for a, b in itertools.pairwise(names)
        ]
        some = [*names, *bars]
        rnd.shuffle(some)
        return ["merge " + ", ".join(some)]
    if pick == "chain":
        return ["chain " + ", ".join(name for name, _, _ in sorted(ends, key=lambda one: one[1]))]
    edge = (
        [f"bevel {{{rnd.choice((0.4, 0.8))}}} at {rnd.choice(('front', 'back', 'both'))}"]
        if rnd.random() < 0.3
        else []
    )
    grown = rnd.choice(("", "", f"grow {{{rnd.choice((0.5, 2.0))}}}", "shrink {0.5}"))
    if pick == "outline" and len(ends) > 2:
        places = [(at, name) for name, at, _ in ends]
        hull = _hull(places, 5.0)
        if len(hull) > 2 and hull == _hull(places, 0.0):
            start = rnd.randrange(len(hull))
            walk = hull[start:] + hull[:start]
            return ["outline " + ", ".join(walk if rnd.random() < 0.5 else walk[::-1]), grown]
    rnd.shuffle(names)
    return ["belt " + ", ".join(names), *edge, grown]


def _hull(places: list[tuple[XY, str]], clear: float) -> list[str]:
    """Names on the convex hull, anticlockwise (monotone chain); corners that stand out by less than `clear`
    left out.
    """

    def half(some: list[tuple[XY, str]]) -> list[tuple[XY, str]]:
        kept: list[tuple[XY, str]] = []
        for at, name in some:
            while len(kept) > 1 and _stands_out(kept[-2][0], kept[-1][0], at) <= clear:
                kept.pop()
            kept.append((at, name))
        return kept

    places = sorted(places)
    walk = half(places)[:-1] + half(places[::-1])[:-1]
    # The first and the last of the sorted ones are ends of both halves: they are asked once more.
    return [
        name
        for k, (at, name) in enumerate(walk)
        if len(walk) < 3 or _stands_out(walk[k - 1][0], at, walk[(k + 1) % len(walk)][0]) > clear
    ]


def _stands_out(before: XY, at: XY, after: XY) -> float:
    """How far a corner lies outside the line from the one before it to the one after."""
    x, y = after[0] - before[0], after[1] - before[1]
    return ((at[0] - before[0]) * y - (at[1] - before[1]) * x) / apart(before, after)
