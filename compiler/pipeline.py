"""The flow, top to bottom: a recipe's text becomes a part.  Each room does one step and hands on its messages."""

from __future__ import annotations

from .checks import check_part
from .diagnostics.types import Diagnostic
from .facts import state_tree
from .positions import place_all
from .result import Result
from .solids import assemble
from .source import Source
from .tree import parse_rows


def run(source: Source, found: tuple[Diagnostic, ...], chord: float) -> Result:
    """Compile a recipe that has been read.  `chord`: greatest distance (mm) between a facet and its curve."""
    if not source.rows and any(one.is_error for one in found):
        return Result.refused(source, found)
    tree, written, unparsed = parse_rows(source)
    claims, unclear = state_tree(tree)
    layout, unplaced = place_all(claims)
    said = (*found, *unparsed, *unclear, *unplaced)
    wrong = any(one.is_error for one in said)
    part, unbuilt = (None, ()) if wrong else assemble(claims, layout, chord)
    checked = check_part(claims, layout, part, wrong)
    return Result(source, written, claims, layout, part, (*said, *unbuilt, *checked))
