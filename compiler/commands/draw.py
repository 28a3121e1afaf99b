"""`draw`: a part with its dimensions, or as a shaded picture."""

from __future__ import annotations

import argparse
from pathlib import Path

from ..diagnostics.cells import harmless
from ..terminal import Screen
from .running import GOOD, RECIPE_WRONG, compiled, for_each, goal_of, put, recipes_named


def options(parser: argparse.ArgumentParser) -> None:
    """What may stand behind `draw`."""
    parser.add_argument("recipes", nargs=1, metavar="RECIPE")
    parser.add_argument(
        "-o", dest="output", metavar="FILE", help=".svg, .pdf or .png to write (default: beside the recipe)"
    )
    parser.add_argument("--shaded", action="store_true", help="a shaded picture (.png) instead of a drawing")


def run(chosen: argparse.Namespace, screen: Screen) -> int:
    """Compile a recipe and write its drawing or picture."""

    def work(path: Path) -> int:
        endings = ("-picture.png",) if chosen.shaded else ("-drawing.svg", ".pdf", ".png")
        goal = goal_of(path, chosen.output, *endings)
        result = compiled(path, screen, cautions=False)
        if not result.ok:
            return RECIPE_WRONG
        put(goal, result.picture() if chosen.shaded else result.drawing(goal.suffix[1:].lower()))
        screen.result(f"{harmless(str(path))} -> {harmless(str(goal))}")
        return GOOD

    return for_each(recipes_named(chosen.recipes), screen, work, "drawn")
