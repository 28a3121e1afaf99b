"""The flow, top to bottom: a recipe's text becomes a part.  Each room does one step and hands on its
messages.
"""

from __future__ import annotations

from collections.abc import Mapping

from .bringing import Brought, bring_in
from .checks import check_part
from .diagnostics.types import Diagnostic
from .facts import state_tree, stray_readings
from .mesh import assemble
from .model import build_model, card_of
from .places import place_all
from .quantities import Quantity
from .result import Result
from .source import Shelf, Source
from .tree import parse_rows


def run(source: Source, found: tuple[Diagnostic, ...], chord: float, shelf: Shelf | None = None) -> Result:
    """Compile a recipe that has been read.  `chord`: greatest distance (mm) between a facet and its curve;
    `shelf`: where the files it speaks of are looked for (none: only among the patterns we ship)."""
    return _run(source, found, Brought(shelf or Shelf(), chord), {})


def _run(
    source: Source, found: tuple[Diagnostic, ...], store: Brought, given: Mapping[str, Quantity]
) -> Result:
    """The same for a recipe that another one uses; `given` are the numbers set from outside."""
    if not source.rows and any(one.is_error for one in found):
        return Result.refused(source, found)
    tree, written, unparsed = parse_rows(source)
    stated, unclear = state_tree(tree, given)
    claims, not_had = bring_in(stated, store, _run)  # other files, each compiled as this one is
    layout, unplaced = place_all(claims)
    stray = stray_readings(claims)
    said = (*found, *unparsed, *unclear, *not_had, *unplaced)
    wrong = any(one.is_error for one in said)
    model, unmade = (None, ()) if wrong else build_model(claims, layout)
    part, unbuilt = (None, ()) if model is None else assemble(model, claims, layout, store.chord, unmade)
    checked = check_part(card_of(claims), model, claims, layout, part, wrong)
    return Result(source, written, claims, layout, part, (*said, *unbuilt, *stray, *checked), model)
