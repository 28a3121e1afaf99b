"""Found values: `found` lines in a small text file beside the recipe, one for each thing that was measured.

found pin across 5.9
found rod from pin far-far 33.62, 33.66   # twice: averaged
"""

from __future__ import annotations

from collections.abc import Collection

from ...diagnostics import nearest
from ...quantities import parse_number
from ...quantities.numbers import Unit

MOST_LINES, MOST_MARKS = 2000, 400
MOST = 10_000.0


class FoundWrong(ValueError):
    """Lines that are not understood; the text says for each which and what would do."""


def read_found(text: str, keys: Collection[str]) -> dict[str, float]:
    """The found value (mm) of each key; raises FoundWrong with every line that is not understood."""
    found: dict[str, float] = {}
    wrong: list[str] = []
    lines = text.removeprefix("\ufeff").split("\n")
    if len(lines) > MOST_LINES:
        raise FoundWrong(f"more than {MOST_LINES} lines: this is no file of found values")
    for number, line in enumerate(lines, start=1):
        said = line.partition("#")[0].split()
        if not said:
            continue
        try:
            key, value = _line(said, len(line), keys)
            if key in found:
                raise FoundWrong(f"`{key}` is found twice; several readings stand in one line, with commas")
            found[key] = value
        except FoundWrong as reason:
            wrong.append(f"line {number}: {reason}")
    if wrong:
        raise FoundWrong("\n".join(wrong[:20]))
    return found


def _line(said: list[str], long: int, keys: Collection[str]) -> tuple[str, float]:
    if long > MOST_MARKS or said[0] != "found" or len(said) < 3:
        raise FoundWrong("a line reads: found pin across 5.9")
    # numbers that belong to the key (`across from 0 to 2`) are not values: the longest key that fits wins
    for split in range(len(said), 1, -1):
        key = " ".join(said[1:split])
        if key in keys and split < len(said):
            return key, _mean("".join(f"{word} " for word in said[split:]))
    named = " ".join(said[1:-1])
    meant = nearest(named, list(keys))
    advice = f"; did you mean `{meant[0]}`?" if meant else ""
    raise FoundWrong(f"there is nothing to measure named `{named}`{advice}")


def _mean(text: str) -> float:
    values = []
    for piece in text.split(","):
        try:
            value, unit = parse_number(piece.strip())
        except (ValueError, OverflowError):
            raise FoundWrong(f"`{piece.strip()[:40]}` is no number of mm") from None
        if unit not in (Unit.PLAIN, Unit.LENGTH) or not 0 < value <= MOST:
            raise FoundWrong(f"`{piece.strip()[:40]}` is no size")
        values.append(value)
    return sum(values) / len(values)
