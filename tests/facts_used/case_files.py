"""Case files of facts that must count: recipes with what must come of them written beside their lines.

    === name of the case
    the recipe's lines; behind a line `# CODE` the warning or error it must get (`# CODE or CODE`: one of
    them), `# note CODE` the note it must get, `# ok` where it must get no warning and no error
    --- WHAT must hold of the part or the messages, several with semicolons

Every warning and every error must be named beside its line, and every one so named must come: a case
without marks is a recipe that must stay clean.  What can be asked for behind `---`, lengths in mm, places
counted from the lowest corner of the part's box (x, y, z):

    box X Y Z            volume V +-D        pieces N      shells N      genus N
    inside X Y Z         outside X Y Z       without CODE (no message of this code, not even a note)
    any CODE (a warning or error of this code at whatever line)          says WORDS (in some message)
    readings WORDS (printed by `readings`)   report WORDS                stl (the STL file is written)"""

from __future__ import annotations

import re
import sys
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path

import makegood
import numpy as np
import numpy.typing as npt
from makegood.diagnostics import Trouble
from makegood.diagnostics.types import Diagnostic, Severity
from makegood.mesh.finish import shells
from makegood.outputs import report_text, stl_bytes
from makegood.outputs.readings import readings_text
from makegood.result import Result

FOLDER = Path(__file__).parent
HEAD, ASKED = "=== ", "--- "
MARK = re.compile(r"#\s*(?P<marks>ok|note [a-z-]+|[a-z]+(?:-[a-z]+)+(?: or [a-z]+(?:-[a-z]+)+)*)\s*$")
BOX_WITHIN = 0.02  # mm: facets of rounds lie inside the true ones
ANYWHERE = re.compile(r"(?:any|without|says|readings|report) ")


@dataclass(frozen=True, slots=True)
class Case:
    """One recipe: its marks by line (from 1), and what is asked of the part, as written."""

    name: str
    recipe: str
    asked: tuple[str, ...]
    marks: dict[int, str] = field(default_factory=dict)


def read_cases(path: Path) -> Iterator[Case]:
    """The cases of a file, in the order written."""
    for part in ("\n" + path.read_text(encoding="utf-8")).split("\n" + HEAD)[1:]:
        name, _, rest = part.partition("\n")
        lines = rest.rstrip().split("\n")
        recipe = [line for line in lines if not line.startswith(ASKED)]
        wants = [want.strip() for line in lines if line.startswith(ASKED) for want in line[4:].split(";")]
        marks = {k: found["marks"] for k, line in enumerate(recipe, 1) if (found := MARK.search(line))}
        yield Case(name, "\n".join(recipe) + "\n", tuple(wants), marks)


def faults(case: Case) -> list[str]:
    """What does not come out as the case says; nothing where all holds."""
    result = makegood.compile_text(case.recipe, "case.mend")
    wrong = [*_unmarked(case, result.diagnostics), *_missed(case, result.diagnostics)]
    for want in case.asked:
        found = _asked(want, result)
        if found:
            wrong.append(found)
    return wrong


def _loud(one: Diagnostic) -> bool:
    return one.severity is not Severity.NOTE


def _unmarked(case: Case, said: tuple[Diagnostic, ...]) -> Iterator[str]:
    """Warnings and errors that no line of the case names."""
    anywhere = {want[4:].strip() for want in case.asked if want.startswith("any ")}
    for one in said:
        line = one.span.line if one.span is not None else 0
        mark = case.marks.get(line, "")
        if _loud(one) and one.code not in anywhere and one.code not in mark.split(" or "):
            yield f"line {line}: {one.code} ({one.headline})"


def _missed(case: Case, said: tuple[Diagnostic, ...]) -> Iterator[str]:
    """Messages that the case names and that did not come."""
    for line, mark in case.marks.items():
        if mark == "ok":
            continue
        codes, loud = mark.removeprefix("note ").split(" or "), not mark.startswith("note ")
        here = [one for one in said if one.span is not None and one.span.line == line]
        if not any(one.code in codes and _loud(one) is loud for one in here):
            yield f"line {line}: no {mark}"


def _asked(want: str, result: Result) -> str:
    """Why one wish behind `---` is not met; an empty text when it is."""
    word, _, rest = want.partition(" ")
    if ANYWHERE.match(want):
        return "" if _told(word, rest.strip(), result) else f"not so: {want}"
    if result.part is None or not result.ok:
        return f"no part: {want}"
    if word == "stl":
        try:
            stl_bytes(result.mesh, "case")
        except Trouble as trouble:
            return f"no STL: {trouble.says}"
        return ""
    return _measured(word, rest, result)


def _told(word: str, rest: str, result: Result) -> bool:
    if word == "any":
        return any(one.code == rest and _loud(one) for one in result.diagnostics)
    if word == "without":
        return all(one.code != rest for one in result.diagnostics)
    if word == "says":
        texts = [" ".join((one.headline, one.label or "", *one.advice)) for one in result.diagnostics]
        return any(rest in text for text in texts)
    if word == "readings":
        return rest in " ".join(readings_text(result.readings(), result.title).split())
    return rest in " ".join(report_text(result.report()).split())


def _measured(word: str, rest: str, result: Result) -> str:
    """Why a figure of the mesh is another one; an empty text where it is this one."""
    figures = result.figures
    if word in ("inside", "outside"):
        x, y, z = (float(one) for one in rest.split())
        place = np.array([x, y, z]) + np.array(figures.low)
        return "" if _inside(result, place) is (word == "inside") else f"({rest}) is not {word}"
    if word == "box":
        wanted = [float(one) for one in rest.split()]
        return (
            ""
            if np.allclose(figures.box, wanted, atol=BOX_WITHIN)
            else f"box {_text(figures.box)}, not {rest}"
        )
    if word == "volume":
        value, _, slack = rest.partition("+-")
        near = abs(figures.volume - float(value)) <= float(slack or 0.01)
        return "" if near else f"volume {figures.volume:.2f}, not {rest}"
    count = {"pieces": figures.pieces, "genus": figures.genus, "shells": _shells(result)}[word]
    return "" if count == int(rest) else f"{word} {count}, not {rest}"


def _shells(result: Result) -> int:
    return len(set(shells(len(result.mesh.points), result.mesh.triangles).tolist()))


def _inside(result: Result, place: npt.NDArray[np.float64]) -> bool:
    """True where a place lies in the material: the solid angle of the surface seen from there is 4 pi, not 0
    (van Oosterom and Strackee 1983)."""
    a, b, c = (result.mesh.points[result.mesh.triangles[:, k]] - place for k in range(3))
    la, lb, lc = (np.linalg.norm(one, axis=1) for one in (a, b, c))
    over = np.einsum("ij,ij->i", a, np.cross(b, c))
    dots = [np.einsum("ij,ij->i", *pair) for pair in ((a, b), (c, a), (b, c))]
    under = la * lb * lc + dots[0] * lc + dots[1] * lb + dots[2] * la
    return bool(abs(np.arctan2(over, under).sum()) > np.pi)


def _text(numbers: tuple[float, ...]) -> str:
    return " ".join(f"{one:.2f}" for one in numbers)


def main() -> None:
    """Show what comes of the cases whose names begin with a word given: messages, figures, what is not so."""
    for path in sorted(FOLDER.glob("*.cases")):
        for case in read_cases(path):
            if sys.argv[1:] and not case.name.startswith(tuple(sys.argv[1:])):
                continue
            result, wrong = makegood.compile_text(case.recipe, "case.mend"), faults(case)
            print(f"{'FAILS' if wrong else 'holds'}  {case.name}")
            for one in result.diagnostics:
                line = one.span.line if one.span is not None else "-"
                print(
                    f"    {line} {one.severity.value} {one.code}: {one.headline} | {' / '.join(one.advice)}"
                )
            if result.ok:
                box, volume = _text(result.figures.box), result.figures.volume
                counts = (
                    f"pieces {result.figures.pieces} shells {_shells(result)} genus {result.figures.genus}"
                )
                print(f"    box {box} volume {volume:.2f} {counts}")
            for row in wrong:
                print(f"    ! {row}")


if __name__ == "__main__":
    main()
