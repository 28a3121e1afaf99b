"""All mirror answers of a set of clusters, built thing by thing.

Problem: two circles cross twice, so n things give up to 2^n layouts, and later readings or side words weed
them out. Choice: keep every partial layout that may still fit, in construction order.  As soon as nothing
later can tell two of them apart (no row or side word is pending for the things in which they differ), the
difference is a finding: it is noted on the layout that is kept, the other is dropped.  So a hundred
independent pairs cost two hundred candidates. Rejected: many random starts, which miss answers silently; full
enumeration, which is exponential."""

from __future__ import annotations

from collections.abc import Sequence

from msgspec.structs import replace

from .branch_places import ROUGH_ROUNDS, places_in
from .equations import Equation
from .group import group_of, progress_of
from .least_squares import Polisher, worst_miss
from .looseness import held_together
from .partial import Branch, same_place, some, split
from .plan import Plan, made_up
from .problem import Problem
from .rivals import FITS, WINDOW, Rivals
from .sides import SURE, met_by
from .types import SideWord

WIDE = 12
GUESSES = 64
MANY = 16


class BranchBuilder:
    """Builds the layouts of a group of clusters (tied by side words) from a common start, which it takes
    over.

    Without `page_words`, left, right, above and below are not applied, and answers they could tell apart are
    all kept."""

    def __init__(
        self, problem: Problem, plans: Sequence[Plan], start: list[float], page_words: bool = True
    ) -> None:
        self.group = group_of(problem, plans, page_words)
        self.progress = progress_of(self.group)
        self.rivals = Rivals(self.progress)
        self.branches = [Branch(start)]
        self.owed: list[SideWord] = []
        self.guessed: tuple[int, int] | None = None
        self.again = WINDOW

    def run(self) -> list[Branch]:
        """Place everything; returns the one branch kept per way that nothing tells apart (one, unless all
        failed).
        """
        for item in self.group.order:
            self._place(item)
        if not self.group.order:
            return self.branches
        self._settle()
        self._merge(final=True)
        return self.branches

    def _place(self, item: int) -> None:
        rows, frame = self.group.rows[item], self.group.frame.get(item, [])
        grown = []
        for branch in self.branches:
            places = places_in(self.group, item, branch.at)
            for n, (place, worst) in enumerate(places):
                last = n == len(places) - 1
                at = branch.at if last else list(branch.at)
                at[2 * item : 2 * item + 2] = place
                grown.append(
                    Branch(at, max(branch.worst, worst), branch.found, branch.broken, branch.clipped)
                )
        self.progress.count += 1
        self.progress.pending.placed(item)
        if (
            self.group.simultaneous
            and self.guessed is None
            and not self._held(self.progress.count - 1, len(self.progress.done), [*rows, *frame])
        ):
            self.guessed = self.progress.count - 1, len(self.progress.done)
        self.progress.done += [*rows, *frame]
        for eq in rows:
            self.progress.pending.met(set(eq.members))
        self.branches = grown
        self._prune()
        if self.guessed is not None and self._held(*self.guessed, []):
            self._settle()
        self._sides(item)
        if len(self.branches) > 1 and self.progress.count < len(self.group.order):
            self._merge(final=False)

    def _prune(self) -> None:
        """Drop what is far off; where too many remain, or a large layout has strayed, fit first."""
        if self.group.simultaneous:
            if len(self.branches) > GUESSES:
                met = [
                    b
                    for b in self.branches
                    if all(met_by(self.group.problem, b.at, side) > SURE for side in self.owed)
                ]
                kept = some(met, GUESSES)
                if len(kept) < GUESSES:
                    kept += some(
                        [b for b in self.branches if not any(b is k for k in kept)], GUESSES - len(kept)
                    )
                self.branches = kept
            return
        best = min((b.worst for b in self.branches), default=0.0)
        self.branches = [
            b for b in self.branches if b.worst <= 30 + (10 if self.progress.searched else 2) * best
        ]
        if (
            self.progress.count >= self.again
            and 1 < len(self.branches) <= WIDE
            and any(b.worst > FITS for b in self.branches)
        ):
            self.again = 2 * self.progress.count
            self.branches = self.rivals.unlike(self.rivals.fitting(self.branches, ROUGH_ROUNDS, final=True))
        elif len(self.branches) > WIDE and any(b.worst > FITS for b in self.branches):
            self.branches = self.rivals.fitting(self.branches, ROUGH_ROUNDS)
        self.progress.tire()
        if len(self.branches) > self.progress.most:
            self.branches = self.rivals.clip(self.branches)

    def _sides(self, item: int) -> None:
        """Apply the side words that have become answerable; while places are only guessed they are owed."""
        for side in self.group.sides:
            members = self.group.spoken_of(side)
            if (
                item not in members
                or any(self.group.number[m] >= self.progress.count for m in members)
                or side in self.group.put_off
            ):
                continue
            if self.guessed is not None:
                self.owed.append(side)
            else:
                self._apply(side)

    def _apply(self, side: SideWord) -> None:
        self.progress.pending.met(self.group.spoken_of(side))
        kept = [b for b in self.branches if met_by(self.group.problem, b.at, side) > SURE]
        if kept:
            self.branches = kept
        else:
            self.branches = [
                replace(b, broken=(*b.broken, (side, met_by(self.group.problem, b.at, side))))
                for b in self.branches
            ]

    def _held(self, first: int, row: int, more: list[Equation]) -> bool:
        """Whether the items from number `first` on are held by the equations from number `row` on and by
        `more`.
        """
        items = self.group.order[first : self.progress.count]
        equations = [*self.progress.done[row:], *more]
        if sum(len(eq.us) for eq in equations) < 2 * len(items):
            return False
        return len(items) > WINDOW or held_together(
            self.group.problem, equations, made_up(self.group.problem), items
        )

    def _settle(self) -> None:
        """As soon as what is placed is held: guesses come to rest, and are then judged by the side words
        owed.
        """
        if self.guessed is None:
            return
        (first, row), self.guessed = self.guessed, None
        polisher = Polisher(
            self.group.problem, self.progress.done[row:], self.group.order[first : self.progress.count]
        )
        rested = [polisher.polish(b.at) if b.worst > 1e-7 else b.at for b in self.branches]
        fitted = [
            replace(b, at=at, worst=worst_miss(self.progress.done, at))
            for b, at in zip(self.branches, rested, strict=True)
        ]
        best = min((b.worst for b in fitted), default=0.0)
        kept: list[Branch] = []
        for b in fitted:
            if b.worst <= max(FITS, 1.5 * best) and not any(
                all(same_place(self.group.problem, a, b, i) for i in self.progress.placed) for a in kept
            ):
                kept.append(b)
        self.branches = kept
        owed, self.owed = self.owed, []
        for side in owed:
            self._apply(side)

    def _merge(self, final: bool) -> None:
        """Join branches that nothing pending can tell apart."""
        live = list(self.progress.pending.live) if self.group.put_off or not final else []
        if final and self.branches and max(b.worst for b in self.branches) > 1e-7:
            if len(self.branches) > MANY:
                self.branches = self.rivals.fitting(self.branches, ROUGH_ROUNDS, final)
            self.branches = self.rivals.nearest(self.branches) or self.rivals.fitting(
                self.branches, final=final
            )
        groups = [self.branches]
        for item in reversed(live):
            if all(len(g) == 1 for g in groups):
                return
            groups = [part for g in groups for part in (split(g, item) if len(g) > 1 else [g])]
        self.branches = [self.rivals.join(members) if len(members) > 1 else members[0] for members in groups]
