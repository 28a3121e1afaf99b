"""What the commands share: recipes compiled one after the other, files put in place, faults owned up to."""

from __future__ import annotations

import errno
import os
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from ..diagnostics import in_order, to_json
from ..diagnostics.cells import harmless
from ..diagnostics.types import Diagnostic, Severity, Trouble
from ..terminal import Screen
from ..version import VERSION

if TYPE_CHECKING:
    from .. import Result

GOOD, RECIPE_WRONG, USAGE_WRONG, STOPPED = 0, 1, 2, 130
HOUSE = Path(__file__).parent.parent


class WrongUsage(Exception):
    """The command can't be carried out as it was given; the text says what would do."""


def recipes_named(names: Sequence[str]) -> list[Path]:
    """The recipes named, each once; patterns are spelt out here for shells that leave them as they are."""
    found: list[str] = []
    for name in names:
        found += (spelt_out(name) if set(name) & set("*?[") and not Path(name).exists() else []) or [name]
    return [Path(name) for name in dict.fromkeys(found)]


def spelt_out(pattern: str) -> list[str]:
    """The files a pattern stands for, sorted."""
    from glob import glob

    return sorted(glob(pattern))


def for_each(recipes: Sequence[Path], screen: Screen, work: Callable[[Path], int], done: str) -> int:
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
        if error.errno == errno.ENOSPC:
            screen.tell("makegood: there is no room left to write to")
            return USAGE_WRONG
        if error.filename is None or str(error.filename).startswith(str(HOUSE)):
            return apologise(error, path, screen)
        screen.tell(f"makegood: {why_not(error, Path(os.fsdecode(error.filename)))}")
        return USAGE_WRONG
    except Exception as error:
        return apologise(error, path, screen)


def compiled(
    path: Path, screen: Screen, chord: float = 0.01, quiet: bool = False, cautions: bool = True
) -> Result:
    """A recipe compiled, with its messages shown unless `quiet`; without `cautions` where nothing is made or
    judged.
    """
    from .. import compile_file

    result = compile_file(path, chord=chord)
    if not quiet:
        told = [one for one in result.diagnostics if cautions or one.code != "caution"]
        screen.show(in_order(told), str(path), result.source.lines)
    return result


def goal_of(path: Path, output: str | None, *endings: str) -> Path:
    """Where to write: as told, or beside the recipe with the first ending; raises WrongUsage for another kind
    of file.
    """
    if output is None:
        return path.with_name(path.stem + endings[0])
    kinds = tuple(Path("x" + one).suffix for one in endings)
    if Path(output).suffix.lower() not in kinds:
        raise WrongUsage(f"can't tell what to write from the name {output!r}; end it in {' or '.join(kinds)}")
    return Path(output)


def put(goal: Path, data: bytes) -> None:
    """Write a file whole or not at all; raises WrongUsage with the reason when it can't be written there."""
    from ..outputs import write_whole

    try:
        write_whole(goal, data)
    except Trouble as trouble:
        raise WrongUsage(harmless("; ".join((trouble.says, *trouble.advice)))) from None


def verdict(path: Path, found: Sequence[Diagnostic]) -> dict[str, object]:
    """What `check --json` says of a recipe."""
    told = [to_json(diagnostic, str(path)) for diagnostic in in_order(found)]
    return {"file": str(path), "ok": not any(one.is_error for one in found), "diagnostics": told}


def as_json(value: object) -> str:
    """JSON as it is printed."""
    import json

    return json.dumps(value, indent=2)


def counted(found: Sequence[Diagnostic]) -> str:
    """`2 errors, 1 warning`; empty when there is nothing."""
    told = in_order(found)
    counts = [(sum(one.severity is weight for one in told), weight.value) for weight in Severity]
    return ", ".join(f"{count} {word}{'' if count == 1 else 's'}" for count, word in counts if count)


def why_not(error: OSError, path: Path) -> str:
    """Why a file could not be opened, in plain words."""
    name = harmless(str(path))
    if isinstance(error, FileNotFoundError):
        return f"there is no file or folder {name}"
    if isinstance(error, IsADirectoryError):
        return f"{name} is a folder"
    if isinstance(error, PermissionError):
        return f"this account may not open {name}"
    return f"{name}: {error.strerror or 'can not be opened'}"


def apologise(error: Exception, path: Path | None, screen: Screen) -> int:
    """Own up to a fault of the compiler itself, with what a report needs; the traceback only for
    MAKEGOOD_DEBUG=1.
    """
    import traceback

    if os.environ.get("MAKEGOOD_DEBUG") == "1":
        screen.tell("".join(traceback.format_exception(error)).rstrip())
    frames = traceback.extract_tb(error.__traceback__)
    ours = [frame for frame in frames if Path(frame.filename).is_relative_to(HOUSE)]
    ends = dict.fromkeys(
        f"{Path(frame.filename).name}:{frame.lineno}" for frame in (*ours[-1:], *frames[-1:])
    )
    over = f" over {harmless(str(path))}" if path else ""
    line = f"makegood {VERSION}, {type(error).__name__} at {', '.join(ends)}"
    screen.tell(
        f"sorry: makegood tripped{over}; the fault is in the compiler, not in your recipe\n"
        f"please report it with the recipe and this line: {line}"
    )
    return RECIPE_WRONG
