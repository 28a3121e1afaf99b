"""One plane from its network of readings: places, and in plain terms what is open, ambiguous or
contradictory.

Worked case: a pivot hole of 6.1, near edge 4.95 and far edge 11.05 from the back: its centre is 8.0 above the
back.  A corner on the back, 20.35 from the pivot's near edge: |corner - pivot| = 23.40, so it lies 22.0 to
the left or to the right; a side word chooses.  Where the pivot lies along the back is a choice of frame.

Flow: canonical order (problem.py); clusters and their order of construction, with the frame (plan.py); all
mirror answers thing by thing (branches.py), fitted by least squares where redundant (settle.py); then what
still moves (looseness.py) and which rows miss."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

from msgspec import Struct
from msgspec.structs import replace

from .branches import BranchBuilder
from .equations import Equation
from .looseness import left_open, report
from .partial import Ambiguity, Branch, canonical_line
from .plan import Plan, clusters, kin_of, make_plan
from .problem import Problem, arrange
from .sides import spot, telling_words
from .turns import fitting_turn
from .types import LineGap, Misfit, Network, PlacedLine, Solved, Tangent, ToLine, TwoPlaces

MISSES = 3.0
SIDE_U = 0.05


class SolvedLayout(Struct, frozen=True, eq=False):
    """A solved plane before rounding: what uncertainty and tests of readings build on.

    `at` the layout; `plans` the construction of each cluster; `branches` the answer kept of each group of
    clusters. `settle.design(problem.equations, at, problem.free)` gives misses and design matrix; add
    `plan.frame_equations` to make it full rank where a frame was chosen."""

    problem: Problem
    at: tuple[float, ...]
    plans: tuple[Plan, ...]
    branches: tuple[Branch, ...]


def snap(length: float) -> float:
    """A length rounded to 1e-6 mm; never -0.0."""
    return round(length, 6) + 0.0


def snap_angle(angle: float) -> float:
    """An angle (radians) rounded to 1e-8 degrees, so that right angles stay exact."""
    return math.radians(round(math.degrees(angle), 8) + 0.0)


def solve_layout(net: Network) -> SolvedLayout:
    """Place everything of a network; see `solve_network` for what is reported of it."""
    problem = arrange(net)
    groups = _grouped(problem, clusters(problem), net.free_frame)
    at = list(problem.start)
    plans: list[Plan] = []
    branches: list[Branch] = []
    for group in groups:
        chosen, branch = _build(problem, group, at)
        at = branch.at
        plans += chosen
        branches.append(branch)
    for i in problem.free:
        if i not in problem.things:
            at[2 * i] = math.remainder(at[2 * i], 2 * math.pi)
    return SolvedLayout(problem, tuple(at), tuple(plans), tuple(branches))


def _grouped(
    problem: Problem, parts: Sequence[tuple[int, ...]], frame_free: bool
) -> list[list[tuple[tuple[int, ...], bool]]]:
    """Clusters joined where a side word speaks of both; each with whether it may choose the frame."""
    home = {i: n for n, part in enumerate(parts) for i in part}
    label = list(range(len(parts)))
    for side in problem.sides:
        names = (side.a, side.b) if side.base is None else (side.a, side.b, side.base)
        met = sorted({label[home[i]] for i in (problem.where[n] for n in names) if i in home})
        if len(met) > 1:
            label = [met[0] if v in met else v for v in label]
    groups: dict[int, list[tuple[tuple[int, ...], bool]]] = {}
    for n, part in enumerate(parts):
        groups.setdefault(label[n], []).append((part, frame_free and n == 0))
    return list(groups.values())


def _build(
    problem: Problem, group: Sequence[tuple[tuple[int, ...], bool]], at: list[float]
) -> tuple[list[Plan], Branch]:
    """The answer of one group; a chosen direction is tried at quarter turns, then at any, until the side
    words are met.

    `at` is taken over: of all places in it those of the group's own items are written."""
    first: tuple[list[Plan], Branch] | None = None
    for quarter in range(4):
        plans = [make_plan(problem, part, free, quarter * math.pi / 2) for part, free in group]
        kept = BranchBuilder(problem, plans, at if first is None else list(at)).run()[0]
        if not kept.broken:
            return plans, kept
        first = first or (plans, replace(kept, at=list(kept.at)))
        if all(plan.turning is None for plan in plans):
            break
    assert first is not None
    if any(plan.turning is not None for plan in first[0]):
        plans = [make_plan(problem, part, free) for part, free in group]
        turn = fitting_turn(problem, plans, at)
        if turn is not None:
            plans = [make_plan(problem, part, free, turn) for part, free in group]
            kept = BranchBuilder(problem, plans, list(at)).run()[0]
            return (plans, kept) if not kept.broken else first
    return first


def solve_network(net: Network) -> Solved:
    """Solve one plane's readings.

    Returns places in mm snapped to 1e-6, the same to the last bit for any order of the network's tuples.
    What the rows leave open of the whole plane is chosen when `free_frame` (first thing that leans on nothing
    at the origin, the next at its right); anything else open, ambiguous or contradictory is listed in the
    result.  Raises ValueError only where the caller broke the contract (unknown or double name, a number that
    is none, u not above 0)."""
    return solved_as(solve_layout(net))


def solved_as(layout: SolvedLayout, owners: Mapping[int, str] | None = None) -> Solved:
    """A layout in the caller's names (see `solve_network`).  `owners`: whose statement each row stands in, by
    key.
    """
    problem, at = layout.problem, layout.at
    movers = [
        m
        for plan in layout.plans
        for m in left_open(
            problem, [*_rows_of(problem, plan), *plan.frame_equations], at, plan.order, plan.assumed
        )
    ]
    open_items = {m.item for m in movers}
    found = [f for b in layout.branches for f in b.found if f.item not in open_items]
    return Solved(
        things={problem.names[i]: (snap(at[2 * i]), snap(at[2 * i + 1])) for i in sorted(problem.things)},
        lines={
            problem.names[i]: _line(problem, at, i)
            for i in range(len(problem.names))
            if i not in problem.things
        },
        residuals=_residuals(problem, at),
        left_open=report(problem, movers),
        two_places=tuple(_two_places(problem, f, owners or {}) for f in found),
        misfits=_misfits(layout),
    )


def _rows_of(problem: Problem, plan: Plan) -> list[Equation]:
    return [problem.equations[e] for e in sorted({e for i in plan.order for e in problem.touching[i]})]


def _line(problem: Problem, at: Sequence[float], item: int) -> PlacedLine:
    if item in problem.fixed:
        return PlacedLine(at[2 * item], at[2 * item + 1])
    return PlacedLine(snap_angle(at[2 * item]), snap(at[2 * item + 1]))


def _miss(eq: Equation, at: Sequence[float]) -> float:
    """One number for a row: found minus given; the distance off where a row has two parts."""
    scalars = eq.scalars(at)
    value = scalars[0][0] if len(scalars) == 1 else math.hypot(*(miss for miss, _ in scalars))
    return round(value, 9) + 0.0


def _residuals(problem: Problem, at: Sequence[float]) -> dict[int, float]:
    found = {eq.row.key: _miss(eq, at) for eq in problem.equations if eq.row is not None}
    return dict(sorted(found.items()))


def _misfits(layout: SolvedLayout) -> tuple[Misfit, ...]:
    """One per cluster whose rows miss by more than 3 u, one for rows between known items, one per side word
    unmet.
    """
    problem, at = layout.problem, layout.at
    home = {i: n for n, plan in enumerate(layout.plans) for i in plan.items}
    blameless = {f.item for b in layout.branches if b.clipped for f in b.found}
    spared = {home[i] for i in blameless}
    groups: dict[int, list[tuple[int, float, float]]] = {}
    for eq in problem.equations:
        worst = eq.misses(at)
        if worst > MISSES and eq.row is not None:
            n = min((home[i] for i in eq.members if i in home), default=-1)
            if n in spared:
                continue
            groups.setdefault(n, []).append((eq.row.key, _miss(eq, at), worst))
    found = []
    for rows in groups.values():
        rows.sort()
        found.append(
            Misfit(tuple(r[0] for r in rows), tuple(r[1] for r in rows), round(max(r[2] for r in rows), 6))
        )
    broken = [entry for b in layout.branches for entry in b.broken]
    found += [Misfit((side.key,), (round(far, 6),), round(-far / SIDE_U, 6)) for side, far in broken]
    return tuple(sorted(found, key=lambda m: m.keys))


def _two_places(problem: Problem, found: Ambiguity, owners: Mapping[int, str]) -> TwoPlaces:
    item = found.item
    here = [item, *kin_of(problem).get(item, ())]
    near_rows = [problem.equations[e] for e in sorted({e for i in here for e in problem.touching[i]})]
    either = [eq for eq in near_rows if _turned(eq, found)]
    whose = [problem.where.get(owners.get(eq.row.key, ""), item) for eq in either if eq.row is not None]
    if whose and item not in whose and either[0].row is not None:
        # what is placed first is a matter of order: the question goes to the statement that was read from the
        # line
        mine = whose[0]
        tells = telling_words(problem, found.layouts, mine, _named(problem, either[0].members, mine))
        places = tuple((snap(x), snap(y)) for x, y in (spot(problem, at, mine) for at in found.layouts))
        other = next(problem.names[m] for m in either[0].members if m != mine)
        return TwoPlaces(problem.names[mine], places, tells, either[0].row.key, other)
    near = {m for e in problem.touching[item] for m in problem.equations[e].members} - {item}
    moved = {i for i in near if any(_apart(found.layouts[0], at, i) for at in found.layouts[1:])}
    things_first = sorted(near - moved, key=lambda i: (i not in problem.things, i))
    steady = [
        i
        for i in range(len(problem.names))
        if i != item
        and i not in near
        and not any(_apart(found.layouts[0], at, i) for at in found.layouts[1:])
    ]
    named = _named(problem, [*things_first, *steady[:40]], item)
    tells = telling_words(problem, found.layouts, item, named)
    places = tuple((snap(x), snap(y)) for x, y in (spot(problem, at, item) for at in found.layouts))
    return TwoPlaces(problem.names[item], places, tells)


def _named(problem: Problem, items: Sequence[int], but: int) -> list[int]:
    """Those that a side word can name."""
    return [i for i in items if i != but and i not in problem.unspoken]


def _turned(eq: Equation, found: Ambiguity) -> bool:
    """Whether a row read from a line is met on the one side of it in one layout, and on the other in
    another.
    """
    if not eq.open_sign or not isinstance(eq.row, ToLine | Tangent | LineGap):
        return False
    angle = 2 * eq.members[1]
    ways = {eq.sign(at) * (1 if canonical_line(at[angle], 1.0)[1] > 0 else -1) for at in found.layouts}
    return len(ways) > 1


def _apart(a: Sequence[float], b: Sequence[float], item: int) -> bool:
    return abs(a[2 * item] - b[2 * item]) > 1e-5 or abs(a[2 * item + 1] - b[2 * item + 1]) > 1e-5


__all__ = [
    "SolvedLayout",
    "snap",
    "snap_angle",
    "solve_layout",
    "solve_network",
    "solved_as",
]
