"""All mirror answers of a set of clusters, built thing by thing.

Problem: two circles cross twice, so n things give up to 2^n layouts, and later readings or side words weed
them out. Choice: keep every partial layout that may still fit, in construction order.  As soon as nothing
later can tell two of them apart (no row or side word is pending for the things in which they differ), the
difference is a finding: it is noted on the layout that is kept, the other is dropped.  So a hundred
independent pairs cost two hundred candidates. Rejected: many random starts, which miss answers silently; full
enumeration, which is exponential."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence

from msgspec.structs import replace

from ..quantities.vectors import XY
from .candidate_lines import line_guesses, line_places
from .candidate_places import LOOSE, forward, thing_places
from .equations import Equation, standing_in
from .least_squares import Polisher, fit, worst_miss
from .looseness import held_together
from .partial import (
    SAME,
    Ambiguity,
    Branch,
    by_place,
    canonical_line,
    distinct,
    is_oriented,
    same_place,
    some,
    split,
    unlike,
)
from .plan import Plan, made_up
from .problem import Problem
from .sides import AXES, SURE, met_by, spot
from .types import SideWord

MOST = 1024  # partial layouts held at once; beyond it the earliest choices are reported and taken
SEARCHED = 24  # items up to which that many are held; of larger groups BEAM
BEAM = 64
KEPT = 16
PATIENCE = (
    1000  # fits of one layout in all, after which hardly any rivals are held (FEWEST: at once, after a clip)
)
FEWEST = (6, 2)
WIDE = 12
GUESSES = 64
MANY = 16
# things fitted together while many rivals are compared; of more, it is only counted whether rows hold them
WINDOW = 24
ROUGH_ROUNDS = 8
FITS = 3.0


class BranchBuilder:
    """Builds the layouts of a group of clusters (tied by side words) from a common start, which it takes
    over.

    Without `page_words`, left, right, above and below are not applied, and answers they could tell apart are
    all kept."""

    def __init__(
        self, problem: Problem, plans: Sequence[Plan], start: list[float], page_words: bool = True
    ) -> None:
        self.problem, self.plans = problem, plans
        self.order = [item for plan in plans for item in plan.order]
        self.number = {item: n for n, item in enumerate(self.order)}
        self.count = 0
        self.branches = [Branch(start)]
        self.simultaneous = any(plan.simultaneous for plan in plans)
        self.rows = {item: rows for plan in plans for item, rows in plan.rows.items()}
        self.lent = {item: eqs for plan in plans for item, eqs in plan.lent.items()}
        self.frame = {item: eqs for plan in plans for item, eqs in plan.frame.items()}
        self.turning = {plan.turning for plan in plans}
        self.done: list[Equation] = []
        self.owed: list[SideWord] = []
        self.guessed: tuple[int, int] | None = None
        self.sides = [s for s in problem.sides if self._mine(s)] if problem.sides else []
        self.waiting = self._wait()
        self.live: dict[int, None] = {}
        self.put_off = [] if page_words else [s for s in self.sides if s.word in AXES]
        self.oriented = {i for i in self.order if i not in problem.things and is_oriented(problem, i)}
        self.most = MOST if len(self.order) <= SEARCHED else BEAM
        self.kept = KEPT
        self.again = WINDOW
        self.patience = PATIENCE

    def _mine(self, side: SideWord) -> set[int]:
        """Items of this group that a side word speaks of."""
        names = (side.a, side.b) if side.base is None else (side.a, side.b, side.base)
        return {i for i in (self.problem.where[n] for n in names) if i in self.number}

    def _wait(self) -> dict[int, int]:
        """Per item, how many rows and side words it still has to meet."""
        count = {item: len(self.problem.touching[item]) for item in self.order}
        for side in self.sides:
            for item in self._mine(side):
                count[item] += 1
        return count

    def _met(self, items: Iterable[int]) -> None:
        for item in items:
            if item in self.waiting:
                self.waiting[item] -= 1
                if not self.waiting[item]:
                    self.live.pop(item, None)

    def run(self) -> list[Branch]:
        """Place everything; returns the one branch kept per way that nothing tells apart (one, unless all
        failed).
        """
        for item in self.order:
            self._place(item)
        if not self.order:
            return self.branches
        self._settle()
        self._merge(final=True)
        return self.branches

    def _place(self, item: int) -> None:
        rows, frame = self.rows[item], self.frame.get(item, [])
        grown = []
        for branch in self.branches:
            places = self._places(item, rows, frame, branch.at)
            for n, (place, worst) in enumerate(places):
                last = n == len(places) - 1
                at = branch.at if last else list(branch.at)
                at[2 * item : 2 * item + 2] = place
                grown.append(
                    Branch(at, max(branch.worst, worst), branch.found, branch.broken, branch.clipped)
                )
        self.count += 1
        if self.waiting[item]:
            self.live[item] = None
        if (
            self.simultaneous
            and self.guessed is None
            and not self._held(self.count - 1, len(self.done), [*rows, *frame])
        ):
            self.guessed = self.count - 1, len(self.done)
        self.done += [*rows, *frame]
        for eq in rows:
            self._met(set(eq.members))
        self.branches = grown
        self._prune()
        if self.guessed is not None and self._held(*self.guessed, []):
            self._settle()
        self._sides(item)
        if len(self.branches) > 1 and self.count < len(self.order):
            self._merge(final=False)

    def _places(
        self, item: int, rows: list[Equation], frame: list[Equation], at: list[float]
    ) -> list[tuple[XY, float]]:
        """Where an item may lie, with the worst miss there; what stands in `at` for it is overwritten."""
        eqs = [*rows, *frame] if frame else rows
        lent = self.lent.get(item, [])
        if item in self.problem.things:
            places = thing_places(self.problem, eqs, item, at, 12 if self.simultaneous else 1, lent)
            eqs = [*eqs, *(standing_in(eq, of, item) for eq, of in lent)] if lent else eqs
        else:
            places = line_places(eqs, item, at, self.problem.things)
            if not places:
                places = line_guesses(
                    rows, item, at, self.problem.things, 12 if self.simultaneous else 1, LOOSE
                )
            places = self._line_forms(item, places)
        settled: list[tuple[XY, float]] = []
        for place in forward(item, eqs, places, at):
            at[2 * item : 2 * item + 2] = place
            worst = worst_miss(eqs, at)
            if worst > 1e-7 and (len(eqs) <= 2 or self._rough(eqs)):
                trial = fit(eqs, at, [item], 2 * ROUGH_ROUNDS if self.simultaneous else 40)
                place, worst = (trial[2 * item], trial[2 * item + 1]), worst_miss(eqs, trial)
            if not any(abs(place[0] - p) < SAME and abs(place[1] - q) < SAME for (p, q), _ in settled):
                settled.append((place, worst))
        return settled

    def _rough(self, eqs: list[Equation]) -> bool:
        """Whether a size that differs by direction plays in, so that loci were only near."""
        members = {m for eq in eqs for m in eq.members if m in self.problem.things}
        return any(self.problem.things[m].half_long or self.problem.things[m].half_wide for m in members)

    def _line_forms(self, item: int, places: list[XY]) -> list[XY]:
        """One form of each line (its normal may point either way) unless a row cares; one for a chosen
        direction.
        """
        if item in self.turning:
            ups = [p for p in places if p[1] >= -SURE]
            places = ups or places
        if item in self.oriented:
            return places
        return distinct([canonical_line(*p) for p in places])

    def _prune(self) -> None:
        """Drop what is far off; where too many remain, or a large layout has strayed, fit first."""
        if self.simultaneous:
            if len(self.branches) > GUESSES:
                met = [
                    b
                    for b in self.branches
                    if all(met_by(self.problem, b.at, side) > SURE for side in self.owed)
                ]
                kept = some(met, GUESSES)
                if len(kept) < GUESSES:
                    kept += some(
                        [b for b in self.branches if not any(b is k for k in kept)], GUESSES - len(kept)
                    )
                self.branches = kept
            return
        best = min((b.worst for b in self.branches), default=0.0)
        self.branches = [b for b in self.branches if b.worst <= 30 + (10 if self.most == MOST else 2) * best]
        if (
            self.count >= self.again
            and 1 < len(self.branches) <= WIDE
            and any(b.worst > FITS for b in self.branches)
        ):
            self.again = 2 * self.count
            self.branches = self._unlike(self._fitting(self.branches, ROUGH_ROUNDS, final=True))
        elif len(self.branches) > WIDE and any(b.worst > FITS for b in self.branches):
            self.branches = self._fitting(self.branches, ROUGH_ROUNDS)
        if self.patience < 0:
            self.most, self.kept = FEWEST
        if len(self.branches) > self.most:
            self._clip()

    def _unlike(self, branches: list[Branch]) -> list[Branch]:
        """Of fitted branches that differ by less than any reading could tell, the first."""
        near = 0.1 * min((min(eq.us) for eq in self.done if eq.row is not None), default=0.0)
        return unlike(branches, list(self.live), near)

    def _clip(self) -> None:
        """Too many to hold: take the earliest choices now, and note them.  No row is blamed then: a later one
        may only miss because of these choices.
        """
        rivals = sorted(self.branches, key=self._rank)
        for item in self.order[: self.count]:
            groups = by_place(self.problem, rivals, item)
            if len(groups) > 1:
                note = Ambiguity(item, tuple(tuple(g[0].at) for g in groups))
                rivals = [replace(b, found=(*b.found, note), clipped=True) for b in groups[0]]
            if len(rivals) <= self.kept:
                break
        self.branches = rivals

    def _sides(self, item: int) -> None:
        """Apply the side words that have become answerable; while places are only guessed they are owed."""
        for side in self.sides:
            members = self._mine(side)
            if (
                item not in members
                or any(self.number[m] >= self.count for m in members)
                or side in self.put_off
            ):
                continue
            if self.guessed is not None:
                self.owed.append(side)
            else:
                self._apply(side)

    def _apply(self, side: SideWord) -> None:
        self._met(self._mine(side))
        kept = [b for b in self.branches if met_by(self.problem, b.at, side) > SURE]
        if kept:
            self.branches = kept
        else:
            self.branches = [
                replace(b, broken=(*b.broken, (side, met_by(self.problem, b.at, side))))
                for b in self.branches
            ]

    def _held(self, first: int, row: int, more: list[Equation]) -> bool:
        """Whether the items from number `first` on are held by the equations from number `row` on and by
        `more`.
        """
        items = self.order[first : self.count]
        equations = [*self.done[row:], *more]
        if sum(len(eq.us) for eq in equations) < 2 * len(items):
            return False
        return len(items) > WINDOW or held_together(self.problem, equations, made_up(self.problem), items)

    def _settle(self) -> None:
        """As soon as what is placed is held: guesses come to rest, and are then judged by the side words
        owed.
        """
        if self.guessed is None:
            return
        (first, row), self.guessed = self.guessed, None
        polisher = Polisher(self.problem, self.done[row:], self.order[first : self.count])
        rested = [polisher.polish(b.at) if b.worst > 1e-7 else b.at for b in self.branches]
        fitted = [
            replace(b, at=at, worst=worst_miss(self.done, at))
            for b, at in zip(self.branches, rested, strict=True)
        ]
        best = min((b.worst for b in fitted), default=0.0)
        kept: list[Branch] = []
        for b in fitted:
            if b.worst <= max(FITS, 1.5 * best) and not any(
                all(same_place(self.problem, a, b, i) for i in self.order[: self.count]) for a in kept
            ):
                kept.append(b)
        self.branches = kept
        owed, self.owed = self.owed, []
        for side in owed:
            self._apply(side)

    def _fitting(self, branches: list[Branch], rounds: int = 40, final: bool = False) -> list[Branch]:
        """Branches after least squares over all rows so far, without those that fit far worse than the best.

        Until the end only the things placed last are fitted in a large plane: rivals differ in them.
        """
        items, equations = self.order[: self.count], self.done
        if len(items) > WINDOW and not final:
            items = items[-WINDOW:]
            equations = list({id(eq): eq for i in items for eq in self._placed_rows(i)}.values())
        fitted = []
        self.patience -= len(branches)
        polisher = Polisher(self.problem, equations, items)
        for b in branches:
            if b.worst > 1e-7:
                at = polisher.polish(b.at, rounds, rounds == ROUGH_ROUNDS)
                b = replace(b, at=at, worst=worst_miss(equations, at))
            fitted.append(b)
        best = min(b.worst for b in fitted)
        return [b for b in fitted if b.worst <= max(FITS, (1.5 if rounds > ROUGH_ROUNDS else 2.5) * best)]

    def _placed_rows(self, item: int) -> list[Equation]:
        """Rows and frame choices of an item whose members are all placed."""
        eqs = [self.problem.equations[e] for e in self.problem.touching[item]]
        return [
            eq for eq in eqs if all(self.number.get(m, -1) < self.count for m in eq.members)
        ] + self.frame.get(item, [])

    def _rank(self, b: Branch) -> tuple[float, ...]:
        """Order of equal answers: nearest to the `roughly` places, then right before left, above before
        below.
        """
        places = [spot(self.problem, b.at, i) for i in self.order[: self.count]]
        return (self._strayed(b), *(-round(v, 5) for p in places for v in p))

    def _strayed(self, b: Branch) -> float:
        total = 0.0
        for r in self.problem.roughly:
            i = self.problem.where[r.a]
            if self.number.get(i, self.count) < self.count:
                total += math.hypot(b.at[2 * i] - r.at[0], b.at[2 * i + 1] - r.at[1])
        return round(total, 5)

    def _merge(self, final: bool) -> None:
        """Join branches that nothing pending can tell apart."""
        live = list(self.live) if self.put_off or not final else []
        if final and self.branches and max(b.worst for b in self.branches) > 1e-7:
            if len(self.branches) > MANY:
                self.branches = self._fitting(self.branches, ROUGH_ROUNDS, final)
            self.branches = self._nearest() or self._fitting(self.branches, final=final)
        groups = [self.branches]
        for item in reversed(live):
            if all(len(g) == 1 for g in groups):
                return
            groups = [part for g in groups for part in (split(g, item) if len(g) > 1 else [g])]
        self.branches = [self._join(members) if len(members) > 1 else members[0] for members in groups]

    def _nearest(self) -> list[Branch]:
        """Fitted answers near the `roughly` places, where one fits: the far ones need no fit then.  Else
        nothing.
        """
        if not self.problem.roughly or self.put_off or len(self.branches) < 2:
            return []
        strayed = [self._strayed(b) for b in self.branches]
        near = [b for b, far in zip(self.branches, strayed, strict=True) if far <= 1.1 * min(strayed) + 1.0]
        fitted = self._fitting(near, final=True) if len(near) < len(strayed) else []
        return fitted if fitted and min(b.worst for b in fitted) <= FITS else []

    def _join(self, members: list[Branch]) -> Branch:
        # guessed starts that have not yet come to rest are no answers
        if max(b.worst for b in members) > (1e-7 if self.simultaneous else 1.0):
            members = self._fitting(members, 40 if self.most == MOST else ROUGH_ROUNDS)
        members = sorted(members, key=self._rank)
        nearest = self._strayed(members[0])
        rivals = (
            [b for b in members if self._strayed(b) <= nearest + SURE] if self.problem.roughly else members
        )
        kept, found = rivals[0], []
        for item in self.order[: self.count]:
            if len(rivals) == 1:
                break
            groups = by_place(self.problem, rivals, item)
            if len(groups) > 1:
                found.append(Ambiguity(item, tuple(tuple(g[0].at) for g in groups)))
                rivals = groups[0]
        return replace(kept, found=(*kept.found, *found))
