"""A whole plane as one system of misses: places, lines and shared diameters, evaluated row kind by row kind.

The unknowns stand in one vector: entry 2i, 2i + 1 of item i as in `equations`, then the diameters by name.  A diameter
enters a row as edge / 2 times its difference from the thing's nominal radius doubled, so that rows of `equations` stay
as they are.  Distances, readings to lines and coordinates of round things are evaluated as arrays; the rest one by one.
Everything is divided by the row's u.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np
import numpy.typing as npt
from msgspec import Struct

from .equations import TINY, Equation
from .problem import Problem
from .types import Coordinate, Distance, SizeReading, Tangent, ToLine

Array = npt.NDArray[np.float64]
Index = npt.NDArray[np.intp]


def edges_of(eq: Equation) -> tuple[tuple[int, int], ...]:
    """(item, edge) of every thing whose half-size plays into a row."""
    row, m = eq.row, eq.members
    if isinstance(row, Distance) and len(eq.us) == 1:
        return ((m[0], row.edge_a.value), (m[1], row.edge_b.value))
    if isinstance(row, ToLine):
        return ((m[0], row.edge.value),)
    return ((m[0], -1),) if isinstance(row, Tangent) else ()


class Scalar(Struct, frozen=True, eq=False):
    """One scalar of the system: its row (None: a choice of frame), which part of it, and its u."""

    row: Equation | SizeReading
    part: int
    u: float


class System:
    """Misses and slopes of a problem with its diameters.

    `scalars[k]` says what miss k is; `rows`, `columns` are the places of the slopes that `evaluate` gives (columns are
    unknown numbers; nodes: two per free item, then one per diameter).
    """

    def __init__(
        self,
        problem: Problem,
        equations: Sequence[Equation],
        readings: Sequence[SizeReading],
        items: Sequence[int],
        sizes: Sequence[str],
        start: Sequence[float],
    ) -> None:
        """`items` and `sizes`: what is unknown; `start`: a vector to start from (nominal diameters where it has none)."""
        self.problem = problem
        self.all_sizes = sorted({r.size for r in readings} | {t.size for t in problem.things.values() if t.size is not None})
        self.size_of = {name: k for k, name in enumerate(self.all_sizes)}
        self.readings = sorted(readings, key=lambda r: (r.size, r.value, r.u, r.key))
        self.free, self.sizes = list(items), list(sizes)
        self.base = 2 * len(problem.names)
        self.column = np.full(self.base + len(self.all_sizes), -1, dtype=np.intp)
        for n, item in enumerate(self.free):
            self.column[2 * item : 2 * item + 2] = (2 * n, 2 * n + 1)
        for n, name in enumerate(self.sizes):
            self.column[self.base + self.size_of[name]] = 2 * len(self.free) + n
        self.width = 2 * len(self.free) + len(self.sizes)
        self.node_widths = [2] * len(self.free) + [1] * len(self.sizes)
        items_of = [2 * item + k for item in self.free for k in (0, 1)]
        self.entry = np.array([*items_of, *(self.base + self.size_of[n] for n in self.sizes)], dtype=np.intp)
        self.start = np.array(start if len(start) > self.base else [*start, *self._nominal()], dtype=float)
        self._sort(equations)
        self._size_terms()
        self._pattern()

    def _nominal(self) -> list[float]:
        """Start of each diameter: the weighted mean of its readings, else twice the mean nominal radius."""
        found = []
        for name in self.all_sizes:
            mine = [r for r in self.readings if r.size == name]
            radii = [t.radius for _, t in sorted(self.problem.things.items()) if t.size == name]
            weight = sum(r.u**-2 for r in mine)
            found.append(sum(r.value * r.u**-2 for r in mine) / weight if mine else 2 * sum(radii) / len(radii))
        return found

    def _round(self, item: int) -> bool:
        thing = self.problem.things[item]
        return not (thing.half_long or thing.half_wide)

    def _sort(self, equations: Sequence[Equation]) -> None:
        """Rows by kind: those that go as arrays, then the others, then the readings of diameters."""
        kinds: tuple[list[Equation], ...] = ([], [], [], [])
        for eq in equations:
            row, m = eq.row, eq.members
            if isinstance(row, Distance) and len(eq.us) == 1 and self._round(m[0]) and self._round(m[1]):
                kinds[0].append(eq)
            elif isinstance(row, ToLine | Tangent) and self._round(m[0]):
                kinds[1].append(eq)
            else:
                kinds[2 if isinstance(row, Coordinate) and len(m) == 2 else 3].append(eq)
        self.pairs, self.to_lines, self.coordinates, self.others = kinds
        ordered = [eq for kind in kinds for eq in kind]
        self.scalars = [Scalar(eq, k, u) for eq in ordered for k, u in enumerate(eq.us)]
        self.scalars += [Scalar(r, 0, r.u) for r in self.readings]
        self.us = np.array([s.u for s in self.scalars])

    def face(self, z: Array) -> None:
        """Pick open signs anew from a vector, by the smaller miss; they are then held."""
        at = z[: self.base].tolist()
        self.signs = [eq.sign(at) for eq in self.others]
        reach = self._reach(z)
        guess = np.where(np.abs(reach + self.line_given) <= np.abs(self.line_given - reach) + TINY, 1.0, -1.0)
        self.line_signs = np.where(self.line_sides == 0, guess, self.line_sides)

    def _size_terms(self) -> None:
        """Where diameters play into rows, and what the nominal radii must be made up for."""
        rows: list[int] = []
        sizes: list[int] = []
        slopes: list[float] = []
        self.shift = np.zeros(len(self.scalars))
        things = self.problem.things
        for k, scalar in enumerate(self.scalars):
            if isinstance(scalar.row, SizeReading):
                rows.append(k)
                sizes.append(self.size_of[scalar.row.size])
                slopes.append(1.0)
                self.shift[k] = -scalar.row.value
                continue
            for item, edge in edges_of(scalar.row):
                name = things[item].size
                if name is not None and edge:
                    rows.append(k)
                    sizes.append(self.size_of[name])
                    slopes.append(edge / 2)
                    self.shift[k] -= edge * things[item].radius
        self.size_rows, self.size_index = np.array(rows, dtype=np.intp), np.array(sizes, dtype=np.intp)
        self.size_slopes = np.array(slopes, dtype=float)

    def _pattern(self) -> None:
        p = np.array([eq.members for eq in self.pairs], dtype=np.intp).reshape(-1, 2)
        things = self.problem.things
        given = [sum(e * things[i].radius for i, e in edges_of(eq)) - eq.row.value
                 for eq in self.pairs if isinstance(eq.row, Distance)]  # fmt: skip
        self.pair_items, self.pair_given = p, np.array(given, dtype=float)
        q = np.array([eq.members for eq in self.to_lines], dtype=np.intp).reshape(-1, 2)
        given = [sum(e * things[i].radius for i, e in edges_of(eq)) - (eq.row.value if isinstance(eq.row, ToLine) else 0.0)
                 for eq in self.to_lines]  # fmt: skip
        self.line_items, self.line_given = q, np.array(given, dtype=float)
        self.line_sides = np.array([eq.row.side for eq in self.to_lines if isinstance(eq.row, ToLine | Tangent)], dtype=float)
        self.face(self.start)
        c = np.array([eq.members for eq in self.coordinates], dtype=np.intp).reshape(-1, 2)
        self.coordinate_items = c
        ways = [(math.cos(eq.row.angle), math.sin(eq.row.angle)) for eq in self.coordinates if isinstance(eq.row, Coordinate)]
        self.coordinate_ways = np.array([[0.0 if abs(v) < 1e-15 else v for v in way] for way in ways]).reshape(-1, 2)
        given = [eq.row.value for eq in self.coordinates if isinstance(eq.row, Coordinate)]
        self.coordinate_given = np.array(given, dtype=float)

        def four(items: Index) -> Index:
            return np.stack([2 * items[:, 0], 2 * items[:, 0] + 1, 2 * items[:, 1], 2 * items[:, 1] + 1], axis=1).ravel()

        counts = [len(p), len(q), len(c)]
        rows = [np.repeat(np.arange(sum(counts)), 4)]
        entries = [four(p), four(q), four(c)]
        at, k = self.start[: self.base].tolist(), sum(counts)
        for eq, sign in zip(self.others, self.signs, strict=True):
            for _, slopes in eq.measure(at, sign):
                rows.append(np.full(len(slopes), k))
                entries.append(np.array([e for e, _ in slopes], dtype=np.intp))
                k += 1
        rows.append(self.size_rows)
        entries.append(self.base + self.size_index)
        where = self.column[np.concatenate(entries).astype(np.intp)]
        self.kept = where >= 0
        self.rows, self.columns = np.concatenate(rows).astype(np.intp)[self.kept], where[self.kept]

    def _reach(self, z: Array) -> Array:
        """Signed distance of every thing read to a line from that line."""
        t, k = 2 * self.line_items[:, 0], 2 * self.line_items[:, 1]
        return np.asarray(np.cos(z[k]) * z[t] + np.sin(z[k]) * z[t + 1] - z[k + 1])

    def evaluate(self, z: Array) -> tuple[Array, Array]:
        """Misses in units of u, and the slopes that stand at (`rows`, `columns`)."""
        a, b = 2 * self.pair_items[:, 0], 2 * self.pair_items[:, 1]
        dx, dy = z[b] - z[a], z[b + 1] - z[a + 1]
        d = np.hypot(dx, dy)
        safe = np.where(d > TINY, d, 1.0)
        nx, ny = np.where(d > TINY, dx / safe, 1.0), np.where(d > TINY, dy / safe, 0.0)
        misses, slopes = [d + self.pair_given], [np.stack([-nx, -ny, nx, ny], axis=1).ravel()]
        t, k = 2 * self.line_items[:, 0], 2 * self.line_items[:, 1]
        cos, sin, s = np.cos(z[k]), np.sin(z[k]), self.line_signs
        misses.append(s * (cos * z[t] + sin * z[t + 1] - z[k + 1]) + self.line_given)
        slopes.append(np.stack([s * cos, s * sin, s * (cos * z[t + 1] - sin * z[t]), -s], axis=1).ravel())
        a, b, way = 2 * self.coordinate_items[:, 0], 2 * self.coordinate_items[:, 1], self.coordinate_ways
        misses.append(way[:, 0] * (z[a] - z[b]) + way[:, 1] * (z[a + 1] - z[b + 1]) - self.coordinate_given)
        slopes.append(np.concatenate([way, -way], axis=1).ravel())
        at = z[: self.base].tolist()
        found = [one for eq, sign in zip(self.others, self.signs, strict=True) for one in eq.measure(at, sign)]
        misses += [np.array([miss for miss, _ in found], dtype=float), np.zeros(len(self.readings))]
        slopes += [np.array([v for _, part in found for _, v in part], dtype=float), self.size_slopes]
        whole = np.concatenate(misses) + self.shift
        whole += np.bincount(self.size_rows, self.size_slopes * z[self.base + self.size_index], len(whole))[: len(whole)]
        return whole / self.us, np.concatenate(slopes)[self.kept] / self.us[self.rows]
