"""The command line: the only code that touches arguments, exit codes and the files a run leaves behind.

Exit codes: 0 good, 1 a recipe has errors, 2 wrong usage or a file that can't be opened, 130 stopped by Ctrl-C.
Nothing heavy is imported before a recipe is compiled: `--help`, `--version`, `explain` and `start` answer at once.
"""

from __future__ import annotations

import argparse
import glob
import json
import math
import os
import sys
import traceback
from collections.abc import Callable, Sequence
from importlib.resources import files
from pathlib import Path
from typing import TYPE_CHECKING

from .diagnostics import NoSuchPage, codes, in_order, page, read_page, to_json
from .diagnostics.cells import harmless
from .diagnostics.types import Diagnostic, Severity, Trouble
from .terminal import Screen
from .version import VERSION

if TYPE_CHECKING:
    from . import Result

KINDS = ("lever", "knob", "bracket", "bush", "cover", "hook")
FORMATS = ("3mf", "stl")
GOOD, RECIPE_WRONG, USAGE_WRONG, STOPPED = 0, 1, 2, 130
FINEST, COARSEST = 0.0005, 1.0


class WrongUsage(Exception):
    """The command can't be carried out as it was given; the text says what would do."""


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command (default: the arguments of this process) and return its exit code; no traceback ever leaves."""
    screen = Screen(sys.stdout, sys.stderr)
    try:
        code = _run(arguments, screen)
        screen.flush()
    except KeyboardInterrupt:
        screen.tell("\nstopped; files begun were not kept")
        return STOPPED
    except BrokenPipeError:
        # the reader has gone: keep the interpreter from complaining about it at its end
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return RECIPE_WRONG
    return code


def _run(arguments: Sequence[str] | None, screen: Screen) -> int:
    try:
        chosen = _parser().parse_args(arguments)
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
        return _apologise(error, None, screen)


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(
        prog="makegood",
        allow_abbrev=False,
        description="From readings taken off a broken part to a printable spare.",
        epilog="exit codes: 0 good, 1 a recipe has errors, 2 wrong usage",
    )
    parser.add_argument("--version", action=_Version, nargs=0, help="print the version and leave")
    commands = parser.add_subparsers(title="commands", metavar="COMMAND", required=True)

    def add(name: str, command: Callable[[argparse.Namespace, Screen], int], says: str) -> argparse.ArgumentParser:
        made = commands.add_parser(name, help=says, description=says[0].upper() + says[1:] + ".", allow_abbrev=False)
        made.set_defaults(command=command)
        return made

    make = add("make", _make, "compile recipes into files for the printer")
    make.add_argument("recipes", nargs="+", metavar="RECIPE")
    make.add_argument("-o", dest="output", metavar="FILE", help=".3mf or .stl to write (default: beside the recipe)")
    make.add_argument("--chord", type=_chord, default=0.01, metavar="MM", help="how far facets may stray (0.01)")
    make.add_argument("--format", choices=FORMATS, help="kind of file when -o is not given (default: 3mf)")
    report = add("report", _report, "print what a part measures and which readings that rests on")
    report.add_argument("recipes", nargs=1, metavar="RECIPE")
    report.add_argument("--json", action="store_true", help="as JSON")
    check = add("check", _check, "say what is wrong with recipes and write nothing")
    check.add_argument("recipes", nargs="+", metavar="RECIPE")
    check.add_argument("--json", action="store_true", help="as JSON")
    tidy = add("tidy", _tidy, "lay out the text of recipes evenly, in place")
    tidy.add_argument("recipes", nargs="+", metavar="RECIPE")
    tidy.add_argument("--check", action="store_true", help="change nothing, only say which recipes are not tidy")
    explain = add("explain", _explain, "tell the story behind a message code")
    explain.add_argument("code", nargs="?", metavar="CODE", help="as it stands in brackets (default: list all)")
    start = add("start", _start, "write a commented recipe to begin with")
    start.add_argument("kind", choices=KINDS, metavar="KIND", help=", ".join(KINDS))
    start.add_argument("-o", dest="output", metavar="FILE", help="file to write (default: KIND.mend)")
    return parser


class _Version(argparse.Action):
    """Prints the version and leaves."""

    def __call__(self, parser: argparse.ArgumentParser, *_: object) -> None:
        print(f"makegood {VERSION}")
        parser.exit()


def _chord(text: str) -> float:
    try:
        chord = float(text)
    except ValueError:
        chord = math.nan
    if not FINEST <= chord <= COARSEST:
        raise argparse.ArgumentTypeError(f"{text!r} should be millimetres between {FINEST} and {COARSEST:g}")
    return chord


def _make(chosen: argparse.Namespace, screen: Screen) -> int:
    recipes = _recipes(chosen.recipes)
    goals = _goals(recipes, chosen.output, chosen.format)

    def work(path: Path) -> int:
        result = _compile(path, screen, chosen.chord)
        if not result.ok:
            return RECIPE_WRONG
        goal = goals[path]
        _write_mesh(result, goal)
        screen.result(_summary(result, path, goal))
        return GOOD

    return _each(recipes, screen, work, "made")


def _goals(recipes: Sequence[Path], output: str | None, form: str | None) -> dict[Path, Path]:
    """Which file each recipe is written to; raises WrongUsage where that can't be meant."""
    if output is not None:
        if len(recipes) > 1:
            raise WrongUsage("-o names one file but there are several recipes; without it each lands beside its own")
        ending = Path(output).suffix.lower()
        if ending[1:] not in FORMATS:
            raise WrongUsage(f"can't tell what to write from the name {output!r}; end it in .3mf or .stl")
        if form is not None and ending[1:] != form:
            raise WrongUsage(f"-o {output} and --format {form} disagree; one of them is enough")
        return {recipes[0]: Path(output)}
    goals: dict[Path, Path] = {}
    for path in recipes:
        if path.suffix[1:].lower() in FORMATS:
            raise WrongUsage(f"{path} is a mesh already; a recipe's name ends in .mend")
        goal = path.with_suffix("." + (form or FORMATS[0]))
        if goal in goals.values():
            raise WrongUsage(f"two recipes would both be written to {goal}")
        goals[path] = goal
    return goals


def _write_mesh(result: Result, goal: Path) -> None:
    from .outputs import stl_bytes, threemf_bytes

    assert result.mesh is not None
    if goal.suffix.lower() == ".stl":
        data = stl_bytes(result.mesh, result.title)
    else:
        data = threemf_bytes(result.mesh, result.card, result.title)
    _put(goal, data)


def _put(goal: Path, data: bytes) -> None:
    """Write a file whole or not at all; raises WrongUsage with the reason when it can't be written there."""
    from .outputs import write_whole

    try:
        write_whole(goal, data)
    except Trouble as trouble:
        raise WrongUsage(harmless("; ".join((trouble.says, *trouble.advice)))) from None


def _summary(result: Result, path: Path, goal: Path) -> str:
    """The lines printed after `make`."""
    report = result.report()
    figures = report.figures
    rows = [
        f"{harmless(str(path))} -> {harmless(str(goal))}",
        f"  size    {goal.stat().st_size / 1000:.1f} kB, {figures.triangles} triangles",
        "  box     {:.2f} x {:.2f} x {:.2f} mm".format(*figures.box),
        f"  volume  {figures.volume / 1000:.2f} cm3",
    ]
    if report.mass_g is not None:
        plastic = f" in {harmless(report.plastic)}" if report.plastic else ""
        rows.append(f"  mass    {report.mass_g:.2f} g printed solid{plastic}")
    return "\n".join([*rows, f"  pieces  {figures.pieces}"])


def _report(chosen: argparse.Namespace, screen: Screen) -> int:
    def work(path: Path) -> int:
        from .outputs import report_json, report_text

        result = _compile(path, screen, quiet=chosen.json)
        if result.ok:
            screen.result((report_json if chosen.json else report_text)(result.report()).rstrip("\n"))
        elif chosen.json:
            screen.result(_as_json(_verdict(path, result.diagnostics)))
        return GOOD if result.ok else RECIPE_WRONG

    return _each(_recipes(chosen.recipes), screen, work, "reported")


def _check(chosen: argparse.Namespace, screen: Screen) -> int:
    verdicts: list[dict[str, object]] = []

    def work(path: Path) -> int:
        result = _compile(path, screen, quiet=chosen.json)
        verdicts.append(_verdict(path, result.diagnostics))
        if not chosen.json:
            screen.result(f"{harmless(str(path))}: {_counted(result.diagnostics) or 'good'}")
        return GOOD if result.ok else RECIPE_WRONG

    code = _each(_recipes(chosen.recipes), screen, work, "good")
    if chosen.json:
        screen.result(_as_json(verdicts))
    return code


def _tidy(chosen: argparse.Namespace, screen: Screen) -> int:
    def work(path: Path) -> int:
        from . import tidy_text
        from .source import read_file

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
            _put(path, tidied.encode())
            screen.result(f"{name}: tidied")
        return GOOD

    return _each(_recipes(chosen.recipes), screen, work, "tidy")


def _explain(chosen: argparse.Namespace, screen: Screen) -> int:
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


def _start(chosen: argparse.Namespace, screen: Screen) -> int:
    goal = Path(chosen.output or f"{chosen.kind}.mend")
    if goal.suffix.lower() != ".mend":
        raise WrongUsage(f"a recipe's name ends in .mend, which {str(goal)!r} does not")
    text = (files(__package__) / "starters" / f"{chosen.kind}.mend").read_bytes()
    try:
        with goal.open("xb") as stream:
            stream.write(text)
    except FileExistsError:
        raise WrongUsage(f"{goal} is there already and was left as it is; choose another name with -o") from None
    except OSError as error:
        raise WrongUsage(_why_not(error, goal)) from None
    screen.result(f"{goal} written; put your readings in, then:  makegood make {goal}")
    return GOOD


def _recipes(names: Sequence[str]) -> list[Path]:
    """The recipes named, each once; patterns are spelt out here for shells that leave them as they are."""
    found: list[str] = []
    for name in names:
        is_pattern = glob.has_magic(name) and not Path(name).exists()
        found += (sorted(glob.glob(name)) if is_pattern else []) or [name]
    return [Path(name) for name in dict.fromkeys(found)]


def _each(recipes: Sequence[Path], screen: Screen, work: Callable[[Path], int], done: str) -> int:
    """Do the work for each recipe, whatever befalls the others; the worst exit code is the whole run's."""
    seen: list[int] = []
    for number, path in enumerate(recipes, start=1):
        screen.progress(number, len(recipes), path.name)
        seen.append(_one(path, screen, work))
    if len(recipes) > 1:
        good, bad = seen.count(GOOD), len(seen) - seen.count(GOOD)
        screen.tell(f"{len(recipes)} recipes: {good} {done}" + (f", {bad} not" if bad else ""))
    return max(seen)


def _one(path: Path, screen: Screen, work: Callable[[Path], int]) -> int:
    try:
        return work(path)
    except BrokenPipeError:
        raise
    except WrongUsage as wrong:
        screen.tell(f"makegood: {wrong}")
        return USAGE_WRONG
    except Trouble as trouble:
        told = Diagnostic(trouble.code, Severity.ERROR, trouble.says, advice=trouble.advice)
        screen.show((told,), str(path), ())
        return RECIPE_WRONG
    except OSError as error:
        if error.filename is None or str(error.filename).startswith(str(Path(__file__).parent)):
            return _apologise(error, path, screen)
        screen.tell(f"makegood: {_why_not(error, Path(os.fsdecode(error.filename)))}")
        return USAGE_WRONG
    except Exception as error:
        return _apologise(error, path, screen)


def _compile(path: Path, screen: Screen, chord: float = 0.01, quiet: bool = False) -> Result:
    from . import compile_file

    result = compile_file(path, chord=chord)
    if not quiet:
        screen.show(in_order(result.diagnostics), str(path), result.source.lines)
    return result


def _verdict(path: Path, found: Sequence[Diagnostic]) -> dict[str, object]:
    told = [to_json(diagnostic, str(path)) for diagnostic in in_order(found)]
    return {"file": str(path), "ok": not any(one.is_error for one in found), "diagnostics": told}


def _as_json(value: object) -> str:
    return json.dumps(value, indent=2)


def _counted(found: Sequence[Diagnostic]) -> str:
    """`2 errors, 1 warning`; empty when there is nothing."""
    told = in_order(found)
    counts = [(sum(one.severity is weight for one in told), weight.value) for weight in Severity]
    return ", ".join(f"{count} {word}{'' if count == 1 else 's'}" for count, word in counts if count)


def _why_not(error: OSError, path: Path) -> str:
    name = harmless(str(path))
    if isinstance(error, FileNotFoundError):
        return f"there is no file or folder {name}"
    if isinstance(error, IsADirectoryError):
        return f"{name} is a folder"
    if isinstance(error, PermissionError):
        return f"this account may not open {name}"
    return f"{name}: {error.strerror or 'can not be opened'}"


def _apologise(error: Exception, path: Path | None, screen: Screen) -> int:
    """Own up to a fault of the compiler itself, with what a report needs; the traceback only for MAKEGOOD_DEBUG=1."""
    if os.environ.get("MAKEGOOD_DEBUG") == "1":
        screen.tell("".join(traceback.format_exception(error)).rstrip())
    frames = traceback.extract_tb(error.__traceback__)
    ours = [frame for frame in frames if Path(frame.filename).is_relative_to(Path(__file__).parent)]
    ends = dict.fromkeys(f"{Path(frame.filename).name}:{frame.lineno}" for frame in (*ours[-1:], *frames[-1:]))
    over = f" over {harmless(str(path))}" if path else ""
    line = f"makegood {VERSION}, {type(error).__name__} at {', '.join(ends)}"
    screen.tell(
        f"sorry: makegood tripped{over}; the fault is in the compiler, not in your recipe\n"
        f"please report it with the recipe and this line: {line}"
    )
    return RECIPE_WRONG
