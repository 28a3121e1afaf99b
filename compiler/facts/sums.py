"""Sums worked out: literals, names, and sizes of other statements that a number leans on.

A size may lean on another statement's (`long opening.long - 0.6`); they are worked out on demand, and a
circle of sizes that lean on each other is answered with the loop."""

from __future__ import annotations

import re
from abc import ABC, abstractmethod
from collections.abc import Mapping

from msgspec import Struct, field

from ..diagnostics import nearest
from ..diagnostics.types import Diagnostic, Severity, Span
from ..language.items import Binary, Bracket, Expression, Name, Negative, Numeral
from ..quantities import Quantity, Standing, Unit, combine, parse_number
from ..tree.types import Fact, Statement
from .naming import Names, parts_of
from .needs import SIZE_WORDS

MOST = 10_000.0
MOST_LEANING = 100
_SIZE_NAME = re.compile(r"([^.]+)\.([^.]+)(\.read)?")
Key = tuple[str, str, bool]
"""A size that is leaned on: the name of its statement, its fact (`let`: a named number), and whether it is
meant as read."""


class Unclear(Exception):
    """A number that can't be worked out; its message is already kept (or was given where its cause
    stands).
    """


class _Leaning(Struct):
    """The sizes that others lean on: those worked out, those at work, those answered, those not to be had."""

    known: dict[Key, Quantity] = field(default_factory=dict)
    open: list[Key] = field(default_factory=list)
    answered: set[Key] = field(default_factory=set)
    failed: set[Key] = field(default_factory=set)
    too_deep: bool = False


class Sums(ABC):
    """Works out expressions for one recipe; `given` stands for what some `let` says."""

    def __init__(self, names: Names, given: Mapping[str, Quantity]) -> None:
        self.names = names
        self.given = given
        self._sizes = _Leaning()

    @abstractmethod
    def size(self, key: Key, statement: Statement, span: Span) -> Quantity:
        """A size of a statement, worked out for the first time; raises Unclear."""

    def value(self, expression: Expression) -> Quantity:
        """The number an expression comes to; raises Unclear when it can't be had."""
        if isinstance(expression, Numeral):
            return self._literal(expression)
        if isinstance(expression, Bracket):
            return self.value(expression.of)
        if isinstance(expression, Negative):
            of = self.value(expression.of)
            return Quantity(-of.value, of.u, of.standing, of.unit)
        if isinstance(expression, Name):
            return self._named(expression)
        return self._binary(expression)

    def _literal(self, number: Numeral) -> Quantity:
        try:
            value, unit = parse_number(number.text)
        except (ValueError, OverflowError):
            raise self.refuse(
                "number-too-big", f"`{_short(number.text)}` is not a size anyone could print", number.span
            ) from None
        if value > MOST and unit is not Unit.FORCE:
            raise self.refuse(
                "number-too-big",
                f"`{_short(number.text)}` is larger than {MOST:.0f}",
                number.span,
                ("sizes are in mm: 10 000 mm is ten metres",),
            )
        return Quantity(value, 0.0, Standing.READ, unit)

    def _binary(self, sum_: Binary) -> Quantity:
        left, right = self.value(sum_.left), self.value(sum_.right)
        try:
            return combine(sum_.sign, left, right)
        except ZeroDivisionError:
            raise self.refuse("no-such-sum", "a division by nothing", sum_.right.span) from None
        except ValueError as error:
            raise self.refuse("no-such-sum", str(error), sum_.span) from None

    def _named(self, name: Name) -> Quantity:
        names = self.names
        statement = names.declared.get(name.text)
        if statement is not None and statement.kind == "let":
            names.spoken_of.add(name.text)
            return self.leaning((name.text, "let", False), statement, name.span)
        if name.text in names.unread:
            names.spoken_of.add(name.text)
            raise Unclear
        seen = _SIZE_NAME.fullmatch(name.text)
        if seen and seen[1] in names.declared and seen[2] in SIZE_WORDS:
            names.spoken_of.add(seen[1])
            return self.leaning((seen[1], seen[2], bool(seen[3])), names.declared[seen[1]], name.span)
        owner, _, part = name.text.rpartition(".")
        if owner in names.declared and part not in parts_of(names.kind(owner)) and not part.isdigit():
            raise self.no_size(names.declared[owner], part, name.span)
        if names.resolve(name) is None:
            raise Unclear
        base = names.declared.get(name.text.partition(".")[0])
        sizes = sorted({fact.word for fact in sized_facts(base)} & set(SIZE_WORDS)) if base else []
        said = f"`{name.text}` is a thing, not a number"
        advice = ("its sizes: " + ", ".join(f"{name.text}.{one}" for one in sizes),) if sizes else ()
        raise self.refuse("not-a-number", said, name.span, advice)

    def leaning(self, key: Key, statement: Statement, span: Span) -> Quantity:
        """A size of a statement, worked out once; raises Unclear where it leans on itself or can't be had."""
        if key in self._sizes.known:
            return self._sizes.known[key]
        if key in self._sizes.open:
            loop = [*self._sizes.open[self._sizes.open.index(key) :], key]
            said = "sizes that lean on each other in a circle: " + " -> ".join(_shown(one) for one in loop)
            if not self._sizes.answered & set(loop):
                self._sizes.answered.update(loop)
                raise self.refuse("circle-of-sizes", said, span, ("give one of them a number of its own",))
            raise Unclear
        if key in self._sizes.failed:
            raise Unclear
        if len(self._sizes.open) >= MOST_LEANING:
            self._sizes.failed.add(key)
            if self._sizes.too_deep:
                raise Unclear
            self._sizes.too_deep = True
            raise self.refuse(
                "circle-of-sizes",
                f"more than {MOST_LEANING} sizes lean on one another",
                span,
                ("give one of them a number of its own",),
            )
        self._sizes.open.append(key)
        try:
            found = self.size(key, statement, span)
        except Unclear:
            self._sizes.failed.add(key)
            raise
        finally:
            self._sizes.open.pop()
        self._sizes.known[key] = found
        return found

    def no_size(self, statement: Statement, word: str, span: Span) -> Unclear:
        """Keep the message for a size that a statement does not give, and give what is to be raised then."""
        sizes = sorted({fact.word for fact in sized_facts(statement)} & set(SIZE_WORDS))
        near = nearest(word, sizes)
        advice = ("its sizes: " + ", ".join(f"{statement.name}.{one}" for one in sizes),) if sizes else ()
        if near:
            advice = ("did you mean " + " or ".join(f"`{statement.name}.{one}`" for one in near) + "?",)
        return self.refuse("unknown-part", f"`{statement.name}` gives no size `{word}`", span, advice)

    def refuse(self, code: str, said: str, span: Span, advice: tuple[str, ...] = ()) -> Unclear:
        """Keep an error, and give what is to be raised then."""
        self.names.found.append(Diagnostic(code, Severity.ERROR, said, span, advice=advice))
        return Unclear()


def sized_facts(statement: Statement) -> tuple[Fact, ...]:
    """The facts whose size goes by their word; a turning has one at each station, and `knob.across` would be
    any of them.
    """
    return () if statement.kind == "turning" else statement.facts


def _short(text: str) -> str:
    return text if len(text) <= 12 else text[:8] + "..."


def _shown(key: Key) -> str:
    name, word, as_read = key
    return name if word == "let" else f"{name}.{word}" + (".read" if as_read else "")
