"""Readings that check each other: the places they agree on, and, where they don't agree, what may be wrong.

Only a plane with more readings than it needs is adjusted here; elsewhere every reading is met as it stands.
"""

from __future__ import annotations

import re

from ..facts import Claim, Entry
from ..network.problem import arrange
from ..network.sides import SURE, met_by
from ..network.types import (
    Coordinate,
    Distance,
    LineAngle,
    LineGap,
    Midway,
    Network,
    SideWord,
    Solved,
    Tangent,
    ToLine,
)

MOST_JUDGED = 2_000
_SCALARS = {Distance: 1, ToLine: 1, Coordinate: 1, LineAngle: 1, LineGap: 1, Tangent: 1, Midway: 2}
_LAST_NUMBER = re.compile(r"(?<![\w.])(\d+(?:\.\d+)?)(?![\w./])")


def redundant(network: Network) -> bool:
    """True where a plane has more readings than unknowns (a count: what is open elsewhere on it may hide
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


def unmet(network: Network, solved: Solved) -> list[SideWord]:
    """Side words that the one place which fits the readings does not meet.  (Of several places they pick
    one.)
    """
    if not network.sides:
        return []
    problem = arrange(network)
    at = list(problem.start)
    for i, name in enumerate(problem.names):
        line = solved.lines.get(name)
        at[2 * i : 2 * i + 2] = (line.angle, line.offset) if line is not None else solved.things[name]
    return [side for side in problem.sides if met_by(problem, at, side) < -SURE]
