"""The syntax tree into claims: each fact looked up, its numbers worked out, its kind of thing checked.

Claims come in the order of names and of the typed text of each line, so that the order of writing can't reach
any later room."""

from __future__ import annotations

import contextlib
from collections.abc import Mapping
from typing import cast

from msgspec.structs import replace

from ..diagnostics.types import Diagnostic, Label, Severity
from ..imports.types import ImportedPart
from ..kinds import own_file
from ..language.items import Quoted, Reading, Word
from ..quantities import Quantity
from ..tree.types import Fact, Statement, Tree
from ..tree.writing import fact_text, item_text, up_to_made
from .completeness import distinct, missing
from .contents import Contents
from .dependents import without
from .limits import within_limits
from .naming import Names, collect
from .needs import BROUGHT, FIT_WORDS
from .pockets import by_number, of_screw
from .sizes import Sizes
from .sums import Unclear
from .types import Claim, Claims, Content, Entry

MOST_MESSAGES = 300
_CARD = ("fits", "broke", "changed", "plastic", "load", "prints on", "result", "author", "licence", "laid")


def state_tree(
    tree: Tree,
    given: Mapping[str, Quantity] | None = None,
    parts: Mapping[str, ImportedPart] | None = None,
    flipped: bool = False,
) -> tuple[Claims, tuple[Diagnostic, ...]]:
    """All that a recipe claims, and every claim that can't be understood.

    `given` stands for what some `let` says; `parts` are the bodies that come from files (one that is not
    among them could not be had, and is left out); `flipped` as `Claims` has it."""
    names = collect(tree)
    claims = _Builder(tree, names, given or {}).claims()
    if flipped:
        claims = replace(claims, flipped=True)
    claims, unknown = _with_imports(claims, parts or {})
    return claims, (*names.found, *unknown)


def _with_imports(claims: Claims, parts: Mapping[str, ImportedPart]) -> tuple[Claims, tuple[Diagnostic, ...]]:
    """The claims with what is known of bodies from files; the same file works for both of their kinds."""
    own = own_file("use", "claims") if claims.of_kind(*sorted(BROUGHT)) else None
    if own is None:
        return claims, ()
    return cast("tuple[Claims, tuple[Diagnostic, ...]]", own.with_imports(claims, parts))


def entries_of(tree: Tree, kinds: frozenset[str], given: Mapping[str, Quantity]) -> tuple[Entry, ...]:
    """The statements of these kinds that can be understood, in the order of their names.

    What is wrong with the others is not said: `state_tree` says it."""
    names = collect(tree)
    work = _Builder(tree, names, given)
    entries = (work.entry(one) for one in names.declared.values() if one.kind in kinds)
    return tuple(one for one in entries if one is not None)


class _Builder:
    def __init__(self, tree: Tree, names: Names, given: Mapping[str, Quantity]) -> None:
        self.names = names
        self.found = names.found
        recipes = [one for one in tree.statements if one.kind == "recipe"]
        self.recipe = recipes[0] if recipes else None
        self.sizes = Sizes(names, given)
        self.contents = Contents(names, self.sizes)
        for other in recipes[1:]:
            self.found.append(_once(other, recipes[0]))
        if self.recipe is None and not any(one.kind == "" for one in tree.statements):
            said = "the recipe has no head line"
            advice = ('begin with: recipe "what it is"',)
            self.found.append(Diagnostic("no-recipe", Severity.ERROR, said, advice=advice))
        self._set_give()

    def _set_give(self) -> None:
        """Take the limits of readings and tools that the recipe states."""
        for fact in self.recipe.facts if self.recipe else ():
            given, tool = fact.get("give"), fact.get("tool")
            if fact.word not in ("readings", "by") or not isinstance(given, Reading):
                continue
            with contextlib.suppress(Unclear):
                limit = self.sizes.value(given.value).value
                if isinstance(tool, Word):
                    self.sizes.limits[tool.text] = limit
                else:
                    self.sizes.all_read_to(limit)

    def claims(self) -> Claims:
        entries: dict[str, Entry] = {}
        lets: list[Entry] = []
        unread = set(self.names.unread)
        for name, statement in self.names.declared.items():
            if len(self.found) >= MOST_MESSAGES:
                said = f"more than {MOST_MESSAGES} claims can't be understood; the rest was not looked at"
                advice = ("mend the first few and try again: one mistake may be behind them all",)
                self.found.append(
                    Diagnostic("too-many-mistakes", Severity.ERROR, said, statement.span, advice=advice)
                )
                break
            entry = self.entry(statement)
            if entry is None:
                unread.add(name)
            elif statement.kind == "let":
                lets.append(entry)
            else:
                entries[name] = entry
        recipe = self.entry(self.recipe) if self.recipe is not None else None
        title, card = self._card()
        spoken = frozenset(self.names.spoken_of)
        return Claims(title, card, recipe, without(entries, unread), frozenset(unread), spoken, tuple(lets))

    def _card(self) -> tuple[str, tuple[tuple[str, str], ...]]:
        if self.recipe is None:
            return "", ()
        title = self.recipe.head.get("text")
        card: dict[str, str] = {}
        for fact in self.recipe.facts:
            if fact.word in _CARD:
                lead = len(fact.word.split())
                said = " ".join(
                    one.text if isinstance(one, Quoted) else item_text(one) for one in fact.items[lead:]
                )
                said = said.replace(" ,", ",")
                card[fact.word] = f"{card[fact.word]}; {said}" if fact.word in card else said
        return title.text if isinstance(title, Quoted) else "", tuple(sorted(card.items()))

    def entry(self, statement: Statement) -> Entry | None:
        """A statement understood; None, with messages kept, where it can't be."""
        if statement.kind == "let":
            good = self.sizes.let(statement) and within_limits(self.sizes, statement)
            return Entry("let", statement.name, (), statement.span) if good else None
        facts = distinct(statement, self.found)
        stated = [self._claim(fact, statement) for fact in facts]
        wanting = missing(statement, facts)
        self.found.extend(wanting)
        claims = [claim for claim in stated if claim is not None]
        if statement.kind in BROUGHT and isinstance(file := statement.head.get("file"), Quoted):
            claims.append(Claim("file", (("file", file.text),), file.text, file.span))
        claims.sort(key=lambda one: one.text)
        if wanting or None in stated:
            return None
        return Entry(statement.kind, statement.name, tuple(claims), statement.span)

    def _claim(self, fact: Fact, statement: Statement) -> Claim | None:
        values: list[tuple[str, Content]] = []
        good = True
        try:
            fact = by_number(self.sizes, fact)
            values += of_screw(self.sizes, fact)
        except Unclear:
            good = False
        for key, value in fact.values:
            try:
                content = self.contents.of(key, value, fact, statement)
            except Unclear:
                content = None
            if content is None:
                good = False
            else:
                values.append((key, content))
        try:
            values = self._derived(values, fact, statement) if good else []
        except Unclear:
            return None
        if not good:
            return None
        text, bare = fact_text(fact.items), fact_text(up_to_made(fact))
        return Claim(fact.word, tuple(values), text, fact.span, self.sizes.taken(fact), bare)

    def _derived(
        self, values: list[tuple[str, Content]], fact: Fact, statement: Statement
    ) -> list[tuple[str, Content]]:
        """The values of a fact with what follows from them: the size a fit asks for, the diameter of what is
        the same as another or was read by its chord, the size of a hole by its drills.  Raises Unclear."""
        if fact.word in FIT_WORDS[:-1]:
            return [*values, ("meant", self.sizes.meant_by(fact, statement.kind))]
        if fact.word == "same as":
            return [*values, ("across", self.sizes.alike(fact))]
        if fact.word == "chord":
            return [*values, ("across", self.sizes.bowed(statement))]
        if fact.word == "drill":
            measure = self.sizes.measure(fact)
            by_two: list[tuple[str, Content]] = [("limits", "drills")] if fact.get("stops") else []
            return [*by_two, ("size", measure)] if measure is not None else values
        return values


def _once(second: Statement, first: Statement) -> Diagnostic:
    return Diagnostic(
        "said-twice",
        Severity.ERROR,
        "a file holds one recipe",
        second.span,
        others=(Label(first.span, "it begins here"),),
        advice=("put the second one into a file of its own",),
    )


__all__ = ["entries_of", "state_tree"]
