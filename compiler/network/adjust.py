"""All readings of a plane adjusted together: places, lines and shared diameters, with what each is worth.

Problem: `branches` finds the right mirror answer with the sizes as given; here sizes are freed too, and every
figure gets its uncertainty.  Choice: Gauss-Newton with Levenberg damping on the normal equations, factorised
in pieces (`sparse_cholesky`), because their inverse is what all statistics need (`fitted_system`,
`fit_tests`). Rejected: freeing sizes during the search for mirror answers (they never decide it, and cost a
third more unknowns)."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

import numpy as np
from msgspec import Struct
from msgspec.structs import asdict, replace

from ..quantities.arrays import Floats
from .adjustment_types import Derived, FittedReading, GroupTest, Leverage, LineFit, PlaceFit, SizeFit
from .equations import Equation
from .fit_tests import judge
from .fitted_system import FittedSystem, fit_system
from .leverages import leverages_of
from .problem import Problem
from .solve import SolvedLayout, snap, snap_angle, solve_layout
from .system import make_system
from .types import Network, ReadEdge

FRAME_U = 1e-5
ROUNDS_OF_SIDES = 4  # until each drill reading is weighed for the side that the size fell on


class Adjustment(Struct, frozen=True, eq=False):
    """An adjusted plane.

    `fit`: the system and its inverse; `things`, `lines`, `sizes`: what was found, by name; `readings`: every
    row, by key; `tests`: one per group of what hangs together (`group_of_column`: which group an unknown is
    in); `open`: names of what the readings leave open (their u is infinite); `datum`: what the absolute
    places are counted from, where a frame was chosen: names, first the origin, then what lies at its right;
    `scalars_of`: the scalars of the system by key of the reading. Places are snapped to 1e-6 mm and the same
    for any order of the network's tuples."""

    net: Network
    layout: SolvedLayout
    datum: tuple[str, ...]
    fit: FittedSystem
    things: dict[str, PlaceFit]
    lines: dict[str, LineFit]
    sizes: dict[str, SizeFit]
    readings: tuple[FittedReading, ...]
    tests: tuple[GroupTest, ...]
    group_of_column: list[int]
    scalars_of: dict[int, list[int]]

    @property
    def problem(self) -> Problem:
        """The network in canonical order."""
        return self.layout.problem

    @property
    def z(self) -> Floats:
        """The vector of all items and diameters."""
        return self.fit.z

    @property
    def open(self) -> tuple[str, ...]:
        """Names of what the readings leave open."""
        loose = [n for n, v in self.things.items() if math.isinf(v.u)]
        loose += [n for n, s in self.sizes.items() if math.isinf(s.u)]
        return tuple(sorted(loose + [n for n, v in self.lines.items() if math.isinf(v.u_offset)]))

    def place(self, name: str) -> Derived:
        """A thing along its worst direction (value: 0), with the readings that dominate its u."""
        fit = self.things[name]
        return self._derive(0.0, {(name, 0): math.cos(fit.worst), (name, 1): math.sin(fit.worst)})

    def between(
        self, a: str, b: str, edge_a: ReadEdge = ReadEdge.CENTRE, edge_b: ReadEdge = ReadEdge.CENTRE
    ) -> Derived:
        """The distance between two round things; both edges near: the wall between two holes."""
        i, k = 2 * self.problem.where[a], 2 * self.problem.where[b]
        dx, dy = float(self.z[k] - self.z[i]), float(self.z[k + 1] - self.z[i + 1])
        d = math.hypot(dx, dy)
        nx, ny = (dx / d, dy / d) if d > 0 else (1.0, 0.0)
        slopes = {(a, 0): -nx, (a, 1): -ny, (b, 0): nx, (b, 1): ny}
        return self._derive(d + self._half(a, edge_a, slopes) + self._half(b, edge_b, slopes), slopes)

    def _half(self, name: str, edge: ReadEdge, slopes: dict[tuple[str, int], float]) -> float:
        thing = self.problem.things[self.problem.where[name]]
        if thing.size is None or edge is ReadEdge.CENTRE:
            return float(edge.value) * thing.radius
        key = (thing.size, 2)
        slopes[key] = slopes.get(key, 0.0) + edge.value / 2
        diameter = float(self.z[self.fit.system.base + self.fit.system.size_of[thing.size]])
        return float(edge.value) * diameter / 2

    def _derive(self, value: float, slopes: Mapping[tuple[str, int], float]) -> Derived:
        """A quantity with its slopes by unknown: (thing, 0) x, (thing, 1) y, (size, 2)."""
        system = self.fit.system
        g = np.zeros(system.width)
        for (name, k), slope in slopes.items():
            entry = system.base + system.size_of[name] if k == 2 else 2 * self.problem.where[name] + k
            if (c := int(system.column[entry])) >= 0:
                g[c] += slope
        return self.fit.derive(value, g)

    def leverages(self, keys: Sequence[int] | None = None) -> tuple[Leverage, ...]:
        """For each reading (all that are no definitions): what moves most when it is off by 0.1 mm, and how
        far.
        """
        wanted = [r.key for r in self.readings if not r.exact] if keys is None else list(keys)
        return leverages_of(self.fit, self.scalars_of, wanted)


def _adjusted(net: Network, layout: SolvedLayout) -> Adjustment:
    problem = layout.problem
    frame = [eq for plan in layout.plans for eq in plan.frame_equations]
    datum = dict.fromkeys(problem.names[i] for plan in layout.plans for i in plan.order if i in plan.frame)
    known = {t.size for t in problem.things.values() if t.size is not None} | {r.size for r in net.sizes}
    equations = [*problem.equations, *_datum(problem, frame)]
    fit = fit_system(make_system(problem, equations, net.sizes, problem.free, sorted(known), layout.at))
    places = [i for i in range(len(problem.names)) if i in problem.things]
    lines = [i for i in range(len(problem.names)) if i not in problem.things]
    return Adjustment(
        net,
        layout,
        tuple(datum),
        fit,
        {problem.names[i]: _place(fit, i) for i in places},
        {problem.names[i]: _line(fit, i) for i in lines},
        {name: _size(fit, name) for name in fit.system.all_sizes},
        **asdict(judge(fit)),
    )


def _datum(problem: Problem, frame: Sequence[Equation]) -> list[Equation]:
    """Frame equations held so tightly that they add nothing to any u."""
    turned = [2 * i for i in range(len(problem.names)) if i not in problem.things]
    found = []
    for eq in frame:
        is_turn = len(eq.members) == 2 or eq.measure(problem.start, 1)[0][1][0][0] in turned
        found.append(replace(eq, us=(FRAME_U / problem.lever if is_turn else FRAME_U,)))
    return found


def _covariance(fit: FittedSystem, item: int) -> tuple[float, float, float]:
    """Variances of an item's two numbers, and their covariance; infinite where it is open."""
    if item in fit.system.problem.fixed:
        return 0.0, 0.0, 0.0
    c = int(fit.system.column[2 * item])
    if fit.loose[c] or fit.loose[c + 1]:
        return math.inf, math.inf, 0.0
    return fit.variance[c], fit.variance[c + 1], fit.beside[c]


def _place(fit: FittedSystem, item: int) -> PlaceFit:
    vx, vy, vxy = _covariance(fit, item)
    u, worst = _worst(vx, vy, vxy)
    at = (snap(float(fit.z[2 * item])), snap(float(fit.z[2 * item + 1])))
    name = fit.system.problem.names[item]
    return PlaceFit(name, at, math.sqrt(max(vx, 0.0)), math.sqrt(max(vy, 0.0)), float(vxy), u, worst)


def _line(fit: FittedSystem, item: int) -> LineFit:
    vx, vy, vxy = _covariance(fit, item)
    angle, offset = float(fit.z[2 * item]), float(fit.z[2 * item + 1])
    held = item in fit.system.problem.fixed
    return LineFit(
        fit.system.problem.names[item],
        angle if held else snap_angle(math.remainder(angle, 2 * math.pi)),
        offset if held else snap(offset),
        math.sqrt(max(vx, 0.0)),
        math.sqrt(max(vy, 0.0)),
        float(vxy),
    )


def _size(fit: FittedSystem, name: str) -> SizeFit:
    entry = fit.system.base + fit.system.size_of[name]
    c = int(fit.system.column[entry])
    u = math.inf if fit.loose[c] else math.sqrt(max(fit.variance[c], 0.0))
    return SizeFit(name, snap(float(fit.z[entry])), u)


def _worst(vx: float, vy: float, vxy: float) -> tuple[float, float]:
    """Greatest standard deviation of a 2 x 2 covariance and its direction."""
    if math.isinf(vx) or math.isinf(vy):
        return math.inf, 0.0
    mean, half = (vx + vy) / 2, math.hypot((vx - vy) / 2, vxy)
    return math.sqrt(max(mean + half, 0.0)), math.atan2(2 * vxy, vx - vy) / 2


def adjust(net: Network, layout: SolvedLayout | None = None) -> Adjustment:
    """Adjust one plane's readings, sizes included; `layout` is `solve_layout(net)` where it is at hand.

    Never raises but for a broken contract (see `solve_network`): what is open has infinite u, what
    contradicts is found in `tests`, `readings` and `suspects.verdicts`."""
    layout = solve_layout(net) if layout is None else layout
    work, held = _adjusted(net, layout), frozenset[int]()
    for _ in range(ROUNDS_OF_SIDES):
        narrow = frozenset(
            one.key for one in net.sizes if one.below and work.sizes[one.size].diameter < one.value - 1e-9
        )
        if narrow == held:
            break
        held = narrow
        sizes = tuple(
            replace(one, u=one.below) if one.key in held and one.below else one for one in net.sizes
        )
        work = _adjusted(replace(net, sizes=sizes), layout)
    return work


__all__ = ["Adjustment", "adjust"]
