"""What a reading could have been instead: another edge word, inches for mm, two digits swapped, one digit
misread.

A calliper slip is rarely random: it is a word or a digit, and then the true value is known exactly.  That is
why such an explanation is far sharper than leaving the reading out.  Only rows' own contents are used here;
the words say what the reading would be, in the writer's terms."""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterable, Mapping, Sequence

from msgspec.structs import replace

from .adjustment_types import Alternative
from .types import Coordinate, Distance, Edge, LineGap, Network, Row, SizeReading, Thing, ToLine

INCH = 25.4
_WORDS = {Edge.NEAR: "near", Edge.CENTRE: "centre", Edge.FAR: "far"}


def edge_words(row: Row, sized: Mapping[str, bool]) -> str:
    """The edge words of a row as a recipe writes them; `sized`: whether a thing has edges at all."""
    if isinstance(row, ToLine | Coordinate):
        return _WORDS[row.edge]
    if not isinstance(row, Distance):
        return ""
    mine, theirs = sized.get(row.a, False), sized.get(row.b, False)
    if row.edge_a is Edge.CENTRE and row.edge_b is Edge.CENTRE:
        return "centres"
    if mine and theirs:
        return f"{_WORDS[row.edge_a]}-{_WORDS[row.edge_b]}"
    return _WORDS[row.edge_a if mine else row.edge_b]


def edge_alternatives(row: Row, sized: Mapping[str, bool]) -> list[Alternative]:
    """The same number read to other edges: to a line or a side near, far or centre; between two things every
    pair that has a word."""
    said = edge_words(row, sized)
    others: list[Row] = []
    if isinstance(row, ToLine) and sized.get(row.thing, False):
        others = [replace(row, edge=e) for e in Edge if e is not row.edge]
    elif isinstance(row, Coordinate):
        others = [
            replace(row, edge=e) for e in Edge if row.side and sized.get(row.a, False) and e is not row.edge
        ]
    elif isinstance(row, Distance) and row.behind is None:
        mine = (Edge.NEAR, Edge.FAR) if sized.get(row.a, False) else ()
        theirs = (Edge.NEAR, Edge.FAR) if sized.get(row.b, False) else ()
        pairs = [(a, b) for a in mine or (Edge.CENTRE,) for b in theirs or (Edge.CENTRE,)]
        if mine or theirs:
            pairs.append((Edge.CENTRE, Edge.CENTRE))
        others = [replace(row, edge_a=a, edge_b=b) for a, b in pairs if (a, b) != (row.edge_a, row.edge_b)]
    return [Alternative(row.key, f"read {_between(edge_words(o, sized))}, not {said}", o) for o in others]


def _between(words: str) -> str:
    return "between centres" if words == "centres" else f"to the {words}" if words == "centre" else words


def _number(value: float) -> str:
    return f"{value:.3f}".rstrip("0").rstrip(".")


def misread_numbers(text: str) -> list[tuple[float, str]]:
    """What a decimal number as typed could have been: neighbouring digits swapped, or one digit off by one
    (not the last: that is no blunder).  Returns values with words, each value once, never the number
    itself."""
    found: dict[float, str] = {}
    places = [k for k, c in enumerate(text) if c.isdigit()]
    for a, b in itertools.pairwise(places):
        swapped = list(text)
        swapped[a], swapped[b] = swapped[b], swapped[a]
        found.setdefault(float("".join(swapped)), "two digits swapped")
    for k in places[:-1]:
        for digit in (int(text[k]) - 1, int(text[k]) + 1):
            if 0 <= digit <= 9:
                found.setdefault(float(text[:k] + str(digit) + text[k + 1 :]), "one digit misread")
    found.pop(float(text), None)
    return [(value, words) for value, words in found.items() if value > 0]


def number_alternatives(
    row: Row | SizeReading, text: str | None = None, unit: float = 1.0
) -> list[Alternative]:
    """The same edges with another number: inches for mm and the reverse, digits swapped or misread.

    `text`: the number as typed in units of `unit` mm; without it the row's value in mm, to 0.01, is taken.
    """
    if not isinstance(row, Distance | ToLine | Coordinate | LineGap | SizeReading) or row.value == 0:
        return []
    read, meant = (row.read(row.value), row.meant) if isinstance(row, Distance) else (row.value, float)
    typed = text if text is not None else _number(round(abs(read), 2))
    sign = math.copysign(1.0, read)
    shown = typed if unit == 1.0 else f"{typed} in"
    found = []
    wrong_unit = read * INCH if unit == 1.0 else read / unit
    words = f"{typed} was in inches, not mm" if unit == 1.0 else f"{typed} was in mm, not inches"
    found.append(Alternative(row.key, words, replace(row, value=meant(wrong_unit))))
    for value, what in misread_numbers(typed) if typed.replace(".", "", 1).isdigit() else ():
        said = f"{value:g} was read, not {shown} ({what})"
        found.append(Alternative(row.key, said, replace(row, value=meant(sign * value * unit))))
    return found


def sized_things(net: Network) -> dict[str, bool]:
    """Which things have an edge apart from their centre."""
    things: Iterable[Thing] = (*net.things, *(f.thing for f in net.fixed_things))
    return {t.name: bool(t.radius or t.half_long or t.half_wide or t.size) for t in things}


def usual_alternatives(
    net: Network, exact_u: float, typed: Mapping[int, str] | None = None
) -> tuple[Alternative, ...]:
    """All edge and number alternatives of a network's readings; rows with u up to `exact_u` are definitions
    and have none.

    `typed`: numbers as written, by key, where they differ from the value in mm to 0.01."""
    sized, typed = sized_things(net), typed or {}
    rows: Sequence[Row | SizeReading] = (*net.rows, *net.sizes)
    found: list[Alternative] = []
    for row in rows:
        if row.u <= exact_u:
            continue
        if not isinstance(row, SizeReading):
            found += edge_alternatives(row, sized)
        found += number_alternatives(row, typed.get(row.key))
    return tuple(found)
