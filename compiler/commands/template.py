"""`template`: each page of a part on paper at true size."""

from __future__ import annotations

import argparse
from pathlib import Path

from ..diagnostics.cells import harmless
from ..terminal import Screen
from .running import GOOD, RECIPE_WRONG, compiled, for_each, goal_of, put, recipes_named

PAPERS = ("a4", "letter")


def options(parser: argparse.ArgumentParser) -> None:
    """What may stand behind `template`."""
    parser.add_argument("recipes", nargs=1, metavar="RECIPE")
    parser.add_argument(
        "-o", dest="output", metavar="FILE", help=".pdf to write (default: beside the recipe)"
    )
    parser.add_argument("--paper", choices=PAPERS, default="a4", help="paper of the printer (a4)")


def run(chosen: argparse.Namespace, screen: Screen) -> int:
    """Compile a recipe and write its template."""

    def work(path: Path) -> int:
        goal = goal_of(path, chosen.output, "-template.pdf")
        result = compiled(path, screen)
        if not result.ok:
            return RECIPE_WRONG
        put(goal, result.template(chosen.paper))
        screen.result(f"{harmless(str(path))} -> {harmless(str(goal))}")
        return GOOD

    return for_each(recipes_named(chosen.recipes), screen, work, "laid out")
