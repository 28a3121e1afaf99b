"""All mirror answers of a set of clusters, built thing by thing.

Problem: two circles cross twice, so n things give up to 2^n layouts, and later readings or side words weed them out.
Choice: keep every partial layout that may still fit, in construction order.  As soon as nothing later can tell two of
them apart (no row or side word is pending for the things in which they differ), the difference is a finding: it is
noted on the layout that is kept, the other is dropped.  So a hundred independent pairs cost two hundred candidates.
Rejected: many random starts, which miss answers silently; full enumeration, which is exponential.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from msgspec import Struct
from msgspec.structs import replace

from .equations import Equation
from .loci import along, crossings, loci
from .plan import Plan
from .problem import Problem
from .rulers import line_guesses, line_places
from .settle import Polisher, fit, worst_miss
from .sides import AXES, SURE, met_by, spot
from .types import XY, Heading, LineGap, Side, Tangent, ToLine

MOST = 1024  # partial layouts held at once; beyond it the earliest choices are reported and taken
KEPT = 16
WIDE = 12
GUESSES = 64
MANY = 16
WINDOW = 24  # things fitted together while many rivals are compared
ROUGH_ROUNDS = 8
FITS = 3.0
SAME = 1e-5
NEAR_PAIRS = 8
LOOSE = 1.1  # where an open thing is shown: off every special direction, so that what would hold it can be scored


class Found(Struct, frozen=True):
    """An item that fits in several places: the layouts that show them, the kept one first."""

    item: int
    layouts: tuple[tuple[float, ...], ...]


class Branch(Struct, frozen=True):
    """A partial layout: positions, worst miss so far (in u), ambiguities noted, side words no answer met (with
    mm), and whether choices were taken early because there were too many."""

    at: tuple[float, ...]
    worst: float = 0.0
    found: tuple[Found, ...] = ()
    broken: tuple[tuple[Side, float], ...] = ()
    clipped: bool = False


class Builder:
    """Builds the layouts of a group of clusters (tied by side words) from a common start.

    Without `page_words`, left, right, above and below are not applied, and answers they could tell apart are all kept.
    """

    def __init__(
        self,
        problem: Problem,
        plans: Sequence[Plan],
        start: Sequence[float],
        placed: set[int],
        page_words: bool = True,
    ) -> None:
        self.problem, self.plans = problem, plans
        self.order = [item for plan in plans for item in plan.order]
        self.mine = set(self.order)
        self.placed = set(placed)
        self.branches = [Branch(tuple(start))]
        self.simultaneous = any(plan.simultaneous for plan in plans)
        self.frame = {item: eqs for plan in plans for item, eqs in plan.frame.items()}
        self.turning = {plan.turning for plan in plans}
        self.done: list[Equation] = []
        numbers = sorted({e for i in self.order for e in problem.touching[i]})
        self.pending = [problem.equations[e] for e in numbers]
        self.sides = [s for s in problem.sides if self._items(s) & self.mine]
        self.waiting = self._wait()
        self.put_off = [] if page_words else [s for s in self.sides if s.word in AXES]
        self.oriented = {i for i in self.order if i not in problem.things and self._is_oriented(i)}

    def _items(self, side: Side) -> set[int]:
        names = (side.a, side.b) if side.base is None else (side.a, side.b, side.base)
        return {self.problem.where[n] for n in names}

    def _wait(self) -> dict[int, int]:
        """Per item, how many rows and side words it still has to meet."""
        count = dict.fromkeys(self.order, 0)
        for eq in self.pending:
            for item in set(eq.members) & self.mine:
                count[item] += 1
        for side in self.sides:
            for item in self._items(side) & self.mine:
                count[item] += 1
        return count

    def _is_oriented(self, line: int) -> bool:
        """Whether some row cares which way the normal of a line points."""
        for e in self.problem.touching[line]:
            row = self.problem.equations[e].row
            if isinstance(row, Heading) or (isinstance(row, ToLine | Tangent) and row.side != 0):
                return True
            if isinstance(row, LineGap) and row.side != 0 and self.problem.where[row.other] == line:
                return True
        return False

    def run(self) -> list[Branch]:
        """Place everything; returns the one branch kept per way that nothing tells apart (one, unless all failed)."""
        for item in self.order:
            self._place(item)
        if not self.order:
            return self.branches
        self._merge(final=True)
        return self.branches

    def _ready(self, item: int) -> list[Equation]:
        return [self.problem.equations[e] for e in self.problem.touching[item]
                if all(m == item or m in self.placed for m in self.problem.equations[e].members)]  # fmt: skip

    def _place(self, item: int) -> None:
        rows, frame = self._ready(item), self.frame.get(item, [])
        grown = []
        for branch in self.branches:
            for place in self._places(item, rows, frame, branch.at):
                at = list(branch.at)
                at[2 * item : 2 * item + 2] = place
                grown.append(replace(branch, at=tuple(at), worst=max(branch.worst, worst_miss([*rows, *frame], at))))
        self.placed.add(item)
        self.done += [*rows, *frame]
        for eq in rows:
            for member in set(eq.members) & self.mine:
                self.waiting[member] -= 1
        self.branches = grown
        self._prune()
        self._sides(item)
        if len(self.branches) > 1:
            self._merge(final=False)

    def _places(self, item: int, rows: list[Equation], frame: list[Equation], at: Sequence[float]) -> list[XY]:
        eqs = [*rows, *frame]
        if item in self.problem.things:
            places = thing_places(self.problem, eqs, item, at, 12 if self.simultaneous else 1)
        else:
            places = line_places(eqs, item, at, self.problem.things)
            if not places:
                places = line_guesses(rows, item, at, self.problem.things, 12 if self.simultaneous else 1, LOOSE)
            places = self._line_forms(item, places)
        settled = []
        for place in self._forward(item, eqs, places, at):
            trial = list(at)
            trial[2 * item : 2 * item + 2] = place
            if (len(eqs) <= 2 or self._rough(eqs)) and worst_miss(eqs, trial) > 1e-7:
                trial = fit(eqs, trial, [item], 2 * ROUGH_ROUNDS if self.simultaneous else 40)
            settled.append((trial[2 * item], trial[2 * item + 1]))
        return _distinct(settled)

    def _forward(self, item: int, eqs: list[Equation], places: list[XY], at: Sequence[float]) -> list[XY]:
        """Without the places that lie opposite to a heading: its locus is half a line only."""
        headings = [eq for eq in eqs if isinstance(eq.row, Heading) or (eq.row is None and len(eq.members) == 2)]
        kept = []
        for place in places if headings else []:
            trial = list(at)
            trial[2 * item : 2 * item + 2] = place
            if all(abs(eq.measure(trial, 1)[0][0]) < math.pi / 2 for eq in headings):
                kept.append(place)
        return kept or places

    def _rough(self, eqs: list[Equation]) -> bool:
        """Whether a size that differs by direction plays in, so that loci were only near."""
        members = {m for eq in eqs for m in eq.members if m in self.problem.things}
        return any(self.problem.things[m].half_long or self.problem.things[m].half_wide for m in members)

    def _line_forms(self, item: int, places: list[XY]) -> list[XY]:
        """One form of each line (its normal may point either way) unless a row cares; one for a chosen direction."""
        if item in self.turning:
            ups = [p for p in places if p[1] >= -SURE]
            places = ups or places
        if item in self.oriented:
            return places
        return _distinct([canonical_line(*p) for p in places])

    def _prune(self) -> None:
        """Drop what is far off; where too many remain, fit them first."""
        if self.simultaneous:
            if len(self.branches) > GUESSES:
                step = len(self.branches) / GUESSES
                self.branches = [self.branches[int(k * step)] for k in range(GUESSES)]
            return
        best = min((b.worst for b in self.branches), default=0.0)
        self.branches = [b for b in self.branches if b.worst <= 30 + 10 * best]
        if len(self.branches) > WIDE and any(b.worst > FITS for b in self.branches):
            self.branches = self._fitting(self.branches, ROUGH_ROUNDS)
        if len(self.branches) > MOST:
            self._clip()

    def _clip(self) -> None:
        """Too many to hold: take the earliest choices now, and note them; later rows may rue it: none is blamed."""
        rivals = sorted(self.branches, key=self._rank)
        for item in self.order:
            groups = self._by_place(rivals, item) if item in self.placed else []
            if len(groups) > 1:
                note = Found(item, tuple(g[0].at for g in groups))
                rivals = [replace(b, found=(*b.found, note), clipped=True) for b in groups[0]]
            if len(rivals) <= KEPT:
                break
        self.branches = rivals

    def _by_place(self, rivals: Sequence[Branch], item: int) -> list[list[Branch]]:
        groups: list[list[Branch]] = []
        for b in rivals:
            home = next((g for g in groups if self._same(g[0], b, item)), None)
            if home is None:
                groups.append([b])
            else:
                home.append(b)
        return groups

    def _sides(self, item: int) -> None:
        """Apply the side words that have become answerable."""
        for side in self.sides:
            members = self._items(side)
            if item not in members or not members <= self.placed or side in self.put_off:
                continue
            for member in members & self.mine:
                self.waiting[member] -= 1
            kept = [b for b in self.branches if met_by(self.problem, b.at, side) > SURE]
            if kept:
                self.branches = kept
            else:
                self.branches = [
                    replace(b, broken=(*b.broken, (side, met_by(self.problem, b.at, side)))) for b in self.branches
                ]

    def _fitting(self, branches: list[Branch], rounds: int = 40, final: bool = False) -> list[Branch]:
        """Branches after least squares over all rows so far, without those that fit far worse than the best.

        Until the end only the things placed last are fitted in a large plane: rivals differ in them.
        """
        items, equations = [i for i in self.order if i in self.placed], self.done
        if len(items) > WINDOW and not final:
            items = items[-WINDOW:]
            inside = set(items)
            equations = [eq for eq in self.done if not inside.isdisjoint(eq.members)]
        fitted = []
        polisher = Polisher(self.problem, equations, items)
        for b in branches:
            if b.worst > 1e-7:
                at = polisher.polish(b.at, rounds, rounds == ROUGH_ROUNDS)
                b = replace(b, at=tuple(at), worst=worst_miss(equations, at))
            fitted.append(b)
        best = min(b.worst for b in fitted)
        return [b for b in fitted if b.worst <= max(FITS, (1.5 if rounds > ROUGH_ROUNDS else 2.5) * best)]

    def _rank(self, b: Branch) -> tuple[float, ...]:
        """Order of equal answers: nearest to the `roughly` places, then right before left, above before below."""
        places = [spot(self.problem, b.at, i) for i in self.order if i in self.placed]
        return (self._strayed(b), *(-round(v, 5) for p in places for v in p))

    def _strayed(self, b: Branch) -> float:
        total = 0.0
        for r in self.problem.roughly:
            i = self.problem.where[r.a]
            if i in self.placed and i in self.mine:
                total += math.hypot(b.at[2 * i] - r.at[0], b.at[2 * i + 1] - r.at[1])
        return round(total, 5)

    def _merge(self, final: bool) -> None:
        """Join branches that nothing pending can tell apart."""
        live = [i for i in self.order if i in self.placed and self.waiting[i] > 0] if self.put_off or not final else []
        if final and self.branches and max(b.worst for b in self.branches) > 1e-7:
            if len(self.branches) > MANY:
                self.branches = self._fitting(self.branches, ROUGH_ROUNDS, final)
            self.branches = self._fitting(self.branches, final=final)
        groups: dict[tuple[float, ...], list[Branch]] = {}
        for b in self.branches:
            groups.setdefault(tuple(round(v, 4) for i in live for v in b.at[2 * i : 2 * i + 2]), []).append(b)
        self.branches = [self._join(members) if len(members) > 1 else members[0] for members in groups.values()]

    def _join(self, members: list[Branch]) -> Branch:
        if max(b.worst for b in members) > 1.0:
            members = self._fitting(members)
        members = sorted(members, key=self._rank)
        nearest = self._strayed(members[0])
        rivals = [b for b in members if self._strayed(b) <= nearest + SURE] if self.problem.roughly else members
        kept, found = rivals[0], []
        for item in self.order:
            if item not in self.placed or len(rivals) == 1:
                continue
            groups = self._by_place(rivals, item)
            if len(groups) > 1:
                found.append(Found(item, tuple(g[0].at for g in groups)))
                rivals = groups[0]
        return replace(kept, found=(*kept.found, *found))

    def _same(self, a: Branch, b: Branch, item: int) -> bool:
        p, q = spot(self.problem, a.at, item), spot(self.problem, b.at, item)
        near = math.hypot(p[0] - q[0], p[1] - q[1]) < SAME
        return near and (item in self.problem.things or abs(math.sin(a.at[2 * item] - b.at[2 * item])) < SAME)


def canonical_line(angle: float, offset: float) -> XY:
    """The form of a line whose normal lies within (-45, 135] degrees: up for a level line, right for an upright one."""
    turned = math.remainder(angle - math.pi / 4, math.pi)
    if turned <= -math.pi / 2 + 1e-9:
        turned += math.pi
    turned += math.pi / 4
    return (turned, offset) if math.cos(turned - angle) > 0 else (turned, -offset)


def _distinct(places: list[XY]) -> list[XY]:
    kept: list[XY] = []
    for x, y in places:
        if not any(abs(x - p) < SAME and abs(y - q) < SAME for p, q in kept):
            kept.append((x, y))
    return kept


def thing_places(
    problem: Problem, eqs: Sequence[Equation], item: int, at: Sequence[float], guesses: int
) -> list[XY]:
    """Candidate centres of thing `item` from the equations whose other members are placed."""
    alternatives = [found for eq in eqs if (found := loci(eq, item, at, problem.things))]
    best: list[XY] = []
    quality = -0.5
    for k, first in enumerate(alternatives[:NEAR_PAIRS]):
        for second in alternatives[k + 1 : NEAR_PAIRS]:
            crossed = [crossings(a, b) for a in first for b in second]
            places = [p for found, _ in crossed for p in found]
            score = max((q for _, q in crossed), default=-1.0)
            if places and score > quality + 1e-9:
                best, quality = places, score
    if best:
        return best
    if alternatives:
        return [p for locus in alternatives[0] for p in along(locus, guesses, problem.lever, LOOSE)]
    if guesses == 1:
        return [(0.37 * problem.lever, 0.23 * problem.lever)]
    reach = problem.lever / 2
    return [(reach * a, reach * b) for a in (0, 1, -1) for b in (0, 1, -1)]
