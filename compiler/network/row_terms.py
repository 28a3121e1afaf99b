"""Rows of one kind, evaluated together: misses in mm and slopes as arrays.

Each term gives its misses and its slopes in a fixed order; `entries` says where the four numbers that a row
of two items depends on stand in the vector of all items."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from msgspec import Struct

from ..quantities.arrays import Floats, Index
from .equations import Equation
from .measures import TINY, direction, half_size
from .types import Centred, Coordinate, Distance, SizeReading, Tangent, ToLine

Entries = tuple[Index, Index, Index, Index]
Evaluated = tuple[Floats, tuple[Floats, ...]]


class Scalar(Struct, frozen=True, eq=False):
    """One scalar of a system: its row, which part of it, and its u."""

    row: Equation | SizeReading
    part: int
    u: float


def entries_of(equations: Sequence[Equation]) -> Entries:
    """Where the four numbers of each pair of items stand in the vector."""
    items = np.array([eq.members for eq in equations], dtype=np.intp).reshape(-1, 2)
    a, b = 2 * items[:, 0], 2 * items[:, 1]
    return a, a + 1, b, b + 1


class PairTerms(Struct, frozen=True, eq=False):
    """Distances between two round things."""

    entries: Entries
    given: Floats

    def evaluate(self, z: Floats) -> Evaluated:
        """Misses, and slopes by ax, ay, bx, by."""
        ax, ay, bx, by = self.entries
        dx, dy = z[bx] - z[ax], z[by] - z[ay]
        d = np.hypot(dx, dy)
        apart = np.maximum(d, TINY)
        nx, ny = np.where(d > TINY, dx / apart, 1.0), np.where(d > TINY, dy / apart, 0.0)
        return d + self.given, (-nx, -ny, nx, ny)


class LineTerms(Struct, eq=False):
    """Readings from round things to lines; `sides` is 0 where the side is open, `signs` the side in use."""

    entries: Entries
    given: Floats
    sides: Floats
    signs: Floats

    def face(self, z: Floats) -> None:
        """Pick open sides anew, by the smaller miss."""
        x, y, angle, offset = (z[e] for e in self.entries)
        reach = np.asarray(np.cos(angle) * x + np.sin(angle) * y - offset)
        guess = np.where(np.abs(reach + self.given) <= np.abs(self.given - reach) + TINY, 1.0, -1.0)
        self.signs = np.where(self.sides == 0, guess, self.sides)

    def evaluate(self, z: Floats) -> Evaluated:
        """Misses, and slopes by x, y, angle, offset."""
        x, y, angle, offset = (z[e] for e in self.entries)
        s = self.signs
        nx, ny = s * np.cos(angle), s * np.sin(angle)
        return nx * x + ny * y - s * offset + self.given, (nx, ny, nx * y - ny * x, -s)


class CoordinateTerms(Struct, frozen=True, eq=False):
    """Coordinates of one thing from another, along unit directions `ways` (2, n)."""

    entries: Entries
    given: Floats
    ways: Floats

    def evaluate(self, z: Floats) -> Evaluated:
        """Misses, and slopes by ax, ay, bx, by."""
        ax, ay, bx, by = self.entries
        wx, wy = self.ways
        return wx * (z[ax] - z[bx]) + wy * (z[ay] - z[by]) - self.given, (wx, wy, -wx, -wy)


class OtherTerms(Struct, eq=False):
    """All other rows, one by one; `signs` is the answer in use where a row has two."""

    equations: list[Equation]
    signs: list[int]

    def face(self, at: list[float]) -> None:
        """Pick open signs anew, by the smaller miss."""
        self.signs = [eq.sign(at) for eq in self.equations]

    def measured(self, at: list[float]) -> list[tuple[float, Sequence[tuple[int, float]]]]:
        """The miss of every scalar and its slopes by entry of the vector."""
        pairs = zip(self.equations, self.signs, strict=True)
        return [scalar for eq, sign in pairs for scalar in eq.measure(at, sign)]


class SizeTerms(Struct, frozen=True, eq=False):
    """Where diameters play into scalars: number of the scalar, of the diameter, and slope; `shift` (per
    scalar) makes up for the nominal radii that the rows were written with.
    """

    rows: Index
    index: Index
    slopes: Floats
    shift: Floats


Things = dict[int, Centred]


def pair_terms(equations: Sequence[Equation], things: Things) -> PairTerms:
    """The distances among some equations, as arrays."""
    given = [
        sum(e * things[i].radius for i, e in eq.edges) - eq.row.value
        for eq in equations
        if isinstance(eq.row, Distance)
    ]
    return PairTerms(entries_of(equations), np.array(given, dtype=float))


def line_terms(equations: Sequence[Equation], things: Things) -> LineTerms:
    """The readings to lines among some equations, as arrays; their signs are still to be picked."""
    given = [
        sum(e * things[i].radius for i, e in eq.edges) - (eq.row.value if isinstance(eq.row, ToLine) else 0.0)
        for eq in equations
    ]
    sides = [eq.row.side for eq in equations if isinstance(eq.row, ToLine | Tangent)]
    held = np.array(sides, dtype=float)
    return LineTerms(entries_of(equations), np.array(given, dtype=float), held, held)


def coordinate_terms(equations: Sequence[Equation], things: Things) -> CoordinateTerms:
    """The coordinates among some equations, as arrays."""
    rows = [(eq, eq.row) for eq in equations if isinstance(eq.row, Coordinate)]
    ways = [direction(row.angle, row.side) for _, row in rows]
    given = [
        row.value - sum(e * half_size(things[i], *direction(row.angle))[0] for i, e in eq.edges)
        for eq, row in rows
    ]
    turned = np.array(ways).reshape(-1, 2).T
    return CoordinateTerms(entries_of(equations), np.array(given, dtype=float), turned)


def size_terms(scalars: Sequence[Scalar], things: Things, size_of: dict[str, int]) -> SizeTerms:
    """Where diameters play into these scalars."""
    rows: list[int] = []
    sizes: list[int] = []
    slopes: list[float] = []
    shift = np.zeros(len(scalars))
    for k, scalar in enumerate(scalars):
        if isinstance(scalar.row, SizeReading):
            rows.append(k)
            sizes.append(size_of[scalar.row.size])
            slopes.append(1.0)
            shift[k] = -scalar.row.value
            continue
        for item, edge in scalar.row.edges:
            name = things[item].size
            if name is not None and edge:
                rows.append(k)
                sizes.append(size_of[name])
                slopes.append(edge / 2)
                shift[k] -= edge * things[item].radius
    index = np.array(rows, dtype=np.intp), np.array(sizes, dtype=np.intp)
    return SizeTerms(*index, np.array(slopes, dtype=float), shift)
