"""`start`: a commented recipe to begin with."""

from __future__ import annotations

import argparse
from importlib.resources import files
from pathlib import Path

from ..terminal import Screen
from .running import GOOD, WrongUsage, why_not

KINDS = ("lever", "knob", "bracket", "bush", "cover", "hook")


def options(parser: argparse.ArgumentParser) -> None:
    """What may stand behind `start`."""
    parser.add_argument("kind", choices=KINDS, metavar="KIND", help=", ".join(KINDS))
    parser.add_argument("-o", dest="output", metavar="FILE", help="file to write (default: KIND.mend)")


def run(chosen: argparse.Namespace, screen: Screen) -> int:
    """Write the starter, never over a file that is there."""
    goal = Path(chosen.output or f"{chosen.kind}.mend")
    if goal.suffix.lower() != ".mend":
        raise WrongUsage(f"a recipe's name ends in .mend, which {str(goal)!r} does not")
    text = (files(__package__.rpartition(".")[0]) / "starters" / f"{chosen.kind}.mend").read_bytes()
    try:
        with goal.open("xb") as stream:
            stream.write(text)
    except FileExistsError:
        raise WrongUsage(
            f"{goal} is there already and was left as it is; choose another name with -o"
        ) from None
    except OSError as error:
        raise WrongUsage(why_not(error, goal)) from None
    screen.result(f"{goal} written; put your readings in, then:  makegood make {goal}")
    return GOOD
