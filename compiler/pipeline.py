"""The flow, top to bottom: a recipe's text becomes a part.  Each room does one step and hands on its
messages.

Files that a recipe takes parts from come before its claims: `facts` first works out only the numbers that
they are asked for with, then `imports` compiles or reads them, and then all is stated, with their sizes and
names.  Their meshes go past `facts`, `places` and `model` to the mesh room.  What `imports` can't do itself,
to run this flow for another recipe and to move the surface of a mesh, it is given here."""

from __future__ import annotations

from collections.abc import Mapping
from typing import cast

from .callipers import measure_back
from .checks import check_part
from .diagnostics.types import Diagnostic
from .facts import import_requests, state_tree, stray_readings
from .imports import Makers, Store, bring_in
from .imports.types import MadeRecipe
from .kinds import needed_file
from .mesh import assemble
from .model import build_model, card_of
from .places import place_all
from .quantities import Quantity
from .quantities.arrays import Floats, Longs
from .result import Result
from .source import Shelf, Source
from .tree import parse_rows


def run(source: Source, found: tuple[Diagnostic, ...], chord: float, shelf: Shelf | None = None) -> Result:
    """Compile a recipe that has been read.  `chord`: greatest distance (mm) between a facet and its curve;
    `shelf`: where the files it speaks of are looked for (none: only among the patterns we ship)."""
    return _run(source, found, Store(shelf or Shelf(), chord, Makers(_run_used, _shifted)), {})


def _run(
    source: Source, found: tuple[Diagnostic, ...], store: Store, given: Mapping[str, Quantity]
) -> Result:
    """The flow itself; `given` are the numbers that a recipe which uses this one sets."""
    if not source.rows and any(one.is_error for one in found):
        return Result.refused(source, found)
    tree, written, unparsed = parse_rows(source)
    imports, not_had = bring_in(import_requests(tree, given), store)
    claims, unclear = state_tree(tree, given, imports.parts, store.flipped)
    layout, unplaced = place_all(claims)
    stray = stray_readings(claims)
    said = (*found, *unparsed, *unclear, *not_had, *unplaced)
    wrong = any(one.is_error for one in said)
    model, unmade = (None, ()) if wrong else build_model(claims, layout)
    meshes = imports.meshes
    part, unbuilt = (None, ()) if model is None else assemble(model, store.chord, meshes, unmade)
    taken = () if model is None or part is None else measure_back(model, part)
    checked = check_part(card_of(claims), model, part, meshes)
    messages = (*said, *unbuilt, *stray, *checked)
    return Result(source, written, claims, layout, part, messages, model, meshes, taken)


def _shifted(points: Floats, triangles: Longs, step: float, chord: float) -> tuple[Floats, Longs] | None:
    """A closed mesh with its whole surface moved; loaded only for a recipe that grows or shrinks one."""
    own = needed_file("blank", "growing")
    return cast("tuple[Floats, Longs] | None", own.shifted(points, triangles, step, chord))


def _run_used(
    source: Source, found: tuple[Diagnostic, ...], store: Store, given: Mapping[str, Quantity]
) -> MadeRecipe:
    """The same for a recipe that another one uses, to its end as a finished part."""
    result = _run(source, found, store, given)
    part = None
    if result.part is not None and result.ok:
        own = needed_file("use", "finished")
        part = own.finished_part(result.made, result.part, result.imported)
    return MadeRecipe(result.diagnostics, part)
