"""A known place, and a known hole, told by readings such as a person takes them."""

from __future__ import annotations

import math
from random import Random

from .writing import XY, Placed, Recipe, size

HOLLOW = {"hex": 2 / math.sqrt(3), "square": math.sqrt(2)}


def _edges(one: Placed, other: Placed, distance: float, rnd: Random) -> str:
    """`near-far 12.3`: a distance between two things to edges that both have."""
    mine, theirs = (rnd.choice(("near", "far")) if thing.r else "" for thing in (one, other))
    if not mine and not theirs:
        return f"{{{distance}}}"
    if rnd.random() < 0.2 or min(one.r, other.r) < 0:
        return f"{rnd.choice(('centre', 'centres'))} {{{distance}}}"
    value = distance + sum(
        {"near": -r, "far": r, "": 0.0}[word] for word, r in ((mine, one.r), (theirs, other.r))
    )
    if value < 0.5:
        return f"centre {{{distance}}}"
    return f"{mine}{'-' if mine and theirs else ''}{theirs} {{{value}}}"


def apart(a: XY, b: XY) -> float:
    return math.hypot(a[0] - b[0], a[1] - b[1])


def _mirrored(at: XY, a: XY, b: XY) -> XY:
    way = ((b[0] - a[0]) / apart(a, b), (b[1] - a[1]) / apart(a, b))
    share = (at[0] - a[0]) * way[0] + (at[1] - a[1]) * way[1]
    foot = (a[0] + share * way[0], a[1] + share * way[1])
    return (2 * foot[0] - at[0], 2 * foot[1] - at[1])


def _side_word(at: XY, wrong: XY, known: list[Placed]) -> str | None:
    """A side word that is true of a place and false of the wrong one."""
    for other in known:
        x, y = other.at
        for word, sign, axis in (("right of", 1, 0), ("left of", -1, 0), ("above", 1, 1), ("below", -1, 1)):
            centre = (x, y)[axis]
            if sign * (at[axis] - centre) > 1.0 and sign * (wrong[axis] - centre) < -1.0:
                return f"{word} {other.name}"
    return None


def read(one: Placed, known: list[Placed], rnd: Random) -> list[str]:
    """Facts that place a thing among those already placed; the first is put at a place of the sheet."""
    x, y = one.at
    if not known:
        return [f"at {{{x}}}, {{{y}}}"]
    for _ in range(6):
        facts = rnd.choice((_by_shift, _by_two, _by_two, _by_two, _by_level, _by_angle))(one, known, rnd)
        if facts:
            return facts
    return [f"at {{{x}}}, {{{y}}}"]


def _by_shift(one: Placed, known: list[Placed], rnd: Random) -> list[str]:
    other = rnd.choice(known)
    return [f"at {{{one.at[0] - other.at[0]}}}, {{{one.at[1] - other.at[1]}}} from {other.name}"]


def _by_two(one: Placed, known: list[Placed], rnd: Random) -> list[str]:
    if len(known) < 2:
        return []
    a, b = rnd.sample(known, 2)
    base = apart(a.at, b.at)
    if base < 4.0 or min(apart(one.at, a.at), apart(one.at, b.at)) < 2.0:
        return []
    wrong = _mirrored(one.at, a.at, b.at)
    if apart(wrong, one.at) < 6.0:
        return []
    word = _side_word(one.at, wrong, known) or f"roughly {{{round(one.at[0])}}}, {{{round(one.at[1])}}}"
    facts = [f"from {other.name} {_edges(one, other, apart(one.at, other.at), rnd)}" for other in (a, b)]
    if len(known) > 2 and rnd.random() < 0.3:
        third = rnd.choice([other for other in known if other not in (a, b)])
        if apart(one.at, third.at) > 2.0:
            facts.append(f"from {third.name} {_edges(one, third, apart(one.at, third.at), rnd)}")
    return [*facts, word]


def _by_level(one: Placed, known: list[Placed], rnd: Random) -> list[str]:
    """Level or plumb with one thing (where it is), and a distance."""
    for other in rnd.sample(known, len(known)):
        dx, dy = one.at[0] - other.at[0], one.at[1] - other.at[1]
        if dy == 0.0 and abs(dx) > 2.0:
            words_ = ("level with", "right of" if dx > 0 else "left of")
        elif dx == 0.0 and abs(dy) > 2.0:
            words_ = ("plumb with", "above" if dy > 0 else "below")
        else:
            continue
        distance = _edges(one, other, abs(dx + dy), rnd)
        return [f"{words_[0]} {other.name}", f"{words_[1]} {other.name}", f"from {other.name} {distance}"]
    return []


def _by_angle(one: Placed, known: list[Placed], rnd: Random) -> list[str]:
    other = rnd.choice(known)
    distance = apart(one.at, other.at)
    if distance < 2.0:
        return []
    angle = math.degrees(math.atan2(one.at[1] - other.at[1], one.at[0] - other.at[0]))
    return [f"angle {angle:.12f} from {other.name}", f"from {other.name} {_edges(one, other, distance, rnd)}"]


def hole_size(made: Recipe, name: str, across: float, rnd: Random) -> tuple[list[str], float]:
    """Size facts of a bore of about a diameter, and its radius as read (-1: never read)."""
    pick = rnd.choice(
        (
            "drill",
            "drill",
            "across",
            "made",
            "clears",
            "bites",
            "turns on",
            "read and fit",
            "hex",
            "square",
            "flat",
        )
    )
    r = 0.5 * across
    if pick == "drill":
        made.rounds[name] = across
        return [
            f"drill {{{across}}} not {{{across + 0.1}}}" if rnd.random() < 0.7 else f"drill {{{across}}}"
        ], r
    if pick == "across":
        made.rounds[name] = across
        return [f"across {size(made, across, rnd)}"], r
    if pick == "made":
        made.rounds[name] = across
        return [f"across {{{across - 0.4}}}, {{{across - 0.4}}} worn made {{{across}}}"], r - 0.2
    if pick == "clears":
        return [rnd.choice(("clears M3", "clears M2.5 fine", f"clears {{{across}}}"))], -1.0
    if pick == "bites":
        return ["bites M3"], -1.0
    if pick == "turns on":
        return [
            f"{rnd.choice(('turns on', 'slides on', 'pushes on', 'press on', 'stretches on'))} {{{across}}}"
        ], -1.0
    if pick == "read and fit":
        return [f"across {{{across}}}", f"turns on {{{across - 0.2}}}"], r
    if pick == "flat":
        flats = f"{rnd.choice(('flat', 'flats'))} {{{0.8 * across}}}"
        return [f"across {{{across}}}", f"{flats} facing {rnd.choice(('left', 'right', 'top', 'bottom'))}"], r
    return [
        f"{pick} {{{round(across / HOLLOW[pick], 3)}}}",
        f"turned {rnd.choice((0, 15, 30, 45))}" if rnd.random() < 0.3 else "",
    ], -1.0


def bore_depth(body: str, thick: float, rnd: Random, across: float) -> tuple[list[str], int]:
    """How a bore goes through a body, and 1 where it opens at both ends."""
    pick = rnd.random()
    if pick < 0.5:
        return [], 1
    if pick < 0.7:
        return [f"deep {{{round(0.6 * thick, 3)}}} from {body}.{rnd.choice(('front', 'back'))}"], 0
    if pick < 0.8:
        wide = rnd.choice((f"{{{across + 1.5}}}", "M3 nut", "M3 washer"))
        return [
            f"counterbore {wide} deep {{{round(0.3 * thick, 3)}}} at {body}.{rnd.choice(('front', 'back'))}"
        ], 1
    if pick < 0.9:
        return [
            f"countersink {{{across + 0.8}}} at {rnd.choice((body + '.front', body + '.back', 'front'))}"
        ], 1
    return [f"through {body}"], 1
