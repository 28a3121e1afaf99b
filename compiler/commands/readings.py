"""`readings`: how all readings go together, what checks what, and how well every place is known."""

from __future__ import annotations

import argparse
from pathlib import Path

from ..terminal import Screen
from .running import GOOD, RECIPE_WRONG, as_json, compiled, for_each, recipes_named, verdict


def options(parser: argparse.ArgumentParser) -> None:
    """What may stand behind `readings`."""
    parser.add_argument("recipes", nargs=1, metavar="RECIPE")
    parser.add_argument("--json", action="store_true", help="as JSON")


def run(chosen: argparse.Namespace, screen: Screen) -> int:
    """Print the tables, also where the readings disagree: that is when they are looked at."""
    import json

    def work(path: Path) -> int:
        from ..outputs.readings import readings_json, readings_text

        result = compiled(path, screen, quiet=chosen.json, cautions=False)
        weighed = result.readings()
        if chosen.json:
            # one shape for good recipes and wrong ones: what `check --json` says, and the tables
            tables = json.loads(readings_json(weighed, result.title, result.taken))
            screen.result(as_json({**verdict(path, result.diagnostics), **tables}))
        else:
            screen.result(readings_text(weighed, result.title, result.taken).rstrip("\n"))
        return GOOD if result.ok else RECIPE_WRONG

    return for_each(recipes_named(chosen.recipes), screen, work, "weighed")
