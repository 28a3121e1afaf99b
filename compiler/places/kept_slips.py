"""A reading in which a digit slip was found, as the line that keeps on record what was written down and what
was meant."""

from __future__ import annotations

import re

from ..network.adjustment_types import NumberSlip, Slip

_NUMBER = re.compile(r"(?<![\w./-])(?P<number>\d+(?:\.\d+)?)(?P<unit> ?(?:mm|in|inch|inches)\b)?(?![\w./])")
_SUM = re.compile(r" [-+*/] |[()]")


def kept_line(line: str, slip: Slip) -> str:
    """The line with `meant` behind the number that slipped, such as `from a near 20.0 meant 30.0`; '' where
    that number does not stand in it once and by itself."""
    if not isinstance(slip, NumberSlip) or " meant " in line or _SUM.search(line):
        return ""
    found = [one for one in _NUMBER.finditer(line) if float(one["number"]) == float(slip.typed)]
    unit = (found[0]["unit"] or "") if len(found) == 1 else None
    if unit is None or slip.inches is not unit.lstrip().startswith("in"):
        return ""
    # as many places as were typed: they say how finely it was read
    meant = f"{slip.value:.{len(found[0]['number'].partition('.')[2])}f}"
    if float(meant) != slip.value:
        return ""
    end = found[0].end()
    return f"{line[:end]} meant {meant}{unit}{line[end:]}"
