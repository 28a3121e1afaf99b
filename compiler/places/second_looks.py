"""What else the readings of a plane tell: gaps read twice, weak geometry, round sizes they agree with."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator

from ..facts import Claims
from ..facts.extents import size_claim
from ..facts.kind_questions import has_fit
from ..facts.placing import From
from ..network.adjust import Adjustment
from ..network.chances import COVER
from ..network.rounding import round_offers
from ..quantities import Quantity
from .layout import PlaneReadings
from .reading_weights import Double, RoundSize, Spacing, Weak, WeighedReading

WEAK = 2.5  # a reading that moves something this many times its own slip is weak geometry
A_READING = 0.05 / math.sqrt(3)  # u of one more reading with callipers
_PAIRS = (("far", "near"), ("far-far", "near-near"), ("far-near", "near-far"))


def doubles(claims: Claims, page: PlaneReadings) -> Iterator[Double]:
    """Gaps that were read over both pairs of edges."""
    told: dict[tuple[str, str], dict[str, From]] = {}
    for key, fact in page.facts.items():
        if isinstance(fact, From) and fact.edges:
            told.setdefault((page.keys[key][0].name, str(fact.thing)), {})[fact.edges] = fact
    for (name, other), facts in sorted(told.items()):
        for outer, inner in _PAIRS:
            if outer in facts and inner in facts:
                sizes = _between_edges(claims, name, other, outer)
                if sizes is not None:
                    pair = [facts[word].reading for word in (outer, inner)]
                    u = math.hypot(pair[0].u, pair[1].u, sizes.u)
                    yield Double(
                        name,
                        other,
                        facts[outer].claim.text,
                        facts[inner].claim.text,
                        pair[0].value - pair[1].value,
                        sizes.value,
                        math.sqrt(3) * u,
                    )


def _between_edges(claims: Claims, name: str, other: str, outer: str) -> Quantity | None:
    """What far less near should be: the diameter of the round one, or of both (their difference for
    far-near).
    """
    mine, theirs = (_diameter(claims, one) for one in (name, other))
    if outer == "far":
        return mine or theirs
    if mine is None or theirs is None:
        return None
    sign = 1.0 if outer == "far-far" else -1.0
    return Quantity(mine.value + sign * theirs.value, math.hypot(mine.u, theirs.u))


def _diameter(claims: Claims, name: str) -> Quantity | None:
    entry = claims.entries.get(name)
    found = size_claim(entry) if entry is not None else None
    return found[1] if found is not None else None


def weak(claims: Claims, work: Adjustment, readings: Iterable[WeighedReading]) -> Iterator[Weak]:
    """Things that a small slip of some reading moves far, and what would hold them better."""
    best: dict[str, tuple[float, str, str]] = {}
    for one in readings:
        if one.moved and not one.degrees and one.moves > 0.1 * WEAK:
            found = (one.moves, one.name, one.text)
            best[one.moved] = max(best.get(one.moved, found), found)
    for moved, (moves, name, text) in sorted(best.items()):
        better, expanded = _better(claims, work, moved)
        yield Weak(name, text, moved, moves, better, expanded)


def _better(claims: Claims, work: Adjustment, name: str) -> tuple[str, float]:
    """The reading that would hold a thing best in its worst direction, and U with it."""
    fit = work.things[name]
    way = (math.cos(fit.worst), math.sin(fit.worst))
    options: list[tuple[float, int, str]] = []
    for line, placed in work.lines.items():
        if line.partition(".")[0] in claims.entries:
            seen = abs(math.cos(placed.angle) * way[0] + math.sin(placed.angle) * way[1])
            options.append((seen, 1, f"from {line} ..."))
    for other, there in work.things.items():
        away = (there.at[0] - fit.at[0], there.at[1] - fit.at[1])
        size = math.hypot(*away)
        if other != name and other in claims.entries and size > 1e-6:
            options.append((abs(away[0] * way[0] + away[1] * way[1]) / size, 0, f"from {other} ..."))
    if not options or not fit.u > 0:
        return "", fit.expanded
    share, _, words = max(options, key=lambda one: (round(one[0], 3), one[1], one[2]))
    after = 1.0 / math.sqrt(1.0 / fit.u**2 + (share / A_READING) ** 2)
    # what the new reading does not see stays: u across the worst direction
    return words, COVER * max(after, _across(fit.u_x, fit.u_y, fit.u))


def rounds(page: PlaneReadings, work: Adjustment, spacings: tuple[Spacing, ...]) -> Iterator[RoundSize]:
    """Round sizes that spacings and diameters are consistent with, as far as neither a drill nor a fit says
    them.
    """
    values = [(f"{one.first} to {one.second}", one.apart, one.expanded / COVER) for one in spacings]
    accept = {
        name: f"from {one.first} centres {{}} wanted   (in {one.second})"
        for (name, _, _), one in zip(values, spacings, strict=True)
    }
    sizes = {one.key: one for one in page.network.sizes}
    for row in work.readings:
        if row.key in page.keys and not row.exact and row.key in sizes:
            entry, claim = page.keys[row.key]
            if not has_fit(entry) and sizes[row.key].below is None:
                name = f"{entry.name} {claim.word}"
                values.append((name, row.fitted, work.sizes[sizes[row.key].size].u))
                accept[name] = f"{claim.text} made {{}}"
    for offer in round_offers(values, inches=True):
        yield RoundSize(
            offer.name, offer.value, COVER * offer.u, offer.words, accept[offer.name].format(offer.words)
        )


def _across(u_x: float, u_y: float, u: float) -> float:
    """The smaller axis of an ellipse of uncertainty from its larger one and u of x and y (their squares add
    up alike).
    """
    return math.sqrt(max(u_x**2 + u_y**2 - u**2, 0.0))
