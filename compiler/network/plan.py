"""In which order things are placed, and which freedom is only a choice of frame.

A *cluster* is what hangs together through rows once known lines and things are taken out.  The biggest may
lie where it likes (when the plane is free): the motions of a rigid sheet that change none of its rows and
move no known item are its *frame*, and each gets one frame equation.  The frame stands on what leans on
nothing: the first thing placed is at the origin, the second at its right.  Everything else left over is a
missing reading.

Whether rows single out a place is asked of the slopes at made-up positions, since the true ones aren't known
yet (parallel lines are kept parallel there).  Rejected: counting rows, which calls two readings from parallel
lines enough."""

from __future__ import annotations

import heapq
import math
from collections.abc import Sequence

import numpy as np
import numpy.typing as npt
from msgspec import Struct, field

from ..quantities.vectors import XY
from .equations import (
    Equation,
    coordinate_equation,
    heading_equation,
    normal_equation,
    offset_equation,
)
from .problem import Problem
from .types import Coordinate, Distance, LineAngle

FRAME_U = 1e-3
ENOUGH = 1e-7
CHECKED = 4  # known rows after which is looked whether they hold the sheet already


class Plan(Struct):
    """Construction order of one cluster.

    `order`: items; `rows`: the equations that each item meets when it is placed; `lent`: those of a thing in
    the same place that help to find it, each with that thing; `assumed`: items placed by fewer readings than
    needed; `frame`: equations that choose the frame, by item; `turning`: the item whose direction was chosen,
    if any; `simultaneous`: enough readings, but no order in which each thing can be placed by itself."""

    items: tuple[int, ...]
    order: list[int] = field(default_factory=list)
    rows: dict[int, list[Equation]] = field(default_factory=dict)
    lent: dict[int, list[tuple[Equation, int]]] = field(default_factory=dict)
    assumed: list[int] = field(default_factory=list)
    frame: dict[int, list[Equation]] = field(default_factory=dict)
    turning: int | None = None
    simultaneous: bool = False

    @property
    def frame_equations(self) -> list[Equation]:
        """All frame equations, in construction order."""
        return [eq for item in self.order for eq in self.frame.get(item, [])]


def clusters(problem: Problem) -> list[tuple[int, ...]]:
    """Groups of free items tied by rows; biggest first, then by first name."""
    root = list(range(len(problem.names)))

    def find(i: int) -> int:
        while root[i] != i:
            root[i] = root[root[i]]
            i = root[i]
        return i

    for eq in problem.equations:
        free = [i for i in eq.members if i not in problem.fixed]
        for other in free[1:]:
            a, b = sorted((find(free[0]), find(other)))
            root[b] = a
    groups: dict[int, list[int]] = {}
    for i in problem.free:
        groups.setdefault(find(i), []).append(i)
    named = [(-len(g), min(problem.names[i] for i in g), tuple(g)) for g in groups.values()]
    return [g for _, _, g in sorted(named)]


def made_up(problem: Problem, salt: int = 1) -> list[float]:
    """A layout at made-up but always the same positions (not to be changed); line angles that rows tie are
    tied here too.
    """
    if salt not in problem.made_up:
        problem.made_up[salt] = _made_up(problem, salt)
    return problem.made_up[salt]


def _coinciding(problem: Problem) -> list[tuple[int, int]]:
    """Free things that rows put in the same place as another, each with that other; places are to be copied
    in order.

    A pair of coordinates of 0 holds two things together but doesn't hold their sheet's direction, which only
    shows where the two do lie together."""
    met: dict[tuple[int, int], float] = {}
    root: dict[int, int] = {}

    def find(i: int) -> int:
        while i in root:
            i = root[i]
        return i

    for eq in problem.equations:
        row = eq.row
        together = isinstance(row, Distance) and len(eq.us) == 2
        if isinstance(row, Coordinate) and row.b is not None and row.value == 0.0 and not eq.edges:
            pair = (min(eq.members), max(eq.members))
            together = abs(math.sin(row.angle - met.setdefault(pair, row.angle))) > 1e-3
        if together:
            kept, *rest = sorted({find(m) for m in eq.members}, key=lambda i: (i not in problem.fixed, i))
            root |= dict.fromkeys(rest, kept)
    return [(i, find(i)) for i in root if i not in problem.fixed]


def kin_of(problem: Problem) -> dict[int, list[int]]:
    """Free things in one place (`around`), each with the others there: what is read to one holds them all."""
    groups: dict[int, list[int]] = {}
    for item, other in _coinciding(problem):
        groups.setdefault(other, [] if other in problem.fixed else [other]).append(item)
    return {i: [k for k in sorted(group) if k != i] for group in groups.values() for i in group}


def _made_up(problem: Problem, salt: int) -> list[float]:
    at, state = list(problem.start), 12345 + 7919 * salt
    for i in problem.free:
        for k in (0, 1):
            state = (1103515245 * state + 12345) % 2147483648
            spread = math.pi if k == 0 and i not in problem.things else problem.lever
            at[2 * i + k] = (state / 2147483648 - 0.5) * 2 * spread
    for i, other in _coinciding(problem):
        at[2 * i : 2 * i + 2] = at[2 * other : 2 * other + 2]
    known = set(problem.fixed)
    pending = [eq for eq in problem.equations if isinstance(eq.row, LineAngle)]
    while pending:
        rest = []
        for eq in pending:
            loose = [i for i in eq.members if i not in known]
            if len(loose) == 1:
                miss, slopes = eq.measure(at, 1)[0]
                at[2 * loose[0]] -= miss * dict(slopes)[2 * loose[0]]
                known.add(loose[0])
            elif loose:
                rest.append(eq)
        if len(rest) == len(pending):
            known.add(next(i for eq in rest for i in eq.members if i not in known))
        pending = rest
    return at


def _rigid(problem: Problem, at: Sequence[float], column: int) -> tuple[float, float, float]:
    """How entry `column` of a layout changes when the sheet slides along x, along y, or turns (by
    1/lever).
    """
    item, k = divmod(column, 2)
    if item in problem.fixed:
        return 0.0, 0.0, 0.0
    if item in problem.things:
        turn = -at[2 * item + 1] if k == 0 else at[2 * item]
        return float(k == 0), float(k == 1), turn / problem.lever
    angle = at[2 * item]
    return (0.0, 0.0, 1 / problem.lever) if k == 0 else (math.cos(angle), math.sin(angle), 0.0)


def _moved(problem: Problem, eq: Equation, at: Sequence[float]) -> list[list[float]]:
    """Per scalar: how it changes under the three motions, scaled to its own steepness."""
    rows = []
    for _, slopes in eq.scalars(at):
        size = max(
            (abs(v) * (1.0 if c // 2 in problem.things or c % 2 else 1 / problem.lever) for c, v in slopes),
            default=1.0,
        )
        moves = [(v / (size or 1.0), _rigid(problem, at, c)) for c, v in slopes]
        rows.append([sum(v * m[k] for v, m in moves) for k in range(3)])
    return rows


def frame_motions(problem: Problem, cluster: tuple[int, ...], at: Sequence[float]) -> npt.NDArray[np.float64]:
    """Rigid motions (3 x g) that change no row of the cluster and move no known item."""
    rows: list[list[float]] = []
    for i in sorted(problem.fixed):
        if i in problem.things:
            rows += [[1, 0, -at[2 * i + 1] / problem.lever], [0, 1, at[2 * i] / problem.lever]]
        else:
            rows += [[0, 0, 1], [math.cos(at[2 * i]), math.sin(at[2 * i]), 0]]
        if len(rows) == CHECKED and np.linalg.svd(np.array(rows), compute_uv=False)[-1] > 1e-3:
            return np.zeros((3, 0))
    for e in sorted({e for i in cluster for e in problem.touching[i]}):
        rows += _moved(problem, problem.equations[e], at)
    if not rows:
        return np.eye(3)
    _, sizes, turned = np.linalg.svd(np.linalg.qr(np.array([*rows, [0.0] * 3, [0.0] * 3]), mode="r"))
    return np.asarray(turned[sizes <= 1e-9 * max(1.0, sizes[0])].T)


class _Hold:
    """How well the rows that are ready hold one item: rank of their slopes at made-up places, and scalars
    beyond it.
    """

    __slots__ = ("count", "first", "rank")

    def __init__(self) -> None:
        self.rank, self.count = 0, 0
        self.first = (0.0, 0.0)

    def add(self, way: XY) -> None:
        """One more scalar, by its unit slopes in the item's two freedoms."""
        self.count += 1
        if self.rank == 0:
            self.rank, self.first = 1, way
        elif self.rank == 1 and abs(self.first[0] * way[1] - self.first[1] * way[0]) > ENOUGH:
            self.rank = 2


class _Planner:
    """Builds one Plan: always place next what the placed items hold best, and check best."""

    def __init__(
        self,
        problem: Problem,
        cluster: tuple[int, ...],
        frame_free: bool,
        turn: float,
        kin: dict[int, list[int]],
    ) -> None:
        self.problem, self.turn, self.kin = problem, turn, kin
        self.plan = Plan(cluster)
        self.at = made_up(problem)
        self.placed: set[int] = set()
        self.motions = frame_motions(problem, cluster, self.at) if frame_free else np.zeros((3, 0))
        self.spent = np.zeros((0, self.motions.shape[1]))
        self.centre: int | None = None
        self.holds = {i: _Hold() for i in cluster}
        self.missing: dict[int, int] = {}
        self.ready: dict[int, list[int]] = {i: [] for i in cluster}
        self.lent: dict[int, list[tuple[int, int]]] = {}
        for e in (e for i in cluster for e in problem.touching[i]):
            if e not in self.missing:
                self.missing[e] = len({m for m in problem.equations[e].members if m not in problem.fixed})
                self._ready(e)

    def _ready(self, e: int) -> None:
        """Count an equation for the one item it still waits for, and for what lies in the same place."""
        eq = self.problem.equations[e]
        if self.missing[e] == 1:
            item = next(m for m in eq.members if m not in self.problem.fixed and m not in self.placed)
            self.ready[item].append(e)
            self._hold(self.holds[item], item, eq)
            for other in self.kin.get(item, ()):
                if other not in self.placed and other not in eq.members:
                    self.lent.setdefault(other, []).append((e, item))
                    self._hold(self.holds[other], item, eq)

    def _hold(self, hold: _Hold, item: int, eq: Equation) -> None:
        lever = self.problem.lever if item not in self.problem.things else 1.0
        for _, slopes in eq.scalars(self.at):
            gx = gy = 0.0
            for column, slope in slopes:
                if column == 2 * item:
                    gx = slope / lever
                elif column == 2 * item + 1:
                    gy = slope
            size = math.hypot(gx, gy)
            if size > (0.0 if item in self.problem.things else 1e-15):
                hold.add((gx / size, gy / size))

    def choices(self, item: int) -> list[Equation]:
        """Frame equations that could be asked of an item."""
        if item not in self.problem.things:
            return [normal_equation(item, self.turn, FRAME_U), offset_equation(item, FRAME_U)]
        if self.centre is not None:
            return [heading_equation(self.centre, item, self.turn, FRAME_U)]
        found = []
        if self.motions.shape[1] == 1 and abs(self.motions[2, 0]) < 1e-9:
            angle = math.atan2(self.motions[1, 0], self.motions[0, 0]) % math.pi
            angle = 0.0 if angle > math.pi - 1e-12 else angle
            found.append(coordinate_equation(item, angle, FRAME_U))
        return found + [coordinate_equation(item, a, FRAME_U) for a in (0.0, math.pi / 2)]

    def choose_frame(self, item: int, hold: _Hold) -> None:
        """Spend what is left of the frame on an item that its rows don't hold."""
        if hold.rank == 2 or len(self.spent) == self.motions.shape[1]:
            return
        for eq in self.choices(item):
            if hold.rank == 2 or len(self.spent) == self.motions.shape[1]:
                break
            spent = np.vstack([self.spent, np.array(_moved(self.problem, eq, self.at)) @ self.motions])
            before = hold.rank
            self._hold(hold, item, eq)
            if hold.rank > before and np.linalg.matrix_rank(spent, tol=1e-7) == len(spent):
                self.spent = spent
                self.plan.frame.setdefault(item, []).append(eq)
                line_turned = item not in self.problem.things and eq.measure(self.at, 1)[0][1][0][0] % 2 == 0
                if len(eq.members) == 2 or line_turned:
                    self.plan.turning = item
            else:
                hold.rank = before

    def start_centre(self) -> None:
        """A sheet held by one known thing turns about it."""
        m = self.motions
        if m.shape[1] == 1 and abs(m[2, 0]) > 1e-9:
            lever = self.problem.lever
            x, y = -m[1, 0] / m[2, 0] * lever, m[0, 0] / m[2, 0] * lever
            held = [i for i in sorted(self.problem.fixed) if i in self.problem.things]
            self.centre = next(
                (i for i in held if math.hypot(self.at[2 * i] - x, self.at[2 * i + 1] - y) < 1e-6 * lever),
                None,
            )

    def place(self, item: int) -> None:
        """Put one item last in the order."""
        hold = self.holds[item]
        self.choose_frame(item, hold)
        if hold.rank < 2:
            self.plan.assumed.append(item)
        self.plan.order.append(item)
        self.plan.rows[item] = [self.problem.equations[e] for e in sorted(self.ready[item])]
        if item in self.lent:
            self.plan.lent[item] = [(self.problem.equations[e], of) for e, of in sorted(self.lent[item])]
        self.placed.add(item)
        if self.centre is None and item in self.problem.things and self.motions.shape[1] == 3:
            self.centre = item

    def key(self, item: int) -> tuple[int, bool, int, int, str, int]:
        """What to place next: most held first; things before lines; most checked, so that wrong mirror
        answers go at once; what leans on least; by name."""
        hold = self.holds[item]
        extra = hold.count if hold.rank == 2 else 0
        return (
            -hold.rank,
            item not in self.problem.things,
            -extra,
            self.problem.lean[item],
            self.problem.names[item],
            item,
        )

    def run(self) -> Plan:
        """Order the whole cluster."""
        self.start_centre()
        keys = {i: self.key(i) for i in self.plan.items}
        heap = sorted(keys.values())
        while heap:
            key = heapq.heappop(heap)
            item = key[-1]
            if item in self.placed or keys[item] != key:
                continue
            self.place(item)
            changed: set[int] = set()
            for e in self.problem.touching[item]:
                self.missing[e] -= 1
                self._ready(e)
                if self.missing[e] == 1:
                    changed.update(self.problem.equations[e].members)
            changed.update(k for m in sorted(changed) for k in self.kin.get(m, ()))
            for other in sorted(m for m in changed if m in keys and m not in self.placed):
                keys[other] = self.key(other)
                heapq.heappush(heap, keys[other])
        return self.plan


def make_plan(problem: Problem, cluster: tuple[int, ...], frame_free: bool, turn: float = 0.0) -> Plan:
    """The plan of one cluster; `turn` (radians) leads from the first thing to the second in a chosen
    frame.
    """
    plan = _Planner(problem, cluster, frame_free, turn, {}).run()
    if plan.assumed and (kin := kin_of(problem)):
        other = _Planner(problem, cluster, frame_free, turn, kin).run()
        plan = other if len(other.assumed) < len(plan.assumed) else plan
    if plan.assumed:
        numbers = sorted({e for i in cluster for e in problem.touching[i]})
        held = sum(len(problem.equations[e].us) for e in numbers) + len(plan.frame_equations)
        plan.simultaneous = held >= 2 * len(cluster)
    return plan
