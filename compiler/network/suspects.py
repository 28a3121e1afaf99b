"""Which readings may be wrong where a group's test doesn't hold: wrong words first, then the set of suspects.

Problem: with few redundant readings the largest residual names the wrong reading about as often as the right
one (numbers measured on eight holes).  Choice: first ask of every reading whether another word or digit makes
all fit; such an explanation spends no freedom, so it may be believed.  Then leave each reading out in turn
and give all whose omission explains nearly as much as the best: within 6.6, the chi-square of one freedom at
1 %.  Never one culprit by force. A wrong reading may also have led to the wrong mirror answer; where no
omission fits well, the plane is placed again without each reading.  Each omission is a fit of its own in
small groups; in large ones the first-order drop w^2 picks which to refit. Rejected: refitting every
alternative (thousands); they are scored at their reading's omission in closed form, and only the best are
refitted."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np
from msgspec import Struct
from msgspec.structs import replace

from ..quantities.arrays import Floats
from .adjust import Adjustment
from .adjustment_types import Alternative, GroupTest, Hypothesis, MisfitVerdict, Suspect
from .chances import NEARLY, chi_square_limit
from .descent import descend, tree_of
from .equations import Equation, equation
from .hypotheses import order
from .problem import faced
from .solve import solve_layout
from .sparse_cholesky import EliminationTree, Factor
from .system import System, make_system
from .types import SizeReading

REFITTED = 60  # readings that are each left out in a fit of their own
RESOLVED = 48  # readings up to which other mirror answers are looked for
FINALISTS = 10
ROUNDS = 12


class _Case(Struct, eq=False):
    """A group that doesn't fit, as a system of its own, and the ways to look at it without one of its
    readings.
    """

    work: Adjustment
    test: GroupTest
    items: list[int]
    sizes: list[str]
    system: System
    tree: EliminationTree
    z: Floats
    numbers: dict[int, list[int]]


def _case(work: Adjustment, index: int, start: Floats) -> _Case:
    whole = work.fit.system
    items = [item for n, item in enumerate(whole.free) if work.group_of_column[2 * n] == index]
    offset = 2 * len(whole.free)
    sizes = [name for n, name in enumerate(whole.sizes) if work.group_of_column[offset + n] == index]
    equations, readings = _rows(work, items, sizes)
    system = make_system(work.problem, equations, readings, items, sizes, start.tolist())
    tree = tree_of(system)
    z, _, _ = descend(system, tree, start, None, ROUNDS)
    numbers: dict[int, list[int]] = {}
    exact = {r.key for r in work.readings if r.exact}
    for k, scalar in enumerate(system.scalars):
        source = scalar.row.row if isinstance(scalar.row, Equation) else scalar.row
        if source is not None and source.key not in exact:
            numbers.setdefault(source.key, []).append(k)
    return _Case(work, work.tests[index], items, sizes, system, tree, z, numbers)


def _rows(
    work: Adjustment, items: Sequence[int], sizes: Sequence[str]
) -> tuple[list[Equation], list[SizeReading]]:
    inside, named = set(items), set(sizes)
    rows = {id(s.row): s.row for s in work.fit.system.scalars}.values()
    things = work.problem.things
    mine = inside | {i for i, thing in things.items() if thing.size in named}
    equations = [row for row in rows if isinstance(row, Equation) and mine & set(row.members)]
    return equations, [row for row in rows if isinstance(row, SizeReading) and row.size in named]


class _Without(Struct, eq=False):
    """A group without one reading: the total left, the layout, and the factor to propagate from it (None: not
    sound).
    """

    key: int
    total: float
    z: Floats
    factor: Factor | None


def _leave_out(case: _Case, key: int, start: Floats | None = None) -> _Without:
    weights = np.ones(len(case.system.scalars))
    weights[case.numbers[key]] = 0.0
    z, misses, values = descend(case.system, case.tree, case.z if start is None else start, weights, ROUNDS)
    try:
        diagonal = np.bincount(case.system.columns, values**2, case.system.width)
        factor = Factor(case.tree, values, 1e-12 * np.maximum(diagonal, 1e-12 * float(diagonal.max())))
    except np.linalg.LinAlgError:
        factor = None
    return _Without(key, float(misses @ misses), z, factor)


def _omissions(case: _Case, starts: dict[int, list[Floats]], common: Sequence[Floats]) -> list[_Without]:
    """Each reading left out, best first; in large groups only those with the largest normalised residuals."""
    work = case.work
    rank = sorted(
        (-abs(round(r.w, 6)), r.key) for r in work.readings if r.key in case.numbers and not r.unchecked
    )
    found = []
    for _, key in rank[:REFITTED]:
        tried = [_leave_out(case, key, start) for start in (*common, *starts.get(key, ()))]
        found.append(min(tried, key=lambda one: round(one.total, 6)))
    return sorted(found, key=lambda one: (round(one.total, 6), one.key))


def _built(case: _Case, row: Alternative) -> Equation | SizeReading | None:
    if isinstance(row.row, SizeReading):
        return row.row
    problem, net = case.work.problem, case.work.net
    try:
        return equation(faced(row.row, net), problem.where, problem.things, problem.lever)
    except ValueError:
        return None


def _scores(
    case: _Case, out: Sequence[_Without], given: Sequence[Alternative]
) -> list[tuple[float, int, Alternative, Floats]]:
    """Alternatives with the total each would leave, to first order from the fit without its reading; best
    first.
    """
    by_key: dict[int, list[Alternative]] = {}
    for alternative in given:
        by_key.setdefault(alternative.key, []).append(alternative)
    scored: list[tuple[float, int, Alternative, Floats]] = []
    for one in out:
        mine = [(a, built) for a in by_key.get(one.key, ()) if (built := _built(case, a)) is not None]
        mine = [(a, b) for a, b in mine if isinstance(b, SizeReading) or len(b.us) == 1]
        if not mine or one.factor is None:
            continue
        eqs = [b for _, b in mine if isinstance(b, Equation)]
        system = make_system(
            case.work.problem,
            eqs,
            [b for _, b in mine if isinstance(b, SizeReading)],
            case.items,
            case.sizes,
            one.z.tolist(),
        )
        misses, values = system.evaluate(one.z)
        dense = np.zeros((len(misses), system.width))
        np.add.at(dense, (system.rows, system.columns), values)
        spread = 1.0 + np.einsum("ij,ji->i", dense, one.factor.solve(dense.T))
        totals = one.total + misses**2 / np.maximum(spread, 1.0)
        number = {id(s.row): k for k, s in enumerate(system.scalars)}
        scored += [(round(float(totals[number[id(b)]]), 6), one.key, a, one.z) for a, b in mine]
    return sorted(scored, key=lambda s: (s[0], s[1], order(s[2].slip)))


def _refit(case: _Case, alternative: Alternative, start: Floats) -> float:
    """The total of the group with one reading taken otherwise."""
    built = _built(case, alternative)
    swapped = set(case.numbers[alternative.key])
    rows = {id(s.row): s.row for k, s in enumerate(case.system.scalars) if k not in swapped}.values()
    equations = [r for r in rows if isinstance(r, Equation)] + (
        [built] if isinstance(built, Equation) else []
    )
    readings = [r for r in rows if isinstance(r, SizeReading)] + (
        [built] if isinstance(built, SizeReading) else []
    )
    system = make_system(case.work.problem, equations, readings, case.items, case.sizes, start.tolist())
    _, misses, _ = descend(system, tree_of(system), start, None, ROUNDS)
    return float(misses @ misses)


def _explained(
    case: _Case, out: Sequence[_Without], given: Sequence[Alternative]
) -> tuple[list[Hypothesis], Hypothesis | None]:
    """Wrong-word explanations that make the group fit, best first, with those as good as the best; and the
    best of all.
    """
    scored = [s for s in _scores(case, out, given) if s[0] <= 2 * case.test.limit + NEARLY][:FINALISTS]
    found = []
    for _, _, alternative, z in scored:
        after = _refit(case, alternative, z)
        if after <= case.test.total - NEARLY:
            found.append(Hypothesis(alternative, case.test.total, after, after <= case.test.limit))
    found.sort(key=lambda h: (round(h.after, 6), h.alternative.key, order(h.alternative.slip)))
    least = min((one.total for one in out), default=0.0)
    good = [h for h in found if h.fits and h.after <= found[0].after + NEARLY and h.after <= least + NEARLY]
    return good, found[0] if found else None


def _should_be(case: _Case, one: _Without) -> float:
    k = case.numbers[one.key][0]
    scalar = case.system.scalars[k]
    source = scalar.row.row if isinstance(scalar.row, Equation) else scalar.row
    misses, _ = case.system.evaluate(one.z)
    return round(float(getattr(source, "value", 0.0)) + float(misses[k]) * scalar.u, 6)


def _aligned(work: Adjustment, at: Sequence[float]) -> list[float]:
    """Another layout slid and turned onto the first two things that the frame was chosen by."""
    problem = work.problem
    held = [problem.where[n] for n in work.datum if problem.where[n] in problem.things][:2]
    if len(held) < 2:
        return list(at)
    a, b = held
    old, new = ([float(z[2 * b + k] - z[2 * a + k]) for k in (0, 1)] for z in (work.z, at))
    turn = math.atan2(old[1], old[0]) - math.atan2(new[1], new[0])
    cos, sin = math.cos(turn), math.sin(turn)
    there = list(at)
    for i in problem.free:
        if i in problem.things:
            x, y = at[2 * i] - at[2 * a], at[2 * i + 1] - at[2 * a + 1]
            there[2 * i : 2 * i + 2] = (
                work.z[2 * a] + cos * x - sin * y,
                work.z[2 * a + 1] + sin * x + cos * y,
            )
        else:
            away = at[2 * i + 1] - math.cos(at[2 * i]) * at[2 * a] - math.sin(at[2 * i]) * at[2 * a + 1]
            angle = at[2 * i] + turn
            there[2 * i : 2 * i + 2] = (
                angle,
                away + math.cos(angle) * work.z[2 * a] + math.sin(angle) * work.z[2 * a + 1],
            )
    return there


def _mirrors(case: _Case, keys: Sequence[int], enough: float) -> dict[int, list[Floats]]:
    """Where the group may lie instead, by the reading left out: a wrong reading may have led to the wrong
    mirror answer.

    Stops at the first place where the rest fits as well as half of all good parts do."""
    net, found = case.work.net, {}
    rows = {row.key: row for row in net.rows if row.key in case.numbers}
    for key in (k for k in keys if k in rows):
        layout = solve_layout(replace(net, rows=tuple(r for r in net.rows if r is not rows[key])))
        found[key] = [np.array([*_aligned(case.work, layout.at), *case.z[len(layout.at) :]])]
        if _leave_out(case, key, found[key][0]).total <= enough:
            break
    return found


def verdict(work: Adjustment, index: int, alternatives: Sequence[Alternative]) -> MisfitVerdict:
    """What may be wrong in group number `index`, whose test doesn't hold."""
    case = _case(work, index, work.z)
    out = _omissions(case, {}, [case.z])
    likely = chi_square_limit(case.test.freedoms - 1, 0.1)
    if (not out or out[0].total > likely) and len(case.numbers) <= RESOLVED:
        starts = _mirrors(case, [one.key for one in out], chi_square_limit(case.test.freedoms - 1, 0.5))
        best = min(
            (_leave_out(case, k, z) for k, zs in starts.items() for z in zs),
            key=lambda o: (round(o.total, 6), o.key),
            default=None,
        )
        out = _omissions(case, starts, [case.z, best.z]) if best is not None else out
    named, nearest = _explained(case, out, alternatives)
    suspects = [
        Suspect(one.key, one.total, _should_be(case, one))
        for one in out
        if one.total <= out[0].total + NEARLY
    ]
    can_tell = case.test.freedoms > 1 and len(suspects) < len(case.numbers)
    return MisfitVerdict(case.test, tuple(named), tuple(suspects), can_tell, nearest)


def verdicts(work: Adjustment, alternatives: Sequence[Alternative] = ()) -> tuple[MisfitVerdict, ...]:
    """One verdict for every group whose test doesn't hold; empty where all fits.  `alternatives`: see
    `hypotheses`.
    """
    return tuple(verdict(work, k, alternatives) for k, test in enumerate(work.tests) if not test.fits)
