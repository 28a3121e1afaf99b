"""Partial layouts of one group compared: fitted, ranked, joined where nothing pending can tell them apart."""

from __future__ import annotations

import math

from msgspec.structs import replace

from .branch_places import ROUGH_ROUNDS
from .equations import Equation
from .group import Progress
from .least_squares import Polisher, worst_miss
from .partial import Ambiguity, Branch, by_place, unlike
from .sides import SURE, spot

# things fitted together while many rivals are compared; of more, it is only counted whether rows hold them
WINDOW = 24
FITS = 3.0


class Rivals:
    """The comparisons of rivals at the present state of building."""

    def __init__(self, progress: Progress) -> None:
        self.group, self.progress = progress.group, progress

    def fitting(self, branches: list[Branch], rounds: int = 40, final: bool = False) -> list[Branch]:
        """Branches after least squares over all rows so far, without those that fit far worse than the best.

        Until the end only the things placed last are fitted in a large plane: rivals differ in them.
        """
        items, equations = self.progress.placed, self.progress.done
        if len(items) > WINDOW and not final:
            items = items[-WINDOW:]
            equations = list({id(eq): eq for i in items for eq in self._placed_rows(i)}.values())
        fitted = []
        self.progress.patience -= len(branches)
        polisher = Polisher(self.group.problem, equations, items)
        for b in branches:
            if b.worst > 1e-7:
                at = polisher.polish(b.at, rounds, rounds == ROUGH_ROUNDS)
                b = replace(b, at=at, worst=worst_miss(equations, at))
            fitted.append(b)
        best = min(b.worst for b in fitted)
        return [b for b in fitted if b.worst <= max(FITS, (1.5 if rounds > ROUGH_ROUNDS else 2.5) * best)]

    def _placed_rows(self, item: int) -> list[Equation]:
        """Rows and frame choices of an item whose members are all placed."""
        eqs = [self.group.problem.equations[e] for e in self.group.problem.touching[item]]
        return [
            eq for eq in eqs if all(self.group.number.get(m, -1) < self.progress.count for m in eq.members)
        ] + self.group.frame.get(item, [])

    def unlike(self, branches: list[Branch]) -> list[Branch]:
        """Of fitted branches that differ by less than any reading could tell, the first."""
        near = 0.1 * min((min(eq.us) for eq in self.progress.done if eq.row is not None), default=0.0)
        return unlike(branches, list(self.progress.pending.live), near)

    def clip(self, branches: list[Branch]) -> list[Branch]:
        """Too many to hold: take the earliest choices now, and note them.  No row is blamed then: a later one
        may only miss because of these choices.
        """
        rivals = sorted(branches, key=self._rank)
        for item in self.progress.placed:
            groups = by_place(self.group.problem, rivals, item)
            if len(groups) > 1:
                note = Ambiguity(item, tuple(tuple(g[0].at) for g in groups))
                rivals = [replace(b, found=(*b.found, note), clipped=True) for b in groups[0]]
            if len(rivals) <= self.progress.kept:
                break
        return rivals

    def _rank(self, b: Branch) -> tuple[float, ...]:
        """Order of equal answers: nearest to the `roughly` places, then right before left, above before
        below.
        """
        places = [spot(self.group.problem, b.at, i) for i in self.progress.placed]
        return (self._strayed(b), *(-round(v, 5) for p in places for v in p))

    def _strayed(self, b: Branch) -> float:
        total = 0.0
        for r in self.group.problem.roughly:
            i = self.group.problem.where[r.a]
            if self.group.number.get(i, self.progress.count) < self.progress.count:
                total += math.hypot(b.at[2 * i] - r.at[0], b.at[2 * i + 1] - r.at[1])
        return round(total, 5)

    def nearest(self, branches: list[Branch]) -> list[Branch]:
        """Fitted answers near the `roughly` places, where one fits: the far ones need no fit then.  Else
        nothing.
        """
        if not self.group.problem.roughly or self.group.put_off or len(branches) < 2:
            return []
        strayed = [self._strayed(b) for b in branches]
        near = [b for b, far in zip(branches, strayed, strict=True) if far <= 1.1 * min(strayed) + 1.0]
        fitted = self.fitting(near, final=True) if len(near) < len(strayed) else []
        return fitted if fitted and min(b.worst for b in fitted) <= FITS else []

    def join(self, members: list[Branch]) -> Branch:
        """One of several that nothing pending can tell apart, with what they differ in noted on it."""
        # guessed starts that have not yet come to rest are no answers
        if max(b.worst for b in members) > (1e-7 if self.group.simultaneous else 1.0):
            members = self.fitting(members, 40 if self.progress.searched else ROUGH_ROUNDS)
        members = sorted(members, key=self._rank)
        nearest = self._strayed(members[0])
        rivals = (
            [b for b in members if self._strayed(b) <= nearest + SURE]
            if self.group.problem.roughly
            else members
        )
        kept, found = rivals[0], []
        for item in self.progress.placed:
            if len(rivals) == 1:
                break
            groups = by_place(self.group.problem, rivals, item)
            if len(groups) > 1:
                found.append(Ambiguity(item, tuple(tuple(g[0].at) for g in groups)))
                rivals = groups[0]
        return replace(kept, found=(*kept.found, *found))
