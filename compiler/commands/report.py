"""`report`: what a part measures, and which readings that rests on."""

from __future__ import annotations

import argparse
from pathlib import Path

from ..terminal import Screen
from .running import GOOD, RECIPE_WRONG, as_json, compiled, for_each, recipes_named, verdict


def options(parser: argparse.ArgumentParser) -> None:
    """What may stand behind `report`."""
    parser.add_argument("recipes", nargs=1, metavar="RECIPE")
    parser.add_argument("--json", action="store_true", help="as JSON")


def run(chosen: argparse.Namespace, screen: Screen) -> int:
    """Print a recipe's figures."""

    def work(path: Path) -> int:
        from ..outputs import report_json, report_text

        result = compiled(path, screen, quiet=chosen.json)
        if result.ok:
            screen.result((report_json if chosen.json else report_text)(result.report()).rstrip("\n"))
        elif chosen.json:
            screen.result(as_json(verdict(path, result.diagnostics)))
        return GOOD if result.ok else RECIPE_WRONG

    return for_each(recipes_named(chosen.recipes), screen, work, "reported")
