"""`explain`: the story behind a message code."""

from __future__ import annotations

import argparse

from ..diagnostics import NoSuchPage, codes, page, read_page
from ..terminal import Screen
from .running import GOOD, WrongUsage


def options(parser: argparse.ArgumentParser) -> None:
    """What may stand behind `explain`."""
    parser.add_argument(
        "code", nargs="?", metavar="CODE", help="as it stands in brackets (default: list all)"
    )


def run(chosen: argparse.Namespace, screen: Screen) -> int:
    """Print a page, or the list of all codes."""
    if chosen.code is None:
        known = codes()
        width = max(map(len, known), default=0)
        for code in known:
            screen.result(f"{code:<{width}}  {read_page(code).headline}")
        return GOOD
    code = chosen.code.strip().strip("[]").lower()
    try:
        screen.result(page(code).rstrip("\n"))
    except NoSuchPage as unknown:
        raise WrongUsage(f"{unknown}\nall codes:  makegood explain") from None
    return GOOD
