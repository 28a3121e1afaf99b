"""Where one item may lie in a partial layout."""

from __future__ import annotations

from ..quantities.vectors import XY
from .candidate_lines import line_guesses, line_places
from .candidate_places import LOOSE, forward, thing_places
from .equations import Equation, standing_in
from .group import Group
from .least_squares import fit, worst_miss
from .partial import SAME, canonical_line, distinct
from .sides import SURE

ROUGH_ROUNDS = 8


def places_in(group: Group, item: int, at: list[float]) -> list[tuple[XY, float]]:
    """Where an item may lie, with the worst miss there; what stands in `at` for it is overwritten."""
    rows, frame = group.rows[item], group.frame.get(item, [])
    eqs = [*rows, *frame] if frame else rows
    lent = group.lent.get(item, [])
    if item in group.problem.things:
        places = thing_places(group.problem, eqs, item, at, 12 if group.simultaneous else 1, lent)
        eqs = [*eqs, *(standing_in(eq, of, item) for eq, of in lent)] if lent else eqs
    else:
        places = line_places(eqs, item, at, group.problem.things)
        if not places:
            places = line_guesses(
                rows, item, at, group.problem.things, 12 if group.simultaneous else 1, LOOSE
            )
        places = _line_forms(group, item, places)
    settled: list[tuple[XY, float]] = []
    for place in forward(item, eqs, places, at):
        at[2 * item : 2 * item + 2] = place
        worst = worst_miss(eqs, at)
        if worst > 1e-7 and (len(eqs) <= 2 or _rough(group, eqs)):
            trial = fit(eqs, at, [item], 2 * ROUGH_ROUNDS if group.simultaneous else 40)
            place, worst = (trial[2 * item], trial[2 * item + 1]), worst_miss(eqs, trial)
        if not any(abs(place[0] - p) < SAME and abs(place[1] - q) < SAME for (p, q), _ in settled):
            settled.append((place, worst))
    return settled


def _rough(group: Group, eqs: list[Equation]) -> bool:
    """Whether a size that differs by direction plays in, so that loci were only near."""
    members = {m for eq in eqs for m in eq.members if m in group.problem.things}
    return any(group.problem.things[m].half_long or group.problem.things[m].half_wide for m in members)


def _line_forms(group: Group, item: int, places: list[XY]) -> list[XY]:
    """One form of each line (its normal may point either way) unless a row cares; one for a chosen
    direction.
    """
    if item in group.turning:
        ups = [p for p in places if p[1] >= -SURE]
        places = ups or places
    if item in group.oriented:
        return places
    return distinct([canonical_line(*p) for p in places])
