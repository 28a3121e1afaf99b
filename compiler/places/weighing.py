"""Every reading weighed for the writer: what checks it, what rests on it, what would hold a thing better.

The mathematics is `adjust`; here its rows get the writer's names back.  Only `readings` and `report` ask for
this: an ordinary compile places things without it."""

from __future__ import annotations

import math
from collections.abc import Iterator

from ..facts import HOLES, Claim, Claims, Entry, Measure
from ..facts.extents import size_claim
from ..facts.made_sizes import made
from ..facts.needs import FIT_WORDS
from ..facts.read_numbers import number_name, read_numbers
from ..facts.turned import PLACED, station_places, station_sizes, told
from ..network.adjust import EXACT_U, adjust
from ..network.adjustment_types import Derived, Leverage
from ..network.chances import BAARDA, COVER
from ..network.hypotheses import usual_alternatives
from ..network.rounding import round_offers
from ..network.suspects import verdicts
from ..network.types import Distance, Edge, Heading, LineAngle
from ..quantities import Quantity, Standing, Unit
from .judging import MOST_JUDGED, typed_numbers
from .layout import Layout, PageReadings
from .reading_weights import (
    Double,
    RoundSize,
    Source,
    Spacing,
    Weak,
    Weighed,
    WeighedPage,
    WeighedPlace,
    WeighedReading,
    WeighedSize,
)

MOST_SOURCES = 3
ZERO = 1e-6  # mm from where the stations of a turning are counted
ALL_PAIRS = 6  # holes up to which every spacing is told; beyond, each hole's nearest
# things up to which it is worked out what each place owes to which reading; past it no eye reads that
DETAILED = 200
WEAK = 2.5  # a reading that moves something this many times its own slip is weak geometry
A_READING = 0.05 / math.sqrt(3)  # u of one more reading with callipers
_PAIRS = (("far", "near"), ("far-far", "near-near"), ("far-near", "near-far"))


def weigh(claims: Claims, layout: Layout) -> Weighed:
    """All readings of a recipe weighed, page by page in the order they were placed, and all sizes by name."""
    fitted: dict[str, float] = {}
    pages = tuple(_Page(claims, one, fitted).weighed() for one in layout.readings)
    pages = tuple(page for page in pages if page.readings or page.skipped)
    return Weighed(pages, tuple(_sizes(claims, fitted)))


class _Page:
    """One page at work."""

    def __init__(self, claims: Claims, page: PageReadings, fitted: dict[str, float]) -> None:
        self.claims, self.page, self.net, self.fitted = claims, page.page, page.network, fitted
        self.keys = page.keys
        self.detailed = len(page.network.things) <= DETAILED

    def weighed(self) -> WeighedPage:
        if len(self.net.things) + len(self.net.lines) > MOST_JUDGED:
            return WeighedPage(self.page, skipped=True)
        work = self.work = adjust(self.net)
        bad = [one for one in work.tests if not one.fits]
        if not bad:
            self.fitted.update({name: size.diameter for name, size in work.sizes.items()})
        suspects = self._suspects() if bad else frozenset()
        readings = tuple(self._readings(suspects))
        spacings = tuple(self._spacings())
        return WeighedPage(
            self.page,
            readings,
            tuple(self._places()),
            spacings,
            tuple(self._doubles()),
            tuple(self._weak()),
            tuple(self._rounds(spacings)),
            self._datum(),
            not bad,
            sum(one.total for one in work.tests),
            sum(max(0, one.freedoms) for one in work.tests),
            detailed=self.detailed,
        )

    def _suspects(self) -> frozenset[int]:
        told = verdicts(self.work, usual_alternatives(self.net, EXACT_U, typed_numbers(self.keys)))
        return frozenset(
            key
            for one in told
            for key in (*(s.key for s in one.suspects), *(h.alternative.key for h in one.readings_as))
        )

    def _datum(self) -> tuple[str, ...]:
        held = (
            *(one.name for one in self.net.fixed_lines),
            *(one.thing.name for one in self.net.fixed_things),
        )
        named = [*self.work.datum, *held]
        known = [name for name in named if name.partition(".")[0] in self.claims.entries]
        return tuple(dict.fromkeys(self._middle_of(name) for name in known))[:3]

    def _middle_of(self, name: str) -> str:
        """The thing that a round lies around: the writer read to that."""
        entry = self.claims.entries.get(name)
        around = entry.one("around") if entry is not None else None
        return name if around is None else around.ref("thing").name

    def _readings(self, suspects: frozenset[int]) -> Iterator[WeighedReading]:
        rows = {row.key: row for row in self.net.rows}
        shown = [
            one
            for one in self.work.readings
            if one.key in self.keys and not self._definition(one.key, one.exact)
        ]
        moved = {
            one.key: one for one in self.work.leverages([one.key for one in shown] if self.detailed else [])
        }
        for one in shown:
            entry, claim = self.keys[one.key]
            row = rows.get(one.key)
            turned = isinstance(row, Heading | LineAngle)
            behind = row if isinstance(row, Distance) else None
            scale = 180.0 / math.pi if turned else 1.0 if behind is None else 1.0 / behind.times
            given, fitted = (
                scale * value if behind is None else behind.read(value) for value in (one.given, one.fitted)
            )
            verdict = "agrees"
            if one.exact:
                verdict = "wanted"
            elif one.key in suspects:
                verdict = "suspect"
            elif one.unchecked:
                verdict = "unchecked"
            elif abs(one.w) > BAARDA:
                verdict = "stands out"
            lever = moved.get(one.key, Leverage(one.key, "", 0.0))
            yield WeighedReading(
                entry.name,
                claim.text,
                given,
                fitted,
                one.residual * scale,
                math.sqrt(3) * one.u * scale,
                one.redundancy,
                one.slip * scale,
                lever.moves if turned else lever.moves / scale,
                lever.name if lever.name in self.claims.entries else "",
                turned,
                verdict,
            )

    def _definition(self, key: int, exact: bool) -> bool:
        """True for a row that is no reading: on, level, midway (a place that is `wanted` is shown)."""
        return exact and not any(isinstance(value, Quantity) for _, value in self.keys[key][1].values)

    def _sources(self, derived: Derived) -> tuple[Source, ...]:
        found = []
        for one in derived.shares:
            if one.key in self.keys and one.share >= 0.05:
                entry, claim = self.keys[one.key]
                found.append(Source(entry.name, claim.text, one.share))
        return tuple(found[:MOST_SOURCES])

    def _places(self) -> Iterator[WeighedPlace]:
        held = {one.thing.name for one in self.net.fixed_things}
        for name, fit in sorted(self.work.things.items()):
            if name in self.claims.entries and name not in held:
                by = self._sources(self.work.place(name)) if self.detailed and math.isfinite(fit.u) else ()
                yield WeighedPlace(name, fit.expanded, math.degrees(fit.worst) % 180.0, by)

    def _spacings(self) -> Iterator[Spacing]:
        work = self.work
        if not self.detailed:
            return
        holes = [
            name
            for name in sorted(work.things)
            if name in self.claims.entries
            and self.claims.entries[name].kind in HOLES
            and not self._boxed(name)
        ]
        for a, b in _neighbours({name: work.things[name].at for name in holes}):
            apart, wall = work.between(a, b), work.between(a, b, Edge.NEAR, Edge.NEAR)
            if apart.value > 1e-6 and math.isfinite(apart.u):
                yield Spacing(
                    a, b, apart.value, apart.expanded, wall.value, wall.expanded, self._sources(apart)
                )

    def _boxed(self, name: str) -> bool:
        thing = self.work.problem.things[self.work.problem.where[name]]
        return thing.half_wide > 0 or thing.half_long > 0

    def _doubles(self) -> Iterator[Double]:
        told: dict[tuple[str, str], dict[str, Claim]] = {}
        for entry, claim in self.keys.values():
            if claim.word == "from" and claim.word_of("edges"):
                told.setdefault((entry.name, str(claim.ref("thing"))), {})[claim.word_of("edges")] = claim
        for (name, other), claims in sorted(told.items()):
            for outer, inner in _PAIRS:
                if outer in claims and inner in claims:
                    sizes = self._between_edges(name, other, outer)
                    if sizes is not None:
                        pair = [claims[word].quantity("readings") for word in (outer, inner)]
                        u = math.hypot(pair[0].u, pair[1].u, sizes.u)
                        yield Double(
                            name,
                            other,
                            claims[outer].text,
                            claims[inner].text,
                            pair[0].value - pair[1].value,
                            sizes.value,
                            math.sqrt(3) * u,
                        )

    def _between_edges(self, name: str, other: str, outer: str) -> Quantity | None:
        """What far less near should be: the diameter of the round one, or of both (their difference for
        far-near).
        """
        mine, theirs = (self._diameter(one) for one in (name, other))
        if outer == "far":
            return mine or theirs
        if mine is None or theirs is None:
            return None
        sign = 1.0 if outer == "far-far" else -1.0
        return Quantity(mine.value + sign * theirs.value, math.hypot(mine.u, theirs.u))

    def _diameter(self, name: str) -> Quantity | None:
        entry = self.claims.entries.get(name)
        found = size_claim(entry) if entry is not None else None
        return found[1] if found is not None else None

    def _weak(self) -> Iterator[Weak]:
        best: dict[str, tuple[float, str, str]] = {}
        for one in self._readings(frozenset()):
            if one.moved and not one.degrees and one.moves > 0.1 * WEAK:
                found = (one.moves, one.name, one.text)
                best[one.moved] = max(best.get(one.moved, found), found)
        for moved, (moves, name, text) in sorted(best.items()):
            better, expanded = self._better(moved)
            yield Weak(name, text, moved, moves, better, expanded)

    def _better(self, name: str) -> tuple[str, float]:
        """The reading that would hold a thing best in its worst direction, and U with it."""
        fit, work = self.work.things[name], self.work
        way = (math.cos(fit.worst), math.sin(fit.worst))
        options: list[tuple[float, int, str]] = []
        for line, placed in work.lines.items():
            if line.partition(".")[0] in self.claims.entries:
                seen = abs(math.cos(placed.angle) * way[0] + math.sin(placed.angle) * way[1])
                options.append((seen, 1, f"from {line} ..."))
        for other, there in work.things.items():
            away = (there.at[0] - fit.at[0], there.at[1] - fit.at[1])
            size = math.hypot(*away)
            if other != name and other in self.claims.entries and size > 1e-6:
                options.append((abs(away[0] * way[0] + away[1] * way[1]) / size, 0, f"from {other} ..."))
        if not options or not fit.u > 0:
            return "", fit.expanded
        share, _, words = max(options, key=lambda one: (round(one[0], 3), one[1], one[2]))
        after = 1.0 / math.sqrt(1.0 / fit.u**2 + (share / A_READING) ** 2)
        # what the new reading does not see stays: u across the worst direction
        return words, COVER * max(after, _across(fit.u_x, fit.u_y, fit.u))

    def _rounds(self, spacings: tuple[Spacing, ...]) -> Iterator[RoundSize]:
        values = [(f"{one.first} to {one.second}", one.apart, one.expanded / COVER) for one in spacings]
        accept = {
            name: f"from {one.first} centres {{}} wanted   (in {one.second})"
            for (name, _, _), one in zip(values, spacings, strict=True)
        }
        sizes = {one.key: one.size for one in self.net.sizes}
        for row in self.work.readings:
            if row.key in self.keys and not row.exact and row.key in sizes:
                entry, claim = self.keys[row.key]
                if not entry.has(*FIT_WORDS) and claim.word != "drill":
                    name = f"{entry.name} {claim.word}"
                    values.append((name, row.fitted, self.work.sizes[sizes[row.key]].u))
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


def _neighbours(at: dict[str, tuple[float, float]]) -> list[tuple[str, str]]:
    """All pairs of a few, or each with its nearest."""
    names = sorted(at)
    if len(names) <= ALL_PAIRS:
        return [(a, b) for i, a in enumerate(names) for b in names[i + 1 :]]
    found = set()
    for a in names:
        b = min(
            (one for one in names if one != a), key=lambda one: (round(math.dist(at[a], at[one]), 6), one)
        )
        found.add((min(a, b), max(a, b)))
    return sorted(found)


_READ_OTHERWISE = {("gear", "meshes"): ("apart", "centres"), ("row", "over"): ("readings", "over")}
"""Readings that are neither the size of a thing nor its place: (kind, fact) -> their slot, and what they are
called.
"""


def _sizes(claims: Claims, fitted: dict[str, float]) -> Iterator[WeighedSize]:
    for entry in claims.entries.values():
        if entry.kind == "turning":
            yield from _stations(entry)
            yield from _numbers(entry)
            continue
        for claim in entry.claims:
            for key, value in claim.values:
                if isinstance(value, Measure) and value.made.unit in (Unit.PLAIN, Unit.LENGTH):
                    # the diameter that a chord and its rise come to is a size of its own
                    own = key if claim.word == "chord" and key == "across" else number_name(claim, key)
                    yield _size(entry, claim, own, value, claims, fitted)
            word = _READ_OTHERWISE.get((entry.kind, claim.word), ("", ""))
            if word[0] and claim.get(word[0]) is not None:
                given = claim.quantity(word[0])
                read = given.value if given.standing is Standing.READ else None
                known = 0.0 if read is None else COVER * given.u
                yield WeighedSize(entry.name, word[1], given.value, read, known, given.standing)
        yield from _numbers(entry)


def _numbers(entry: Entry) -> Iterator[WeighedSize]:
    for name, size in read_numbers(entry):
        yield _told(entry.name, name, size)


def _stations(entry: Entry) -> Iterator[WeighedSize]:
    """The sizes of a turning's stations, and the places on its axis that they run between, other than its
    zero.
    """
    for one in station_sizes(entry):
        yield _told(entry.name, one.name, one.measure)
    for place in station_places(entry, *PLACED):
        if abs(place.value) > ZERO:
            read = place if place.standing is Standing.READ else None
            yield _told(entry.name, f"at {told(place.value)}", Measure(read, place))


def _told(
    name: str,
    word: str,
    size: Measure,
    mesh: Quantity | None = None,
    fitted: float | None = None,
    over: int = 1,
) -> WeighedSize:
    is_made, read = mesh or size.made, size.read
    return WeighedSize(
        name,
        word,
        is_made.value,
        None if read is None else read.value,
        0.0 if read is None else COVER * read.u,
        is_made.standing,
        fitted,
        over,
    )


def _size(
    entry: Entry, claim: Claim, word: str, value: Measure, claims: Claims, fitted: dict[str, float]
) -> WeighedSize:
    found, over = size_claim(entry), claim.get("over")
    sized = found is not None and found[0] is claim and (claim.word != "chord" or word == "across")
    return _told(
        entry.name,
        word,
        value,
        made(entry, claim, value, claims),
        fitted.get(entry.name) if sized else None,
        int(over.value) if isinstance(over, Quantity) else 1,
    )
