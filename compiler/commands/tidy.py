"""`tidy`: the text of recipes laid out evenly, in place."""

from __future__ import annotations

import argparse
from pathlib import Path

from ..diagnostics import in_order
from ..diagnostics.cells import harmless
from ..terminal import Screen
from .running import GOOD, RECIPE_WRONG, for_each, put, recipes_named


def options(parser: argparse.ArgumentParser) -> None:
    """What may stand behind `tidy`."""
    parser.add_argument("recipes", nargs="+", metavar="RECIPE")
    parser.add_argument(
        "--check", action="store_true", help="change nothing, only say which recipes are not tidy"
    )


def run(chosen: argparse.Namespace, screen: Screen) -> int:
    """Lay out each recipe, or say which would change."""

    def work(path: Path) -> int:
        from .. import tidy_text
        from ..source import read_file

        source, found = read_file(path)
        text = path.read_bytes().decode("utf-8-sig", "replace")
        tidied = None
        if not any(diagnostic.is_error for diagnostic in found):
            tidied, found = tidy_text(text, str(path))
        if tidied is None:
            screen.show(in_order(found), str(path), source.lines)
            return RECIPE_WRONG
        name = harmless(str(path))
        if tidied.encode() == path.read_bytes():
            screen.result(f"{name}: tidy already")
        elif chosen.check:
            screen.result(f"{name}: would be changed")
            return RECIPE_WRONG
        else:
            put(path, tidied.encode())
            screen.result(f"{name}: tidied")
        return GOOD

    return for_each(recipes_named(chosen.recipes), screen, work, "tidy")
