"""Every number of a built model changed, one at a time: what a fault of the compiler might do.

Left alone is the record of what was said (`numbers`, `placed_by` and the like): by it the callipers judge."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import makegood
import msgspec
import numpy as np
from makegood.callipers import measure_back
from makegood.mesh import assemble
from makegood.result import Result

RECORD = frozenset(
    {
        "numbers",
        "placed_by",
        "said",
        "rests",
        "distances",
        "offset",
        "span",
        "stands_on",
        "edges_read",
        "card",
    }
    | {"read", "standing", "u", "lets", "told", "steps"}
)
TENTH = 0.1


def changed(value: Any, path: str = "") -> Iterator[tuple[str, Any]]:
    """Every way of changing one number in a value by a tenth: its path, and the value with it changed."""
    if isinstance(value, bool) or value is None or isinstance(value, str | int):
        return
    if isinstance(value, float):
        if value != 0.0:
            yield path, value * (1 + TENTH)
    elif isinstance(value, msgspec.Struct):
        for name in value.__struct_fields__:
            if name not in RECORD:
                for at, other in changed(getattr(value, name), f"{path}.{name}"):
                    yield at, msgspec.structs.replace(value, **{name: other})
    elif isinstance(value, tuple):
        for k, one in enumerate(value):
            for at, other in changed(one, f"{path}[{k}]"):
                yield at, (*value[:k], other, *value[k + 1 :])
    elif isinstance(value, dict):
        for key, one in value.items():
            for at, other in changed(one, f"{path}[{key}]"):
                yield at, {**value, key: other}


def verdict(result: Result, model: Any) -> str:
    """What becomes of a changed model: `refused`, `same` mesh, `found` by the callipers, or `missed`."""
    try:
        part, _ = assemble(model, 0.01, result.imported)
    except Exception as fault:  # a model that no recipe gives may trip anything
        return f"refused ({type(fault).__name__})"
    if part is None:
        return "refused"
    assert result.part is not None
    before, after = result.part.mesh, part.mesh
    if before.points.shape == after.points.shape and np.allclose(
        before.points + result.part.low, after.points + part.low, atol=2e-3
    ):
        return "same"
    return "found" if any(row.wrong for row in measure_back(model, part)) else "missed"


def tried(path: Path) -> Iterator[tuple[str, str]]:
    """Every changed number of a recipe's model with its verdict."""
    result = makegood.compile_file(path)
    assert result.model is not None
    for at, model in changed(result.model):
        yield at, verdict(result, model)


if __name__ == "__main__":
    for name in sys.argv[1:]:
        counts: dict[str, int] = {}
        for where, said in tried(Path(name)):
            counts[said] = counts.get(said, 0) + 1
            if said == "missed":
                print("   ", where)
        print(name, counts)
