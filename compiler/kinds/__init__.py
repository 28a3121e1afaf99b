"""Kinds of bodies, holes, zones and patterns, each in a folder of its own: add one, and every room knows it.

`kinds/NAME` holds `lines.shapes` (what its lines may be and what it is, as in `grammar/recipe.shapes`),
`__init__.py` (with its `TRAITS`, `types.KindTraits`, where it has any), `model.py` with `make`, `solid.py`
with `build`, and where a body's size on its plane is not plain, `sizes.py` with `half` and `high`.  The lines
are read with the language, all else only when a recipe has such a thing."""

from __future__ import annotations

import os
from collections.abc import Iterator
from contextlib import suppress
from functools import cache
from importlib import import_module
from types import ModuleType

from .types import WITHOUT_FOLDER, KindTraits

SHAPES = "lines.shapes"


@cache
def traits(kind: str) -> KindTraits:
    """What a kind is in figures and words; a kind that does not say has the usual ones."""
    if kind not in _folders():
        return WITHOUT_FOLDER.get(kind, KindTraits())
    traits: KindTraits = getattr(import_module(f"{__name__}.{kind}"), "TRAITS", KindTraits())
    return traits


def shape_texts() -> Iterator[str]:
    """What the lines of these kinds may be, one text for each."""
    for folder in _folders().values():
        with suppress(FileNotFoundError), open(f"{folder}/{SHAPES}", encoding="utf-8") as text:
            yield text.read()


@cache
def own_file(kind: str, name: str) -> ModuleType | None:
    """The file `name` of a kind's folder, loaded; None where the kind has no folder or its folder no such
    file.
    """
    folder = _folders().get(kind)
    if folder is None or not os.path.isfile(f"{folder}/{name}.py"):
        return None
    return import_module(f"{__name__}.{kind}.{name}")


def needed_file(kind: str, name: str) -> ModuleType:
    """The same of a file that must be there.  Raises KeyError where it is not."""
    own = own_file(kind, name)
    if own is None:
        raise KeyError(f"{kind}/{name}.py")
    return own


@cache
def _folders() -> dict[str, str]:
    """Each kind's folder, by the kind, in the order of their names."""
    found = {name: f"{home}/{name}" for home in __path__ for name in os.listdir(home) if name.isidentifier()}
    return {kind: found[kind] for kind in sorted(found) if not kind.startswith("_")}


__all__ = ["KindTraits", "needed_file", "own_file", "shape_texts", "traits"]
