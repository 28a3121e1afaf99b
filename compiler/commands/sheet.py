"""`sheet`: what to measure on the printed part, and what the values found there mean."""

from __future__ import annotations

import argparse
from pathlib import Path
from typing import TYPE_CHECKING

from ..diagnostics.cells import columns, harmless
from ..terminal import Screen
from .running import GOOD, RECIPE_WRONG, WrongUsage, compiled, for_each, goal_of, put, recipes_named

if TYPE_CHECKING:
    from .. import Result

LARGEST = 200_000  # bytes of a file of found values


def options(parser: argparse.ArgumentParser) -> None:
    """What may stand behind `sheet`."""
    parser.add_argument("recipes", nargs=1, metavar="RECIPE")
    parser.add_argument(
        "-o", dest="output", metavar="FILE", help=".pdf to write (default: beside the recipe)"
    )
    parser.add_argument("--json", action="store_true", help="print it as JSON and write nothing")
    parser.add_argument(
        "--found",
        metavar="FILE",
        help="found values (default: RECIPE with the ending .found, if it is there)",
    )


def run(chosen: argparse.Namespace, screen: Screen) -> int:
    """Compile a recipe, write its inspection sheet, and say what found values mean."""

    def work(path: Path) -> int:
        goal = goal_of(path, chosen.output, "-sheet.pdf")
        beside = path.with_suffix(".found") if chosen.found is None else Path(chosen.found)
        found = _found(beside, asked=chosen.found is not None)
        result = compiled(path, screen, quiet=chosen.json)
        if not result.ok:
            return RECIPE_WRONG
        try:
            if chosen.json:
                screen.result(result.inspection_json(found).rstrip("\n"))
                return GOOD
            put(goal, result.inspection(found))
        except ValueError as wrong:
            rows = "\n".join(f"  {harmless(row)}" for row in str(wrong).split("\n"))
            raise WrongUsage(f"{harmless(str(beside))} is not understood:\n{rows}") from None
        screen.result(f"{harmless(str(path))} -> {harmless(str(goal))}")
        if found.strip():
            screen.result(_told(result, found))
        return GOOD

    return for_each(recipes_named(chosen.recipes), screen, work, "listed")


def _found(path: Path, *, asked: bool) -> str:
    """The text of the found values, empty where there is no such file and none was asked for."""
    if not asked and not path.is_file():
        return ""
    with path.open("rb") as held:
        data = held.read(LARGEST + 1)
    if len(data) > LARGEST:
        raise WrongUsage(f"{harmless(str(path))} is too large to be a file of found values")
    try:
        return data.decode("utf-8").replace("\r\n", "\n")
    except UnicodeDecodeError:
        raise WrongUsage(f"{harmless(str(path))} is no text in UTF-8") from None


def _told(result: Result, found: str) -> str:
    """The verdicts as aligned lines, and how many there are of each."""
    said = result.verdicts(found)
    keys = [harmless(one.key) for one in said]
    wide = max((columns(key) for key in keys), default=0)
    rows = [
        f"  {key}{' ' * (wide - columns(key))}  {one.found:8.2f}  {one.outcome.value:8}{one.advice}"
        for key, one in zip(keys, said, strict=True)
    ]
    words = [one.outcome.value for one in said]
    counts = [(word, words.count(word)) for word in ("pass", "rework", "reprint")]
    return "\n".join([*rows, "  " + ", ".join(f"{count} {word}" for word, count in counts if count)])
