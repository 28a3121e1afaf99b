"""Case files: recipes with the messages they must give written below them, so that a report of a fault is a
paste.

    === name of the case the recipe's lines --- messages LINE CODE SEVERITY  HEADLINE
        what would do

`LINE` is `-` where the whole file is meant.  `python -m tests.diagnostics.case_files` writes down anew what
is said today; read the difference before it is kept."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import makegood
from makegood.diagnostics import Diagnostic, in_order

FOLDER = Path(__file__).parent / "cases"
HEAD, MESSAGES = "=== ", "--- messages"


@dataclass(frozen=True, slots=True)
class Case:
    """One recipe and what is to be said of it, both as text that ends with a line end (or is empty)."""

    name: str
    recipe: str
    expected: str


def files() -> list[Path]:
    """Every case file, in the order of their names."""
    return sorted(FOLDER.glob("*.txt"))


def read_cases(path: Path) -> Iterator[Case]:
    """The cases of a file, in the order written."""
    for part in ("\n" + path.read_text(encoding="utf-8")).split("\n" + HEAD)[1:]:
        name, _, rest = part.partition("\n")
        recipe, mark, expected = rest.partition(f"{MESSAGES}\n")
        assert mark or "---" not in rest, f"{path.name}: {name}: no line `{MESSAGES}`"
        yield Case(name, recipe, expected.rstrip("\n") + "\n" if expected.strip() else "")


def said(recipe: str) -> str:
    """What is said of a recipe, as a case file has it."""
    return "".join(_line(one) for one in in_order(makegood.compile_text(recipe, "case.mend").diagnostics))


def _line(one: Diagnostic) -> str:
    where = str(one.span.line) if one.span is not None else "-"
    rows = [f"{where} {one.code} {one.severity.value}  {one.headline}"]
    if one.label:
        rows.append(f"    ^ {one.label}")
    rows += [f"    + {other.span.line} {other.text}".rstrip() for other in one.others]
    rows += [f"    {line}" for line in one.advice]
    return "\n".join(rows) + "\n"


def written(cases: list[Case]) -> str:
    """The text of a case file."""
    return "\n".join(f"{HEAD}{one.name}\n{one.recipe}{MESSAGES}\n{one.expected}" for one in cases)


def main() -> None:
    """Write every case file anew with what is said today."""
    for path in files():
        path.write_text(
            written([Case(one.name, one.recipe, said(one.recipe)) for one in read_cases(path)]),
            encoding="utf-8",
        )


if __name__ == "__main__":
    main()
