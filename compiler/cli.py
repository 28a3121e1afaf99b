"""The command line: finds the command, keeps exit codes and last words; each command is a file of `commands`.

Exit codes: 0 good, 1 a recipe has errors, 2 wrong usage or a file that can't be opened, 130 stopped by
Ctrl-C. Nothing heavy is imported before a recipe is compiled, and of the commands only the one that is named:
`--help`, `--version`, `explain` and `start` answer at once."""

from __future__ import annotations

import argparse
import gc
import os
import sys
from collections.abc import Callable, Sequence
from importlib import import_module
from typing import NoReturn

from .commands.running import RECIPE_WRONG, STOPPED, USAGE_WRONG, WrongUsage, apologise
from .terminal import Screen
from .version import VERSION

COMMANDS = {
    "make": "compile recipes into files for the printer",
    "report": "print what a part measures and which readings that rests on",
    "readings": "show how all readings go together and how well each place is known",
    "check": "say what is wrong with recipes and write nothing",
    "view": "show a part in the browser and follow each save of its recipe",
    "draw": "draw a part with its dimensions, or as a shaded picture",
    "sheet": "write what to measure on the printed part, and judge what was found",
    "template": "print each page of a part on paper at true size",
    "tidy": "lay out the text of recipes evenly, in place",
    "explain": "tell the story behind a message code",
    "start": "write a commented recipe to begin with",
}


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command (default: the arguments of this process) and return its exit code; no traceback ever
    leaves.
    """
    screen = Screen(sys.stdout, sys.stderr)
    try:
        gc.set_threshold(
            100_000, 50, 50
        )  # a part is soon made: looking for waste all the while takes a twentieth of it
        code = _run(sys.argv[1:] if arguments is None else arguments, screen)
        screen.flush()
    except KeyboardInterrupt:
        screen.tell("\nstopped; files begun were not kept")
        return STOPPED
    except BrokenPipeError:
        # the reader has gone: keep the interpreter from complaining about it at its end
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return RECIPE_WRONG
    return code


def run() -> NoReturn:
    """The command of this process; it ends without taking its objects apart, which takes longer than an
    ordinary part.

    Files are closed by then, and nothing waits for the interpreter's own end."""
    code = main()
    try:
        sys.stdout.flush()
        sys.stderr.flush()
    except OSError:
        code = code or RECIPE_WRONG  # what was printed did not all arrive
    os._exit(code)


def _run(arguments: Sequence[str], screen: Screen) -> int:
    try:
        chosen = _parser(arguments).parse_args(arguments)
    except SystemExit as left:  # argparse has said why
        return left.code if isinstance(left.code, int) else USAGE_WRONG
    try:
        command: Callable[[argparse.Namespace, Screen], int] = chosen.command
        return command(chosen, screen)
    except WrongUsage as wrong:
        screen.tell(f"makegood: {wrong}")
        return USAGE_WRONG
    except BrokenPipeError:
        raise
    except Exception as error:
        return apologise(error, None, screen)


def _parser(arguments: Sequence[str]) -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(
        prog="makegood",
        allow_abbrev=False,
        description="From readings taken off a broken part to a printable spare.",
        epilog="exit codes: 0 good, 1 a recipe has errors, 2 wrong usage",
    )
    parser.add_argument("--version", action=_Version, nargs=0, help="print the version and leave")
    commands = parser.add_subparsers(title="commands", metavar="COMMAND", required=True)
    # each costs as much as reading a small recipe: the others are only for help and for a word that is none
    # of them
    named = arguments[0] if arguments and arguments[0] in COMMANDS else None
    for name, says in ({named: COMMANDS[named]} if named else COMMANDS).items():
        made = commands.add_parser(
            name, help=says, description=says[0].upper() + says[1:] + ".", allow_abbrev=False
        )
        if name in arguments:
            command = import_module(f".commands.{name}", __package__)
            command.options(made)
            made.set_defaults(command=command.run)
    return parser


class _Version(argparse.Action):
    """Prints the version and leaves."""

    def __call__(self, parser: argparse.ArgumentParser, *_: object) -> None:
        print(f"makegood {VERSION}")
        parser.exit()
