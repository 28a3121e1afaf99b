"""A network put in one canonical order, so that no arithmetic depends on how the caller listed it.

Items are numbered: lines before things, each sorted by name; rows are sorted by what they say, never by their
key. Symmetric rows (a distance, a middle) are turned so that the smaller name stands first."""

from __future__ import annotations

import math
from enum import Enum
from functools import cached_property

from msgspec import Struct
from msgspec.structs import astuple, replace

from .equations import Equation, equation
from .types import (
    Centred,
    Coordinate,
    Distance,
    FixedLine,
    LineGap,
    LineThing,
    Midway,
    Network,
    ReadingRow,
    Roughly,
    SideWord,
    Spoken,
    Tangent,
    ToLine,
)


class Problem(Struct, frozen=True, eq=False, dict=True):
    """A network in canonical order.

    `unspoken` are the items that no side word can name.
    `names[i]` is item i; `things` holds the sizes of those items that are things; `fixed` the items known
    beforehand; `start` a layout with the known places filled in and 0 elsewhere; `lever` a length typical of
    the network (mm); `lean[i]` how many readings item i's own statement takes from others (it orders
    construction: what leans on nothing comes first); `touching[i]` numbers of the equations that tie item i.
    """

    names: tuple[str, ...]
    where: dict[str, int]
    things: dict[int, Centred]
    fixed: frozenset[int]
    start: tuple[float, ...]
    equations: tuple[Equation, ...]
    touching: tuple[tuple[int, ...], ...]
    lean: tuple[int, ...]
    lever: float
    sides: tuple[SideWord, ...]
    roughly: tuple[Roughly, ...]
    unspoken: frozenset[int]

    @cached_property
    def free(self) -> list[int]:
        """Items to be found, in canonical order."""
        return [i for i in range(len(self.names)) if i not in self.fixed]

    @cached_property
    def made_up(self) -> dict[int, list[float]]:
        """Layouts at made-up places by salt, kept because every cluster of a large plane asks for the same
        one.
        """
        return {}


def _plain(value: object) -> tuple[int, float, str]:
    if isinstance(value, str):
        return (2, 0.0, value)
    if isinstance(value, int | float):
        return (1, float(value), "")
    if value is None:
        return (0, 0.0, "")
    return (1, float(value.value), "") if isinstance(value, Enum) else (2, 0.0, repr(value))


def content(row: ReadingRow | SideWord | Roughly) -> tuple[object, ...]:
    """What a row says, as a sortable tuple, without its key (which stands first)."""
    return (type(row).__name__, *map(_plain, astuple(row)[1:]))


def _turned(row: ReadingRow) -> ReadingRow:
    if isinstance(row, Distance) and row.b < row.a:
        return replace(row, a=row.b, b=row.a, edge_a=row.edge_b, edge_b=row.edge_a)
    if isinstance(row, Midway) and row.second < row.first:
        return replace(row, first=row.second, second=row.first)
    return row


def _check(net: Network) -> None:
    names = [t.name for t in net.things] + [t.name for t in net.lines]
    names += [f.thing.name for f in net.fixed_things] + [f.name for f in net.fixed_lines]
    if len(set(names)) != len(names):
        raise ValueError("a name stands twice in one plane")
    for row in net.rows:
        if not all(math.isfinite(v) for v in astuple(row) if isinstance(v, float)) or not row.u > 0:
            raise ValueError(f"row {row.key} holds a number that is none, or no give-or-take")
    for size in net.sizes:
        if not math.isfinite(size.value) or not size.u > 0:
            raise ValueError(f"size {size.key} holds a number that is none, or no give-or-take")
    for side in net.sides:
        if side.a not in names or side.b not in names or (side.base is not None and side.base not in names):
            raise ValueError(f"side {side.key} speaks of something unknown")
    for rough in net.roughly:
        if rough.a not in {t.name for t in net.things} | {f.thing.name for f in net.fixed_things}:
            raise ValueError(f"{rough.a} is no thing of this plane")


def _lever(net: Network) -> float:
    """The largest length spoken of; 1 mm at least."""
    lengths = [
        abs(row.value) for row in net.rows if isinstance(row, Distance | ToLine | Coordinate | LineGap)
    ]
    lengths += [abs(f.offset) for f in net.fixed_lines] + [abs(v) for f in net.fixed_things for v in f.at]
    return max([1.0, *lengths])


def _lean(net: Network, where: dict[str, int]) -> tuple[int, ...]:
    count = [0] * len(where)
    fixed = {f.thing.name for f in net.fixed_things}
    for row in net.rows:
        if not isinstance(row, Distance | Coordinate) or row.b is None or {row.a, row.b} & fixed:
            continue
        if row.a in where and (isinstance(row, Distance) or row.key != 0):
            count[where[row.a]] += 1
    return tuple(count)


def arrange(net: Network) -> Problem:
    """Put a network in canonical order.  ValueError for a broken contract (unknown name, not a number)."""
    _check(net)
    things = {t.name: t for t in (*net.things, *(f.thing for f in net.fixed_things))}
    known: dict[str, tuple[float, float]] = {f.thing.name: f.at for f in net.fixed_things}
    known |= {f.name: (f.angle, f.offset) for f in net.fixed_lines}
    lines = sorted([t.name for t in net.lines] + [f.name for f in net.fixed_lines])
    names = (*lines, *sorted(things))
    where = {name: i for i, name in enumerate(names)}
    numbered = {where[name]: thing for name, thing in things.items()}
    named: list[Centred | LineThing | FixedLine] = [*things.values(), *net.lines, *net.fixed_lines]
    lever = _lever(net)
    sided = {f.name: f for f in net.fixed_lines if f.open_side}
    rows = sorted((_facing(_turned(r), sided) for r in net.rows), key=content)
    equations = tuple(equation(row, where, numbered, lever) for row in rows)
    touching: list[list[int]] = [[] for _ in names]
    for e, eq in enumerate(equations):
        for item in sorted(set(eq.members)):
            touching[item].append(e)
    return Problem(
        names=names,
        where=where,
        things=numbered,
        fixed=frozenset(where[n] for n in known),
        start=tuple(float(v) for n in names for v in known.get(n, (0.0, 0.0))),
        equations=equations,
        touching=tuple(tuple(t) for t in touching),
        lean=_lean(net, where),
        lever=lever,
        sides=tuple(sorted(net.sides, key=content)),
        roughly=tuple(sorted(net.roughly, key=content)),
        unspoken=frozenset(where[one.name] for one in named if one.spoken is not Spoken.ANYHOW),
    )


def faced(row: ReadingRow, net: Network) -> ReadingRow:
    """A row as `arrange` would take it: turned into canonical form, its side taken from its line's open
    side.
    """
    return _facing(_turned(row), {f.name: f for f in net.fixed_lines if f.open_side})


def _facing(row: ReadingRow, sided: dict[str, FixedLine]) -> ReadingRow:
    """A row without a side takes the open side of its line, where the line has one."""
    if isinstance(row, ToLine | Tangent) and row.side == 0 and row.line in sided:
        return replace(row, side=sided[row.line].open_side)
    if isinstance(row, LineGap) and row.side == 0 and row.other in sided:
        return replace(row, side=sided[row.other].open_side)
    return row
