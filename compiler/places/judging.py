"""Readings that check each other: the places they agree on, and, where they don't agree, what may be wrong.

Only a page with more readings than it needs is adjusted here; elsewhere every reading is met as it stands.
"""

from __future__ import annotations

import math
import re
from typing import TYPE_CHECKING

from ..diagnostics.types import Diagnostic, Label, Severity
from ..facts import Claim, Entry
from ..facts.placing import AngleAt, AngleFrom, LineAngled, PlacingFact
from ..network.types import Coordinate, Distance, LineAngle, LineGap, Midway, Network, Tangent, ToLine

if TYPE_CHECKING:
    from ..network.adjustment_types import Suspect, Verdict
    from .rows import Rows

MOST_JUDGED = 2_000
MOST_SHOWN = 5
_SCALARS = {Distance: 1, ToLine: 1, Coordinate: 1, LineAngle: 1, LineGap: 1, Tangent: 1, Midway: 2}
_LAST_NUMBER = re.compile(r"(?<![\w.])(\d+(?:\.\d+)?)(?![\w./])")


def redundant(network: Network) -> bool:
    """True where a page has more readings than unknowns (a count: what is open elsewhere on it may hide
    one).
    """
    if len(network.things) + len(network.lines) > MOST_JUDGED:
        return False
    scalars = sum(_SCALARS.get(type(row), 1) for row in network.rows)
    scalars += len(network.sizes)
    unknowns = 2 * (len(network.things) + len(network.lines)) + len(
        {one.size for one in network.things if one.size}
    )
    tied = bool(network.fixed_things or network.fixed_lines)
    return scalars > unknowns - (0 if tied else 3)


def typed_numbers(keys: dict[int, tuple[Entry, Claim]]) -> dict[int, str]:
    """The number of each reading as it was typed, where it is one plain number of mm."""
    found = {}
    for key, (_, claim) in keys.items():
        numbers = _LAST_NUMBER.findall(claim.text)
        if len(numbers) == 1:
            found[key] = numbers[0]
    return found


def disagreements(verdicts: tuple[Verdict, ...], rows: Rows, behind: dict[int, Distance]) -> list[Diagnostic]:
    """One message for each group of readings that don't agree: wrong words that would explain it, then the
    suspects.
    """
    found, keys = [], rows.keys
    for verdict in verdicts:
        shown = [one for one in verdict.suspects if one.key in keys]
        read_as = [one for one in verdict.readings_as if one.alternative.key in keys]
        if not shown and not read_as:
            continue
        first = read_as[0].alternative.key if read_as else shown[0].key
        entry, claim = keys[first]
        advice = []
        for one in read_as[:MOST_SHOWN]:
            other, line = keys[one.alternative.key]
            advice.append(f"they fit if {_was(line.text, other.name, one.alternative.words)}")
        if shown:
            advice.append("otherwise one of these was misread:" if read_as else "one of these was misread:")
        for suspect in shown[:MOST_SHOWN]:
            (other, line), fact = keys[suspect.key], rows.facts.get(suspect.key)
            advice.append(f"  {line.text} of {other.name}: {_should(fact, _read(suspect, behind))}")
        if len(shown) > MOST_SHOWN:
            advice.append(f"  or one of {len(shown) - MOST_SHOWN} more")
        if not verdict.can_tell:
            advice.append("nothing here tells which: one more reading of any of them would")
        others = tuple(Label(keys[one.key][1].span, "") for one in shown[:4] if one.key != first)
        said = f"the readings of {entry.name} disagree by more than their give-or-take"
        found.append(
            Diagnostic("readings-disagree", Severity.ERROR, said, claim.span, "", others, tuple(advice))
        )
    return found


def _read(suspect: Suspect, behind: dict[int, Distance]) -> float:
    row = behind.get(suspect.key)
    return suspect.should_be if row is None else row.read(suspect.should_be)


def _was(line: str, name: str, words: str) -> str:
    return f"`{line}` of {name} was {words}" if words.startswith("read") else f"in `{line}` of {name} {words}"


def _should(fact: PlacingFact | None, value: float) -> str:
    if not math.isfinite(value):
        return "nothing says what it should read"
    if isinstance(fact, AngleFrom | AngleAt | LineAngled):
        return f"the others say {math.degrees(value):.1f} deg"
    return f"the others say {abs(value):.2f}"
