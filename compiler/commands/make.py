"""`make`: recipes into files for the printer."""

from __future__ import annotations

import argparse
import math
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from ..diagnostics.cells import harmless
from ..terminal import Screen
from .running import GOOD, RECIPE_WRONG, WrongUsage, compiled, for_each, put, recipes_named

if TYPE_CHECKING:
    from .. import Result

FORMATS = ("3mf", "stl")
FINEST, COARSEST = 0.0005, 1.0


def options(parser: argparse.ArgumentParser) -> None:
    """What may stand behind `make`."""
    parser.add_argument("recipes", nargs="+", metavar="RECIPE")
    parser.add_argument(
        "-o", dest="output", metavar="FILE", help=".3mf or .stl to write (default: beside the recipe)"
    )
    parser.add_argument(
        "--chord", type=_chord, default=0.01, metavar="MM", help="how far facets may stray (0.01)"
    )
    parser.add_argument("--format", choices=FORMATS, help="kind of file when -o is not given (default: 3mf)")


def run(chosen: argparse.Namespace, screen: Screen) -> int:
    """Compile each recipe and write its file."""
    recipes = recipes_named(chosen.recipes)
    goals = _goals(recipes, chosen.output, chosen.format)

    def work(path: Path) -> int:
        result = compiled(path, screen, chosen.chord)
        if not result.ok:
            return RECIPE_WRONG
        goal = goals[path]
        _write_mesh(result, goal)
        screen.result(_summary(result, path, goal))
        return GOOD

    return for_each(recipes, screen, work, "made")


def _goals(recipes: Sequence[Path], output: str | None, form: str | None) -> dict[Path, Path]:
    """Which file each recipe is written to; raises WrongUsage where that can't be meant."""
    if output is not None:
        if len(recipes) > 1:
            raise WrongUsage(
                "-o names one file but there are several recipes; without it each lands beside its own"
            )
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
    assert result.mesh is not None
    if goal.suffix.lower() == ".stl":
        from ..outputs.stl import stl_bytes

        data = stl_bytes(result.mesh, result.title)
    else:
        from ..outputs.threemf import threemf_bytes

        data = threemf_bytes(result.mesh, result.card, result.title)
    put(goal, data)


def _summary(result: Result, path: Path, goal: Path) -> str:
    """The lines printed after `make`."""
    report = result.report(weighed=False)
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


def _chord(text: str) -> float:
    try:
        chord = float(text)
    except ValueError:
        chord = math.nan
    if not FINEST <= chord <= COARSEST:
        raise argparse.ArgumentTypeError(f"{text!r} should be millimetres between {FINEST} and {COARSEST:g}")
    return chord
