"""Which lines of the table of fact shapes the generator of whole recipes draws: `python -m properties.met
3000` in the folder `tests`."""

from __future__ import annotations

import sys
from collections.abc import Callable
from random import Random

from makegood.source import read_text
from makegood.tree import parse_rows
from parts.shape_lines import table, used_by

from . import recipes

Lines = set[tuple[str, str]]
NOT_LINES = ("head", "choice", "optional", "number", "stop", "phrase")


def met(seeds: range, some: tuple[Callable[[Random], recipes.Recipe], ...]) -> Lines:
    """What the recipes of these seeds, made by some of the generators in turn, use of the table."""
    found: Lines = set()
    for seed in seeds:
        text = recipes.recipe(Random(seed), (some[seed % len(some)],)).text()
        source, _ = read_text(text, "part.mend")
        found |= used_by(parse_rows(source)[1])
    return found


def shapes(some: Lines) -> Lines:
    """Lines of the table alone, without heads, choices and ways of saying numbers."""
    return {one for one in some if one[0] not in NOT_LINES}


if __name__ == "__main__":
    drawn, every = met(range(int(sys.argv[1])), recipes.ALL), set(table())
    heads, ways = ({one for one in every if one[0] in some} for some in (NOT_LINES[:1], NOT_LINES[1:]))
    for name, some in (
        ("shape lines", shapes(every)),
        ("heads", heads),
        ("choices, optional parts, ways of saying", ways),
    ):
        print(f"{name}: {len(some & drawn)} of {len(some)}")
        print(*(f"    {what}: {text}" for what, text in sorted(some - drawn)), sep="\n")
