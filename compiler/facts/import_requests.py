"""What a recipe asks of other files, with every number of it worked out: `use` and `blank` statements.

This comes before all else that is claimed, since a used part's sizes and names are part of the claims.  What
can't be understood is asked for nowhere, and answered when the whole recipe is stated."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from ..imports.types import ImportRequest, MeshRequest, RecipeRequest, Setting
from ..language.items import Name
from ..quantities import Quantity
from ..tree.types import Statement, Tree
from .claims_builder import entries_of
from .needs import BROUGHT
from .types import Entry


def import_requests(tree: Tree, given: Mapping[str, Quantity] | None = None) -> tuple[ImportRequest, ...]:
    """The bodies that come from files, by their names; `given` stands for what some `let` says."""
    if not any(one.kind in BROUGHT for one in tree.statements):
        return ()
    flipped = any(
        fact.word == "other hand" for one in tree.statements if one.kind == "recipe" for fact in one.facts
    )
    mirrored = {name for one in tree.statements if one.kind == "mirror" for name in _names_spoken_of(one)}
    return tuple(
        _request(entry, flipped, entry.name in mirrored) for entry in entries_of(tree, BROUGHT, given or {})
    )


def _names_spoken_of(statement: Statement) -> Iterator[str]:
    """The things, without their copies and sides, that a statement speaks of."""
    for fact in statement.facts:
        for _, value in fact.values:
            for one in value if isinstance(value, tuple) else (value,):
                if isinstance(one, Name):
                    yield one.text.partition(".")[0]


def _request(entry: Entry, flipped: bool, mirrored: bool) -> ImportRequest:
    file, lies, turned = entry.one("file"), entry.one("lies on"), entry.one("turned")
    assert file is not None
    plain = (
        entry.name,
        file.word_of("file"),
        entry.span,
        file.span,
        lies.word_of("side") if lies is not None else "back",
        turned.number("angle") if turned is not None else 0.0,
    )
    if entry.kind == "use":
        settings = tuple(
            Setting(claim.word_of("size"), claim.quantity("given"), claim.span) for claim in entry.all("with")
        )
        return RecipeRequest(*plain, settings, flipped, mirrored)
    unit, repair, change = entry.one("unit"), entry.one("repair"), entry.one("grow", "shrink")
    return MeshRequest(
        *plain,
        unit.word_of("unit") if unit is not None else "",
        repair.span if repair is not None else None,
        change.word if change is not None else "",
        change.number("number") if change is not None else 0.0,
    )
