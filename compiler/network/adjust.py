"""All readings of a plane adjusted together: places, lines and shared diameters, with what each is worth.

Problem: branches.py finds the right mirror answer with the sizes as given; here sizes are freed too, and
every figure gets its uncertainty.  Choice: Gauss-Newton with Levenberg damping on the normal equations,
factorised in pieces (fronts.py), because their inverse is what all statistics need.  Uncertainties are by the
law of propagation (JCGM 100:2008, 5); redundancy, normalised residuals and detectable slips by Baarda 1968
(recalled in any text on adjustment, for instance Ghilani and Wolf).  Where readings leave something open, a
very weak pull to where it stands keeps the arithmetic sound, and whatever depends on it is reported as
infinitely uncertain. Rejected: freeing sizes during the search for mirror answers (they never decide it, and
cost a third more unknowns)."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

import numpy as np
from msgspec.structs import replace

from ..quantities.arrays import Floats
from .adjustment_types import Derived, FittedReading, GroupTest, Leverage, LineFit, PlaceFit, Share, SizeFit
from .chances import DETECTABLE, chi_square_limit
from .descent import descend, tree_of
from .equations import Equation
from .problem import Problem
from .solve import SolvedLayout, snap, snap_angle, solve_layout
from .sparse_cholesky import Factor
from .system import System
from .types import Heading, LineAngle, Network, ReadEdge

FRAME_U = 1e-5
ROUNDS_OF_SIDES = 4  # until each drill reading is weighed for the side that the size fell on
EXACT_U = 1.01e-5  # rows no wider than this are definitions, not readings
BATCH = 64


def _datum(problem: Problem, frame: Sequence[Equation]) -> list[Equation]:
    """Frame equations held so tightly that they add nothing to any u."""
    turned = [2 * i for i in range(len(problem.names)) if i not in problem.things]
    found = []
    for eq in frame:
        is_turn = len(eq.members) == 2 or eq.measure(problem.start, 1)[0][1][0][0] in turned
        found.append(replace(eq, us=(FRAME_U / problem.lever if is_turn else FRAME_U,)))
    return found


class Adjustment:
    """An adjusted plane.

    `things`, `lines`, `sizes`: what was found, by name; `readings`: every row, by key; `tests`: one per group
    of what hangs together; `open`: names of what the readings leave open (their u is infinite); `datum`: what
    the absolute places are counted from, where a frame was chosen: names, first the origin, then what lies at
    its right. Places are snapped to 1e-6 mm and the same for any order of the network's tuples."""

    def __init__(self, net: Network, layout: SolvedLayout) -> None:
        problem = layout.problem
        self.net, self.layout, self.problem = net, layout, problem
        frame = [eq for plan in layout.plans for eq in plan.frame_equations]
        self.datum = tuple(
            dict.fromkeys(problem.names[i] for plan in layout.plans for i in plan.order if i in plan.frame)
        )
        known = {t.size for t in problem.things.values() if t.size is not None} | {r.size for r in net.sizes}
        equations = [*problem.equations, *_datum(problem, frame)]
        self.system = System(problem, equations, net.sizes, problem.free, sorted(known), layout.at)
        self.tree = tree_of(self.system)
        self.z, self.misses, self.values = descend(self.system, self.tree, self.system.start)
        self._invert()
        self._describe()

    def _levers(self) -> Floats:
        """mm per unit of every column."""
        levers = np.ones(self.system.width)
        for n, item in enumerate(self.system.free):
            if item not in self.problem.things:
                levers[2 * n] = self.problem.lever
        return levers

    def _factor(self, ridge: Floats) -> Factor | None:
        for _ in range(14):
            try:
                return Factor(self.tree, self.values, ridge)
            except np.linalg.LinAlgError:
                ridge = ridge * 10
        return None

    def _invert(self) -> None:
        """Factor, the inverse where it is needed, and which columns are open."""
        levers, lever = self._levers(), self.problem.lever
        self.loose = np.zeros(self.system.width, dtype=bool)
        self.factor = self._factor((levers / (100 * lever)) ** 2)
        if self.factor is not None:
            parts = self.factor.inverse_parts()
            self._spread(parts)
            self.loose = ~(self.variance * levers**2 < (0.3 * lever) ** 2)
            if self.loose.any():
                self.factor = self._factor(
                    np.where(self.loose, (levers / lever) ** 2, 0.0) + (levers / (100 * lever)) ** 2
                )
                parts = self.factor.inverse_parts() if self.factor is not None else []
                self._spread(parts)
        if self.factor is None:
            self.loose[:] = True
            parts = []
            self._spread(parts)
        self._hat(parts)

    def _spread(self, parts: Sequence[Floats]) -> None:
        """Variances of the columns, and the covariance of each with the next."""
        width = self.system.width
        self.variance, self.beside = np.full(width, math.inf), np.zeros(width)
        for front, part in zip(self.tree.fronts, parts, strict=False):
            own = front.columns[: front.own]
            self.variance[own] = np.diag(part)[: front.own]
            if front.own > 1:
                self.beside[own[:-1]] = np.diag(part, 1)[: front.own - 1]

    def _hat(self, parts: Sequence[Floats]) -> None:
        """Per scalar: 1 minus the part of it that the fit follows."""
        self.redundancy = np.ones(len(self.system.scalars))
        for front, part in zip(self.tree.fronts, parts, strict=False):
            if not front.rows:
                continue
            dense = np.zeros((front.rows, len(front.columns)))
            np.add.at(dense, front.local, self.values[front.entries])
            rows = np.unique(self.system.rows[front.entries])
            self.redundancy[rows] = 1.0 - np.einsum("ij,jk,ik->i", dense, part, dense, optimize=True)
        self.redundancy = np.clip(self.redundancy, 0.0, 1.0)
        self.redundancy[self.redundancy < 1e-7] = 0.0

    def _describe(self) -> None:
        problem, system, z = self.problem, self.system, self.z
        self.things: dict[str, PlaceFit] = {}
        self.lines: dict[str, LineFit] = {}
        self.sizes: dict[str, SizeFit] = {}
        column = system.column
        for i, name in enumerate(problem.names):
            c, held = int(column[2 * i]), i in problem.fixed
            vx, vy, vxy = (
                (0.0, 0.0, 0.0) if held else (self.variance[c], self.variance[c + 1], self.beside[c])
            )
            if not held and (self.loose[c] or self.loose[c + 1]):
                vx, vy, vxy = math.inf, math.inf, 0.0
            ux, uy = math.sqrt(max(vx, 0.0)), math.sqrt(max(vy, 0.0))
            if i in problem.things:
                u, worst = _worst(vx, vy, vxy)
                at = (snap(float(z[2 * i])), snap(float(z[2 * i + 1])))
                self.things[name] = PlaceFit(name, at, ux, uy, float(vxy), u, worst)
            else:
                angle, offset = float(z[2 * i]), float(z[2 * i + 1])
                self.lines[name] = LineFit(
                    name,
                    angle if held else snap_angle(math.remainder(angle, 2 * math.pi)),
                    offset if held else snap(offset),
                    ux,
                    uy,
                    float(vxy),
                )
        for k, name in enumerate(system.all_sizes):
            c = int(column[system.base + k])
            u = math.inf if self.loose[c] else math.sqrt(max(self.variance[c], 0.0))
            self.sizes[name] = SizeFit(name, snap(float(z[system.base + k])), u)
        loose = [n for n, v in self.things.items() if math.isinf(v.u)] + [
            n for n, s in self.sizes.items() if math.isinf(s.u)
        ]
        self.open = tuple(sorted(loose + [n for n, v in self.lines.items() if math.isinf(v.u_offset)]))
        self._judge()

    def _judge(self) -> None:
        """Readings and tests."""
        groups = self._groups()
        rows: dict[int, list[int]] = {}
        for k, scalar in enumerate(self.system.scalars):
            rows.setdefault(id(scalar.row), []).append(k)
        self.scalars_of: dict[int, list[int]] = {}
        found: list[tuple[int, int, FittedReading]] = []
        for numbers in rows.values():
            reading = self._reading(numbers, groups[numbers[0]])
            if reading is not None:
                found.append((reading.key, numbers[0], reading))
                self.scalars_of.setdefault(reading.key, numbers)
        self.readings = tuple(r for _, _, r in sorted(found, key=lambda f: f[:2]))
        self.tests = self._tests(groups)

    def _reading(self, numbers: Sequence[int], group: int) -> FittedReading | None:
        row = self.system.scalars[numbers[0]].row
        if isinstance(row, Equation) and row.row is None:
            return None
        source = row.row if isinstance(row, Equation) else row
        assert source is not None
        k = max(numbers, key=lambda n: abs(self.misses[n]))
        u, r = float(self.system.us[k]), float(self.redundancy[k])
        residual = float(self.misses[k]) * u
        checked = r >= 0.01 and self.factor is not None
        w = float(self.misses[k]) / math.sqrt(r) if checked else 0.0
        given = float(getattr(source, "value", 0.0))
        slip = DETECTABLE * u / math.sqrt(r) if checked else math.inf
        return FittedReading(
            source.key, given, given + residual, residual, u, r, w, slip, u <= EXACT_U, group
        )

    def _groups(self) -> list[int]:
        """Group number of every scalar: what hangs together through unknowns; groups in order of first
        unknown.
        """
        root = list(range(self.system.width))

        def find(i: int) -> int:
            while root[i] != i:
                root[i] = root[root[i]]
                i = root[i]
            return i

        for c in range(0, 2 * len(self.system.free), 2):
            root[c + 1] = c
        first = [-1] * len(self.system.scalars)
        for r, c in zip(self.system.rows.tolist(), self.system.columns.tolist(), strict=True):
            if first[r] < 0:
                first[r] = c
            a, b = sorted((find(first[r]), find(c)))
            root[b] = a
        roots = [find(c) if c >= 0 else -1 for c in first]
        number = {
            c: n for n, c in enumerate(sorted({find(c) for c in range(self.system.width)} | set(roots)))
        }
        self.group_of_column = [number[find(c)] for c in range(self.system.width)]
        return [number[c] for c in roots]

    def _tests(self, groups: Sequence[int]) -> tuple[GroupTest, ...]:
        count = max([*groups, *self.group_of_column], default=-1) + 1
        totals, freedoms = [0.0] * count, [0.0] * count
        for k, g in enumerate(groups):
            totals[g] += float(self.misses[k]) ** 2
            freedoms[g] += float(self.redundancy[k]) if self.system.us[k] > EXACT_U else 0.0
        names: list[list[str]] = [[] for _ in range(count)]
        for n, item in enumerate(self.system.free):
            names[self.group_of_column[2 * n]].append(self.problem.names[item])
        for n, name in enumerate(self.system.sizes):
            names[self.group_of_column[2 * len(self.system.free) + n]].append(name)
        keys: list[list[int]] = [[] for _ in range(count)]
        for reading in self.readings:
            keys[reading.group].append(reading.key)
        return tuple(
            GroupTest(tuple(n), tuple(k), t, f, chi_square_limit(f))
            for n, k, t, f in zip(names, keys, totals, [int(f + 0.5) for f in freedoms], strict=True)
        )

    # figures worked out on request

    def derive(self, value: float, slopes: Mapping[tuple[str, int], float], most: int = 3) -> Derived:
        """A quantity with its slopes by unknown: (thing, 0) x, (thing, 1) y, (line, 0) angle, (line, 1)
        offset, (size, 2).
        """
        g = np.zeros(self.system.width)
        for (name, k), slope in slopes.items():
            entry = (
                self.system.base + self.system.size_of[name] if k == 2 else 2 * self.problem.where[name] + k
            )
            if (c := int(self.system.column[entry])) >= 0:
                g[c] += slope
        if self.factor is None:
            return Derived(value, math.inf, ())
        x = self.factor.solve(g)
        variance = float(g @ x)
        if variance > (0.1 * self.problem.lever) ** 2 or (self.loose.any() and self._follows(g, x)):
            return Derived(value, math.inf, ())
        return Derived(value, math.sqrt(max(variance, 0.0)), self._shares(x, most))

    def _follows(self, g: Floats, x: Floats) -> bool:
        """Whether a quantity leans on the weak pull that holds what is open."""
        held = np.where(self.loose, (self._levers() / self.problem.lever) ** 2, 0.0)
        return bool(x @ (held * x) > 1e-3 * (g @ x))

    def _shares(self, x: Floats, most: int) -> tuple[Share, ...]:
        """The readings a variance stems from, greatest first."""
        parts = (
            np.bincount(self.system.rows, self.values * x[self.system.columns], len(self.system.scalars)) ** 2
        )
        total = float(parts.sum()) or 1.0
        shares: dict[int, float] = {}
        for k in np.argsort(-parts, kind="stable")[: 2 * most]:
            row = self.system.scalars[k].row
            source = row.row if isinstance(row, Equation) else row
            if source is not None and parts[k] > 1e-9 * total:
                shares[source.key] = shares.get(source.key, 0.0) + float(parts[k]) / total
        ranked = sorted(shares.items(), key=lambda s: (-round(s[1], 9), s[0]))
        return tuple(Share(key, share) for key, share in ranked[:most])

    def place(self, name: str) -> Derived:
        """A thing along its worst direction (value: 0), with the readings that dominate its u."""
        fit = self.things[name]
        return self.derive(0.0, {(name, 0): math.cos(fit.worst), (name, 1): math.sin(fit.worst)})

    def _half(self, name: str, edge: ReadEdge, slopes: dict[tuple[str, int], float]) -> float:
        thing = self.problem.things[self.problem.where[name]]
        if thing.size is None or edge is ReadEdge.CENTRE:
            return float(edge.value) * thing.radius
        key = (thing.size, 2)
        slopes[key] = slopes.get(key, 0.0) + edge.value / 2
        diameter = float(self.z[self.system.base + self.system.size_of[thing.size]])
        return float(edge.value) * diameter / 2

    def between(
        self, a: str, b: str, edge_a: ReadEdge = ReadEdge.CENTRE, edge_b: ReadEdge = ReadEdge.CENTRE
    ) -> Derived:
        """The distance between two round things; both edges near: the wall between two holes."""
        i, k = 2 * self.problem.where[a], 2 * self.problem.where[b]
        dx, dy = float(self.z[k] - self.z[i]), float(self.z[k + 1] - self.z[i + 1])
        d = math.hypot(dx, dy)
        nx, ny = (dx / d, dy / d) if d > 0 else (1.0, 0.0)
        slopes = {(a, 0): -nx, (a, 1): -ny, (b, 0): nx, (b, 1): ny}
        return self.derive(d + self._half(a, edge_a, slopes) + self._half(b, edge_b, slopes), slopes)

    def leverages(self, keys: Sequence[int] | None = None) -> tuple[Leverage, ...]:
        """For each reading (all that are no definitions): what moves most when it is off by 0.1 mm, and how
        far.
        """
        wanted = [r.key for r in self.readings if not r.exact] if keys is None else list(keys)
        found: list[Leverage] = []
        for k in range(0, len(wanted) if self.factor is not None else 0, BATCH):
            found += self._moved(wanted[k : k + BATCH])
        return tuple(found)

    def _moved(self, keys: Sequence[int]) -> list[Leverage]:
        assert self.factor is not None
        right = np.zeros((self.system.width, len(keys)))
        slip = np.zeros(len(keys))
        for n, key in enumerate(keys):
            k = self.scalars_of[key][0]
            mine = np.nonzero(self.system.rows == k)[0]
            right[self.system.columns[mine], n] = self.values[mine]
            row = self.system.scalars[k].row
            is_turn = isinstance(row, Equation) and isinstance(row.row, LineAngle | Heading)
            slip[n] = (math.radians(0.1) if is_turn else 0.1) / float(self.system.us[k])
        moved = self.factor.solve(right) * slip
        moved[self.loose] = 0.0
        found = []
        where = [(n, i) for n, i in enumerate(self.system.free) if i in self.problem.things]
        for n, key in enumerate(keys):
            far = [float(math.hypot(moved[2 * k, n], moved[2 * k + 1, n])) for k, _ in where]
            best = max(range(len(far)), key=lambda k: round(far[k], 9), default=None)
            name = self.problem.names[where[best][1]] if best is not None else ""
            found.append(Leverage(key, name, far[best] if best is not None else 0.0))
        return found


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
    work, held = Adjustment(net, layout), frozenset[int]()
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
        work = Adjustment(replace(net, sizes=sizes), layout)
    return work


__all__ = ["Adjustment", "adjust"]
