"""`check`: what is wrong with recipes; nothing is written."""

from __future__ import annotations

import argparse
from pathlib import Path

from ..diagnostics.cells import harmless
from ..terminal import Screen
from .running import GOOD, RECIPE_WRONG, as_json, compiled, counted, for_each, recipes_named, verdict


def options(parser: argparse.ArgumentParser) -> None:
    """What may stand behind `check`."""
    parser.add_argument("recipes", nargs="+", metavar="RECIPE")
    parser.add_argument("--json", action="store_true", help="as JSON")


def run(chosen: argparse.Namespace, screen: Screen) -> int:
    """Check each recipe; 0 when all are good."""
    verdicts: list[dict[str, object]] = []

    def work(path: Path) -> int:
        result = compiled(path, screen, quiet=chosen.json)
        verdicts.append(verdict(path, result.diagnostics))
        if not chosen.json:
            screen.result(f"{harmless(str(path))}: {counted(result.diagnostics) or 'good'}")
        return GOOD if result.ok else RECIPE_WRONG

    code = for_each(recipes_named(chosen.recipes), screen, work, "good")
    if chosen.json:
        screen.result(as_json(verdicts))
    return code
