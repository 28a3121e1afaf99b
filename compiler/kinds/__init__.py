"""Kinds of bodies, holes, zones and patterns, each in a folder of its own: add one, and every room knows it.

`kinds/NAME` holds `lines.shapes` (what its lines may be and what it is, as in `grammar/recipe.shapes`),
`__init__.py` (of a body with its `BODY`, `types.Body`), `model.py` with `make`, `solid.py` with `build`, and
where a body's size on its plane is not plain, `sizes.py` with `half` and `high`. The first two are read with
the language, the others only when a recipe has such a thing."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache
from importlib import import_module
from pathlib import Path
from types import ModuleType

from .types import KindTraits

SHAPES = "lines.shapes"


@cache
def own_bodies() -> dict[str, KindTraits]:
    """Every kind whose lines stand in its folder, by its word; one without a `BODY` has nothing to add."""
    return {
        folder.name: getattr(import_module(f"{__name__}.{folder.name}"), "BODY", KindTraits())
        for folder in _folders()
        if (folder / SHAPES).exists()
    }


def shape_texts() -> Iterator[str]:
    """What the lines of these kinds may be, one text for each."""
    for folder in _folders():
        if (folder / SHAPES).exists():
            yield (folder / SHAPES).read_text(encoding="utf-8")


@cache
def own_file(kind: str, name: str) -> ModuleType | None:
    """The file `name` of a kind's folder, loaded; None where the kind has no folder or its folder no such
    file.
    """
    if not any(folder.name == kind and (folder / f"{name}.py").exists() for folder in _folders()):
        return None
    return import_module(f"{__name__}.{kind}.{name}")


@cache
def _folders() -> tuple[Path, ...]:
    found = {
        folder.name: folder
        for home in __path__
        for folder in Path(home).iterdir()
        if (folder / "__init__.py").exists()
    }
    return tuple(found[name] for name in sorted(found))


__all__ = ["Body", "own_bodies", "own_file", "shape_texts"]
