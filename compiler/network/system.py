"""A whole plane as one system of misses: places, lines and shared diameters, evaluated row kind by row kind.

The unknowns stand in one vector: entry 2i, 2i + 1 of item i as in `equations`, then the diameters by name.  A
diameter enters a row as edge / 2 times its difference from the thing's nominal radius doubled, so that rows
of `equations` stay as they are.  Distances, readings to lines and coordinates of round things are evaluated
as arrays; the rest one by one. Everything is divided by the row's u."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from msgspec import Struct
from msgspec.structs import asdict

from ..quantities.arrays import Bools, Floats, Index
from .equations import Equation
from .problem import Problem
from .row_terms import (
    CoordinateTerms,
    LineTerms,
    OtherTerms,
    PairTerms,
    Scalar,
    SizeTerms,
    coordinate_terms,
    line_terms,
    pair_terms,
    size_terms,
)
from .types import Coordinate, Distance, SizeReading, Tangent, ToLine


class UnknownColumns(Struct, frozen=True, eq=False):
    """What is unknown of a plane, and where it stands.

    `free`: items; `sizes`: diameters; `all_sizes`: with those that are known, `size_of` their numbers, which
    stand in the vector from `base` on.  `column`: number of the unknown of each entry of the vector (-1:
    known), `entry` the other way round; `width`: how many; `node_widths`: two per item, one per diameter."""

    problem: Problem
    free: list[int]
    sizes: list[str]
    all_sizes: list[str]
    size_of: dict[str, int]
    base: int
    column: Index
    entry: Index
    width: int
    node_widths: list[int]


class System(UnknownColumns, frozen=True, eq=False):
    """Misses and slopes of a problem with its diameters.

    `start`: a vector to start from; `scalars[k]` says what miss k is, `us` its u; `rows`, `columns` are the
    places of the slopes that `evaluate` gives, `kept` those of its slopes that are of unknowns."""

    start: Floats
    scalars: list[Scalar]
    us: Floats
    pairs: PairTerms
    lines: LineTerms
    coordinates: CoordinateTerms
    others: OtherTerms
    size_terms: SizeTerms
    no_misses: Floats
    kept: Bools
    rows: Index
    columns: Index

    def face(self, z: Floats) -> None:
        """Pick open signs anew from a vector, by the smaller miss; they are then held."""
        self.others.face(z[: self.base].tolist())
        self.lines.face(z)

    def evaluate(self, z: Floats) -> tuple[Floats, Floats]:
        """Misses in units of u, and the slopes that stand at (`rows`, `columns`)."""
        misses: list[Floats] = []
        slopes: list[Floats] = []
        for terms in (self.pairs, self.lines, self.coordinates):
            if len(terms.given):
                found, ways = terms.evaluate(z)
                misses.append(found)
                slopes += ways
        if self.others.equations:
            measured = self.others.measured(z[: self.base].tolist())
            misses.append(np.array([miss for miss, _ in measured], dtype=float))
            slopes.append(np.array([v for _, part in measured for _, v in part], dtype=float))
        sizes = self.size_terms
        whole = np.concatenate([*misses, self.no_misses]) + sizes.shift
        if len(sizes.rows):
            whole += np.bincount(sizes.rows, sizes.slopes * z[self.base + sizes.index], len(whole))
        return whole / self.us, np.concatenate([*slopes, sizes.slopes])[self.kept] / self.us[self.rows]


def make_system(
    problem: Problem,
    equations: Sequence[Equation],
    readings: Sequence[SizeReading],
    items: Sequence[int],
    sizes: Sequence[str],
    start: Sequence[float],
) -> System:
    """The system of some rows; `items` and `sizes`: what is unknown; `start`: a vector to start from (nominal
    diameters where it has none).
    """
    ordered = sorted(readings, key=lambda r: (r.size, r.value, r.u, r.key))
    unknowns = _unknowns(problem, ordered, items, sizes)
    first = start if len(start) > unknowns.base else [*start, *_nominal(unknowns, ordered)]
    z = np.array(first, dtype=float)
    kinds = _sorted(problem, equations)
    scalars = [Scalar(eq, k, u) for kind in kinds for eq in kind for k, u in enumerate(eq.us)]
    scalars += [Scalar(r, 0, r.u) for r in ordered]
    pairs, coordinates = pair_terms(kinds[0], problem.things), coordinate_terms(kinds[2], problem.things)
    lines, others = line_terms(kinds[1], problem.things), OtherTerms(kinds[3], [])
    others.face(z[: unknowns.base].tolist())
    lines.face(z)
    in_sizes = size_terms(scalars, problem.things, unknowns.size_of)

    counts = [len(kind) for kind in kinds[:3]]
    rows = [np.tile(np.arange(k, k + n), 4) for k, n in zip(np.cumsum([0, *counts]), counts, strict=False)]
    entries = [e for terms in (pairs, lines, coordinates) for e in terms.entries]
    for k, (_, slopes) in enumerate(others.measured(z[: unknowns.base].tolist()), start=sum(counts)):
        rows.append(np.full(len(slopes), k))
        entries.append(np.array([e for e, _ in slopes], dtype=np.intp))
    rows.append(in_sizes.rows)
    entries.append(unknowns.base + in_sizes.index)
    where = unknowns.column[np.concatenate(entries).astype(np.intp)]
    kept = where >= 0
    return System(
        **asdict(unknowns),
        start=z,
        scalars=scalars,
        us=np.array([s.u for s in scalars]),
        pairs=pairs,
        lines=lines,
        coordinates=coordinates,
        others=others,
        size_terms=in_sizes,
        no_misses=np.zeros(len(ordered)),
        kept=kept,
        rows=np.concatenate(rows).astype(np.intp)[kept],
        columns=where[kept],
    )


def _unknowns(
    problem: Problem, readings: Sequence[SizeReading], items: Sequence[int], sizes: Sequence[str]
) -> UnknownColumns:
    named = {t.size for t in problem.things.values() if t.size is not None}
    all_sizes = sorted({r.size for r in readings} | named)
    size_of = {name: k for k, name in enumerate(all_sizes)}
    base = 2 * len(problem.names)
    column = np.full(base + len(all_sizes), -1, dtype=np.intp)
    for n, item in enumerate(items):
        column[2 * item : 2 * item + 2] = (2 * n, 2 * n + 1)
    for n, name in enumerate(sizes):
        column[base + size_of[name]] = 2 * len(items) + n
    items_of = [2 * item + k for item in items for k in (0, 1)]
    return UnknownColumns(
        problem,
        list(items),
        list(sizes),
        all_sizes,
        size_of,
        base,
        column,
        np.array([*items_of, *(base + size_of[n] for n in sizes)], dtype=np.intp),
        2 * len(items) + len(sizes),
        [2] * len(items) + [1] * len(sizes),
    )


def _nominal(unknowns: UnknownColumns, readings: Sequence[SizeReading]) -> list[float]:
    """Start of each diameter: the weighted mean of its readings, else twice the mean nominal radius."""
    found = []
    for name in unknowns.all_sizes:
        mine = [r for r in readings if r.size == name]
        radii = [t.radius for _, t in sorted(unknowns.problem.things.items()) if t.size == name]
        weight = sum(r.u**-2 for r in mine)
        found.append(sum(r.value * r.u**-2 for r in mine) / weight if mine else 2 * sum(radii) / len(radii))
    return found


def _sorted(problem: Problem, equations: Sequence[Equation]) -> tuple[list[Equation], ...]:
    """Rows by kind: distances, to lines, coordinates, which go as arrays, then the others."""

    def is_round(item: int) -> bool:
        thing = problem.things[item]
        return not (thing.half_long or thing.half_wide)

    kinds: tuple[list[Equation], ...] = ([], [], [], [])
    for eq in equations:
        row, m = eq.row, eq.members
        if isinstance(row, Distance) and len(eq.us) == 1 and is_round(m[0]) and is_round(m[1]):
            kinds[0].append(eq)
        elif isinstance(row, ToLine | Tangent) and is_round(m[0]):
            kinds[1].append(eq)
        else:
            kinds[2 if isinstance(row, Coordinate) and len(m) == 2 else 3].append(eq)
    return kinds
