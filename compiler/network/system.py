"""A whole plane as one system of misses: places, lines and shared diameters, evaluated row kind by row kind.

The unknowns stand in one vector: entry 2i, 2i + 1 of item i as in `equations`, then the diameters by name.  A
diameter enters a row as edge / 2 times its difference from the thing's nominal radius doubled, so that rows
of `equations` stay as they are.  Distances, readings to lines and coordinates of round things are evaluated
as arrays; the rest one by one. Everything is divided by the row's u."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from msgspec import Struct

from ..quantities.arrays import Floats, Index
from .equations import Equation
from .measures import TINY, direction, half_size
from .problem import Problem
from .types import Coordinate, Distance, SizeReading, Tangent, ToLine


class Scalar(Struct, frozen=True, eq=False):
    """One scalar of the system: its row (None: a choice of frame), which part of it, and its u."""

    row: Equation | SizeReading
    part: int
    u: float


def _entries(items: Index) -> tuple[Index, Index, Index, Index]:
    """Where the four numbers of each pair of items stand in the vector."""
    a, b = 2 * items[:, 0], 2 * items[:, 1]
    return a, a + 1, b, b + 1


class System:
    """Misses and slopes of a problem with its diameters.

    `scalars[k]` says what miss k is; `rows`, `columns` are the places of the slopes that `evaluate` gives
    (columns are unknown numbers; nodes: two per free item, then one per diameter)."""

    def __init__(
        self,
        problem: Problem,
        equations: Sequence[Equation],
        readings: Sequence[SizeReading],
        items: Sequence[int],
        sizes: Sequence[str],
        start: Sequence[float],
    ) -> None:
        """`items` and `sizes`: what is unknown; `start`: a vector to start from (nominal diameters where it
        has none).
        """
        self.problem = problem
        self.all_sizes = sorted(
            {r.size for r in readings} | {t.size for t in problem.things.values() if t.size is not None}
        )
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
            found.append(
                sum(r.value * r.u**-2 for r in mine) / weight if mine else 2 * sum(radii) / len(radii)
            )
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
        self.no_misses = np.zeros(len(self.readings))

    def face(self, z: Floats) -> None:
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
            for item, edge in scalar.row.edges:
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
        given = [
            sum(e * things[i].radius for i, e in eq.edges) - eq.row.value
            for eq in self.pairs
            if isinstance(eq.row, Distance)
        ]
        self.pair_entries, self.pair_given = _entries(p), np.array(given, dtype=float)
        q = np.array([eq.members for eq in self.to_lines], dtype=np.intp).reshape(-1, 2)
        given = [
            sum(e * things[i].radius for i, e in eq.edges)
            - (eq.row.value if isinstance(eq.row, ToLine) else 0.0)
            for eq in self.to_lines
        ]
        self.line_entries, self.line_given = _entries(q), np.array(given, dtype=float)
        self.line_sides = np.array(
            [eq.row.side for eq in self.to_lines if isinstance(eq.row, ToLine | Tangent)], dtype=float
        )
        self.face(self.start)
        c = np.array([eq.members for eq in self.coordinates], dtype=np.intp).reshape(-1, 2)
        self.coordinate_entries = _entries(c)
        ways = [
            direction(eq.row.angle, eq.row.side) for eq in self.coordinates if isinstance(eq.row, Coordinate)
        ]
        self.coordinate_ways = np.array(ways).reshape(-1, 2).T
        given = [
            eq.row.value - sum(e * half_size(things[i], *direction(eq.row.angle))[0] for i, e in eq.edges)
            for eq in self.coordinates
            if isinstance(eq.row, Coordinate)
        ]
        self.coordinate_given = np.array(given, dtype=float)

        counts = [len(p), len(q), len(c)]
        first = np.cumsum([0, *counts])
        rows = [np.tile(np.arange(k, k + n), 4) for k, n in zip(first, counts, strict=False)]
        entries = [
            e for four in (self.pair_entries, self.line_entries, self.coordinate_entries) for e in four
        ]
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

    def _reach(self, z: Floats) -> Floats:
        """Signed distance of every thing read to a line from that line."""
        x, y, angle, offset = (z[e] for e in self.line_entries)
        return np.asarray(np.cos(angle) * x + np.sin(angle) * y - offset)

    def evaluate(self, z: Floats) -> tuple[Floats, Floats]:
        """Misses in units of u, and the slopes that stand at (`rows`, `columns`)."""
        misses: list[Floats] = []
        slopes: list[Floats] = []
        if len(self.pair_given):
            ax, ay, bx, by = self.pair_entries
            dx, dy = z[bx] - z[ax], z[by] - z[ay]
            d = np.hypot(dx, dy)
            apart = np.maximum(d, TINY)
            nx, ny = np.where(d > TINY, dx / apart, 1.0), np.where(d > TINY, dy / apart, 0.0)
            misses.append(d + self.pair_given)
            slopes += [-nx, -ny, nx, ny]
        if len(self.line_given):
            x, y, angle, offset = (z[e] for e in self.line_entries)
            s = self.line_signs
            nx, ny = s * np.cos(angle), s * np.sin(angle)
            misses.append(nx * x + ny * y - s * offset + self.line_given)
            slopes += [nx, ny, nx * y - ny * x, -s]
        if len(self.coordinate_given):
            ax, ay, bx, by = self.coordinate_entries
            wx, wy = self.coordinate_ways
            misses.append(wx * (z[ax] - z[bx]) + wy * (z[ay] - z[by]) - self.coordinate_given)
            slopes += [wx, wy, -wx, -wy]
        if self.others:
            at = z[: self.base].tolist()
            found = [
                one for eq, sign in zip(self.others, self.signs, strict=True) for one in eq.measure(at, sign)
            ]
            misses.append(np.array([miss for miss, _ in found], dtype=float))
            slopes.append(np.array([v for _, part in found for _, v in part], dtype=float))
        whole = np.concatenate([*misses, self.no_misses]) + self.shift
        if len(self.size_rows):
            whole += np.bincount(
                self.size_rows, self.size_slopes * z[self.base + self.size_index], len(whole)
            )
        return whole / self.us, np.concatenate([*slopes, self.size_slopes])[self.kept] / self.us[self.rows]
