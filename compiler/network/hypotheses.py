"""What a reading could have been instead: another edge word, inches for mm, two digits swapped, one digit
misread.

A calliper slip is rarely random: it is a word or a digit, and then the true value is known exactly.  That is
why such an explanation is far sharper than leaving the reading out.  Only rows' contents are used here."""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterable, Mapping, Sequence

from msgspec.structs import replace

from .adjustment_types import Alternative, EdgeSlip, Misread, NumberSlip, Slip, UnitSlip
from .types import (
    Centred,
    Coordinate,
    Distance,
    LineGap,
    Network,
    ReadEdge,
    ReadingRow,
    SizeReading,
    ToLine,
)

INCH = 25.4
_EDGE_ORDER = {ReadEdge.CENTRE: 0, ReadEdge.FAR: 1, ReadEdge.NEAR: 2}


def order(slip: Slip) -> tuple[object, ...]:
    """Which of two slips that explain a misfit equally well is named first."""
    match slip:
        case UnitSlip():
            return 0, slip.typed
        case NumberSlip():
            return 0, f"{slip.value:g}"
        case EdgeSlip():
            alone = slip.meant == (ReadEdge.CENTRE,)
            return 1, *((3,) if alone else (_EDGE_ORDER[edge] for edge in slip.meant))


def read_edges(row: ReadingRow, sized: Mapping[str, bool]) -> tuple[ReadEdge, ...]:
    """The edges that a row was read to, one for each party that has any (both CENTRE: between centres);
    `sized`: whether a thing has edges at all.
    """
    if isinstance(row, ToLine | Coordinate):
        return (row.edge,)
    if not isinstance(row, Distance):
        return ()
    mine, theirs = sized.get(row.a, False), sized.get(row.b, False)
    if (row.edge_a is ReadEdge.CENTRE and row.edge_b is ReadEdge.CENTRE) or (mine and theirs):
        return row.edge_a, row.edge_b
    return (row.edge_a if mine else row.edge_b,)


def edge_alternatives(row: ReadingRow, sized: Mapping[str, bool]) -> list[Alternative]:
    """The same number read to other edges: to a line or a side near, far or centre; between two things every
    pair that has a word."""
    said = read_edges(row, sized)
    others: list[ReadingRow] = []
    if isinstance(row, ToLine) and sized.get(row.thing, False):
        others = [replace(row, edge=e) for e in ReadEdge if e is not row.edge]
    elif isinstance(row, Coordinate):
        others = [
            replace(row, edge=e)
            for e in ReadEdge
            if row.side and sized.get(row.a, False) and e is not row.edge
        ]
    elif isinstance(row, Distance) and row.behind is None:
        mine = (ReadEdge.NEAR, ReadEdge.FAR) if sized.get(row.a, False) else ()
        theirs = (ReadEdge.NEAR, ReadEdge.FAR) if sized.get(row.b, False) else ()
        pairs = [(a, b) for a in mine or (ReadEdge.CENTRE,) for b in theirs or (ReadEdge.CENTRE,)]
        if mine or theirs:
            pairs.append((ReadEdge.CENTRE, ReadEdge.CENTRE))
        others = [replace(row, edge_a=a, edge_b=b) for a, b in pairs if (a, b) != (row.edge_a, row.edge_b)]
    return [Alternative(row.key, EdgeSlip(said, read_edges(o, sized)), o) for o in others]


def _number(value: float) -> str:
    return f"{value:.3f}".rstrip("0").rstrip(".")


def misread_numbers(text: str) -> list[tuple[float, Misread]]:
    """What a decimal number as typed could have been: neighbouring digits swapped, or one digit off by one
    (not the last: that is no blunder).  Returns values with how they came about, each value once, never the
    number itself."""
    found: dict[float, Misread] = {}
    places = [k for k, c in enumerate(text) if c.isdigit()]
    for a, b in itertools.pairwise(places):
        swapped = list(text)
        swapped[a], swapped[b] = swapped[b], swapped[a]
        found.setdefault(float("".join(swapped)), Misread.SWAPPED)
    for k in places[:-1]:
        for digit in (int(text[k]) - 1, int(text[k]) + 1):
            if 0 <= digit <= 9:
                found.setdefault(float(text[:k] + str(digit) + text[k + 1 :]), Misread.DIGIT)
    found.pop(float(text), None)
    return [(value, how) for value, how in found.items() if value > 0]


def number_alternatives(
    row: ReadingRow | SizeReading, text: str | None = None, unit: float = 1.0
) -> list[Alternative]:
    """The same edges with another number: inches for mm and the reverse, digits swapped or misread.

    `text`: the number as typed in units of `unit` mm; without it the row's value in mm, to 0.01, is taken.
    """
    if not isinstance(row, Distance | ToLine | Coordinate | LineGap | SizeReading) or row.value == 0:
        return []
    read, meant = (row.read(row.value), row.meant) if isinstance(row, Distance) else (row.value, float)
    typed = text if text is not None else _number(round(abs(read), 2))
    sign = math.copysign(1.0, read)
    found = []
    wrong_unit = read * INCH if unit == 1.0 else read / unit
    inches = unit != 1.0
    found.append(Alternative(row.key, UnitSlip(typed, inches), replace(row, value=meant(wrong_unit))))
    for value, how in misread_numbers(typed) if typed.replace(".", "", 1).isdigit() else ():
        slip = NumberSlip(value, typed, inches, how)
        found.append(Alternative(row.key, slip, replace(row, value=meant(sign * value * unit))))
    return found


def sized_things(net: Network) -> dict[str, bool]:
    """Which things have an edge apart from their centre."""
    things: Iterable[Centred] = (*net.things, *(f.thing for f in net.fixed_things))
    return {t.name: bool(t.radius or t.half_long or t.half_wide or t.size) for t in things}


def usual_alternatives(
    net: Network, exact_u: float, typed: Mapping[int, str] | None = None
) -> tuple[Alternative, ...]:
    """All edge and number alternatives of a network's readings; rows with u up to `exact_u` are definitions
    and have none.

    `typed`: numbers as written, by key, where they differ from the value in mm to 0.01."""
    sized, typed = sized_things(net), typed or {}
    rows: Sequence[ReadingRow | SizeReading] = (*net.rows, *net.sizes)
    found: list[Alternative] = []
    for row in rows:
        if row.u <= exact_u:
            continue
        if not isinstance(row, SizeReading):
            found += edge_alternatives(row, sized)
        found += number_alternatives(row, typed.get(row.key))
    return tuple(found)
