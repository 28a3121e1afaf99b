"""Every reading weighed for the writer: what checks it, what rests on it, what would hold a thing better.

The mathematics is `adjust`; here its rows get the writer's names back.  Only `readings` and `report` ask for
this: an ordinary compile places things without it."""

from __future__ import annotations

import math
from collections.abc import Iterator

from ..facts import Claims
from ..facts.kind_questions import is_hole
from ..facts.listed_sizes import ListedSize, listed_sizes
from ..facts.placing import Around, At
from ..facts.placing_reader import PlacingFacts
from ..network.adjust import adjust
from ..network.adjustment_types import Derived, Leverage
from ..network.chances import BAARDA, COVER
from ..network.fit_tests import EXACT_U
from ..network.hypotheses import usual_alternatives
from ..network.suspects import verdicts
from ..network.types import Coordinate, Distance, Heading, LineAngle, ReadEdge, ReadingRow
from ..quantities import Quantity
from .judging import MOST_JUDGED, typed_numbers
from .layout import Layout, PlaneReadings
from .reading_weights import (
    ReadingShare,
    Spacing,
    Weighed,
    WeighedPlace,
    WeighedPlane,
    WeighedReading,
    WeighedSize,
)
from .second_looks import doubles, rounds, weak

MOST_SOURCES = 3
ALL_PAIRS = 6  # holes up to which every spacing is told; beyond, each hole's nearest
# things up to which it is worked out what each place owes to which reading; past it no eye reads that
DETAILED = 200


def weigh(claims: Claims, layout: Layout) -> Weighed:
    """All readings of a recipe weighed, plane by plane as they were placed, and all sizes by name."""
    fitted: dict[str, float] = {}
    pages = tuple(_Plane(claims, layout.facts, one, fitted).weighed() for one in layout.readings)
    pages = tuple(page for page in pages if page.readings or page.skipped)
    return Weighed(pages, tuple(_size(one, fitted) for one in listed_sizes(claims)))


def _size(one: ListedSize, fitted: dict[str, float]) -> WeighedSize:
    return WeighedSize(
        one.name,
        one.word,
        one.made.value,
        None if one.read is None else one.read.value,
        0.0 if one.read is None else COVER * one.read.u,
        one.made.standing,
        fitted.get(one.name) if one.leant_on else None,
        one.over,
    )


class _Plane:
    """One plane at work."""

    def __init__(
        self, claims: Claims, facts: PlacingFacts, page: PlaneReadings, fitted: dict[str, float]
    ) -> None:
        self.claims, self.page, self.net, self.fitted = claims, page, page.network, fitted
        self.keys, self.facts = page.keys, facts
        self.detailed = len(page.network.things) <= DETAILED

    def weighed(self) -> WeighedPlane:
        if len(self.net.things) + len(self.net.lines) > MOST_JUDGED:
            return WeighedPlane(self.page.plane, skipped=True)
        work = self.work = adjust(self.net)
        bad = [one for one in work.tests if not one.fits]
        if not bad:
            self.fitted.update({name: size.diameter for name, size in work.sizes.items()})
        suspects = self._suspects() if bad else frozenset()
        readings = tuple(self._readings(suspects))
        spacings = tuple(self._spacings())
        return WeighedPlane(
            self.page.plane,
            readings,
            tuple(self._places()),
            spacings,
            tuple(doubles(self.claims, self.page)),
            tuple(weak(self.claims, work, self._readings(frozenset()))),
            tuple(rounds(self.page, work, spacings)),
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
        placing = self.facts.of.get(name)
        around = placing.one(Around) if placing is not None else None
        return name if around is None else around.thing.name

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
                self._way(one.key, row),
            )

    def _way(self, key: int, row: ReadingRow | None) -> str:
        """Which of the two distances of `at X, Y` a row is of; '' for all else."""
        if not isinstance(self.page.facts.get(key), At) or not isinstance(row, Coordinate):
            return ""
        return "across" if row.angle == 0.0 else "up"

    def _definition(self, key: int, exact: bool) -> bool:
        """True for a row that is no reading: on, level, midway (a place that is `wanted` is shown)."""
        return exact and not any(isinstance(value, Quantity) for _, value in self.keys[key][1].values)

    def _sources(self, derived: Derived) -> tuple[ReadingShare, ...]:
        found = []
        for one in derived.shares:
            if one.key in self.keys and one.share >= 0.05:
                entry, claim = self.keys[one.key]
                found.append(ReadingShare(entry.name, claim.text, one.share))
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
            if name in self.claims.entries and is_hole(self.claims.entries[name]) and not self._boxed(name)
        ]
        for a, b in _neighbours({name: work.things[name].at for name in holes}):
            apart, wall = work.between(a, b), work.between(a, b, ReadEdge.NEAR, ReadEdge.NEAR)
            if apart.value > 1e-6 and math.isfinite(apart.u):
                yield Spacing(
                    a, b, apart.value, apart.expanded, wall.value, wall.expanded, self._sources(apart)
                )

    def _boxed(self, name: str) -> bool:
        thing = self.work.problem.things[self.work.problem.where[name]]
        return thing.half_wide > 0 or thing.half_long > 0


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
