"""Patterns that come with the project, with sizes drawn inside their limits, lying on any side, alone or on a
block.
"""

from __future__ import annotations

import re
from functools import cache
from importlib.resources import files
from random import Random

from .writing import Recipe, Statement, begun

_LET = re.compile(r"^let (\w+) = (\S+) from (.+?) to (.+?)\s*$", re.MULTILINE)
SIDES = ("left", "right", "top", "bottom", "front", "back")
COUNTS = ("teeth",)  # sizes of patterns that are no lengths
LARGEST = 90.0  # mm: no part of the tests need be larger


@cache
def patterns() -> dict[str, tuple[tuple[str, str, str], ...]]:
    """Name as it is used -> its sizes with their limits as written."""
    found = {}
    for file in sorted(files("makegood").joinpath("patterns").iterdir(), key=lambda one: one.name):
        if file.name.endswith(".mend"):
            text = file.read_text(encoding="utf-8")
            found[file.name.removesuffix(".mend")] = tuple((a, c, d) for a, _, c, d in _LET.findall(text))
    return found


def sizes(pattern: str, rnd: Random) -> dict[str, float]:
    """A value for each size of a pattern within its limits, in tenths; often one of the ends."""
    given: dict[str, float] = {}
    for name, least, most in patterns()[pattern]:
        low, high = (float(eval(one, {"__builtins__": {}}, dict(given))) for one in (least, most))
        high = max(low, min(high, LARGEST))
        value = rnd.choice((low, high, rnd.uniform(low, high), rnd.uniform(low, high)))
        given[name] = min(high, max(low, round(value, 0 if name in COUNTS else 1)))
    return given


def used_pattern(rnd: Random) -> Recipe:
    """A pattern lying on one of its sides, sunk a little into a large block or alone, perhaps trimmed."""
    made = begun(rnd)
    pattern, name, base = rnd.choice(sorted(patterns())), made.name(rnd), made.name(rnd)
    facts = [
        f"with {word} = {value:g}" if word in COUNTS else f"with {word} = {{{value}}}"
        for word, value in sizes(pattern, rnd).items()
    ]
    facts += [rnd.choice(("", f"lies on {rnd.choice(SIDES)}")), rnd.choice(("", "turned 90", "turned 30"))]
    if rnd.random() < 0.6:
        side = rnd.choice(("front", "back"))
        made.add("block", rnd, "long {200}", "wide {200}", "thick {4}", name=base)
        facts += [f"on {base}.{side}", "raised {-0.5}", f"at {{3}}, {{-2}} from {base}"]
    elif rnd.random() < 0.4:
        plane = made.add(
            "plane", rnd, f"leans {{0.5}} at {name}.left, {{0.8}} at {name}.right from {name}.back"
        ).name
        facts.append(f"trim {plane}")
    made.add("use", rnd, *facts, name=name).head = f'use {name} "{pattern}"'
    made.cuts.append(
        Statement(
            "bore", made.name(rnd), [f"at {{0.3}}, {{0.2}} from {name}", "across {2}", f"through {name}"]
        )
    )
    return made
