"""Sums worked out, readings averaged, and the size a hole or peg is meant to have from what it is for.

A size may lean on another statement's (`long opening.long - 0.6`); they are worked out on demand, and a
circle of sizes that lean on each other is answered with the loop."""

from __future__ import annotations

import math
import re
from collections.abc import Mapping

from ..diagnostics import nearest
from ..diagnostics.types import Diagnostic, Severity, Span, Trouble
from ..quantities import Quantity, Standing, Unit, combine, parse_number
from ..quantities.tables.instruments import INSTRUMENTS
from ..tree.types import (
    Binary,
    Bracket,
    Expression,
    Fact,
    Name,
    Negative,
    Number,
    Reading,
    SizeValue,
    Statement,
    Word,
)
from .fits import SCREW, fitted
from .naming import Names, parts_of
from .needs import FIT_WORDS, SIZE_WORDS, THREAD_WORDS
from .pockets import nut_size
from .types import Measure, Taken

MOST = 10_000.0
MOST_LEANING = 100
LIMIT_OF_DIGITS = 0.05
_ROUGHER = {"rough": 2.0, "worn": 4.0, "doubtful": 4.0}
_SIZE_NAME = re.compile(r"([^.]+)\.([^.]+)(\.read)?")


class Unclear(Exception):
    """A number that can't be worked out; its message is already kept (or was given where its cause
    stands).
    """


class Sizes:
    """Works out numbers for one recipe.  `give` is the standard uncertainty of a reading that states none."""

    def __init__(self, names: Names, give: float | None) -> None:
        self.names = names
        self.give = LIMIT_OF_DIGITS / math.sqrt(3) if give is None else give / math.sqrt(3)
        self.give_stated = give is not None
        self.limits = {one.name: one.limit for one in INSTRUMENTS.values()}
        self._known: dict[tuple[str, str, bool], Quantity] = {}
        self._open: list[tuple[str, str, bool]] = []
        self._answered: set[tuple[str, str, bool]] = set()
        self._failed: set[tuple[str, str, bool]] = set()
        self._too_deep = False
        self.given: Mapping[str, Quantity] = {}

    def value(self, expression: Expression) -> Quantity:
        """The number an expression comes to; raises Unclear when it can't be had."""
        if isinstance(expression, Number):
            return self._literal(expression)
        if isinstance(expression, Bracket):
            return self.value(expression.of)
        if isinstance(expression, Negative):
            of = self.value(expression.of)
            return Quantity(-of.value, of.u, of.standing, of.unit)
        if isinstance(expression, Name):
            return self._named(expression)
        return self._binary(expression)

    def _literal(self, number: Number) -> Quantity:
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
            return self._leaning((name.text, "let", False), statement, name.span)
        if name.text in names.unread:
            names.spoken_of.add(name.text)
            raise Unclear
        seen = _SIZE_NAME.fullmatch(name.text)
        if seen and seen[1] in names.declared and seen[2] in SIZE_WORDS:
            names.spoken_of.add(seen[1])
            return self._leaning((seen[1], seen[2], bool(seen[3])), names.declared[seen[1]], name.span)
        owner, _, part = name.text.rpartition(".")
        if owner in names.declared and part not in parts_of(names.kind(owner)) and not part.isdigit():
            raise self._no_size(names.declared[owner], part, name.span)
        if names.resolve(name) is None:
            raise Unclear
        base = names.declared.get(name.text.partition(".")[0])
        sizes = sorted({fact.word for fact in _sized(base)} & set(SIZE_WORDS)) if base else []
        said = f"`{name.text}` is a thing, not a number"
        advice = ("its sizes: " + ", ".join(f"{name.text}.{one}" for one in sizes),) if sizes else ()
        raise self.refuse("not-a-number", said, name.span, advice)

    def let(self, statement: Statement) -> bool:
        """Work out a named number for its own sake (a mention by another statement is what makes it used)."""
        try:
            self.named_number(statement)
        except Unclear:
            return False
        return True

    def named_number(self, statement: Statement) -> Quantity:
        """What a `let` comes to; raises Unclear."""
        return self._leaning((statement.name, "let", False), statement, statement.span)

    def _leaning(self, key: tuple[str, str, bool], statement: Statement, span: Span) -> Quantity:
        if key in self._known:
            return self._known[key]
        if key in self._open:
            loop = [*self._open[self._open.index(key) :], key]
            said = "sizes that lean on each other in a circle: " + " -> ".join(_shown(one) for one in loop)
            if not self._answered & set(loop):
                self._answered.update(loop)
                raise self.refuse("circle-of-sizes", said, span, ("give one of them a number of its own",))
            raise Unclear
        if key in self._failed:
            raise Unclear
        if len(self._open) >= MOST_LEANING:
            self._failed.add(key)
            if self._too_deep:
                raise Unclear
            self._too_deep = True
            raise self.refuse(
                "circle-of-sizes",
                f"more than {MOST_LEANING} sizes lean on one another",
                span,
                ("give one of them a number of its own",),
            )
        self._open.append(key)
        try:
            found = self._size(key, statement, span)
        except Unclear:
            self._failed.add(key)
            raise
        finally:
            self._open.pop()
        self._known[key] = found
        return found

    def _size(self, key: tuple[str, str, bool], statement: Statement, span: Span) -> Quantity:
        _, word, as_read = key
        if word == "let" and statement.name in self.given:
            return self.given[statement.name]
        if word == "let":
            given = statement.head.get("number")
            assert isinstance(given, Reading)
            found = self.value(given.value)
            return Quantity(
                found.value,
                found.u,
                Standing.ABOUT if given.about else max(Standing.WANTED, found.standing),
                found.unit,
            )
        if word == "across" and statement.kind in ("bore", "peg", "slot", "round"):
            measure = self.meant(statement)
        else:
            fact = next((one for one in _sized(statement) if one.word == word), None)
            measure = self.measure(fact) if fact is not None else None
        if measure is None:
            raise self._no_size(statement, word, span)
        if as_read and measure.read is None:
            raise self.refuse(
                "never-read",
                f"`{statement.name}.{word}` was never read, only wanted",
                span,
                (f"write `{statement.name}.{word}`",),
            )
        return measure.read if as_read and measure.read is not None else measure.made

    def reading(self, reading: Reading, standing: Standing = Standing.READ) -> Quantity:
        """One reading with its standard uncertainty: as stated (a limit, rectangular: a / sqrt 3, JCGM 100,
        4.3.7), else by its tool, else the recipe's, else the larger of 0.05 and half the last digit typed;
        its condition makes it larger."""
        found = self.value(reading.value)
        u = found.u
        if "wanted" in reading.conditions:
            standing = Standing.WANTED
        if reading.give is not None:
            u = abs(self.value(reading.give).value) / math.sqrt(3)
        elif reading.tool is not None:
            u = self._tool_limit(reading.tool) / math.sqrt(3)
        elif standing is Standing.READ and u == 0.0:
            u = self.give if self.give_stated else max(self.give, _last_digit(reading.value) / math.sqrt(3))
        for condition in reading.conditions:
            u *= _ROUGHER.get(condition, 1.0)
        weakest = Standing.ABOUT if reading.about else max(standing, found.standing)
        return Quantity(found.value, u, weakest, found.unit)

    def _tool_limit(self, tool: Word) -> float:
        if tool.text in self.limits:
            return self.limits[tool.text]
        near = nearest(tool.text, list(self.limits))
        advice = (
            "did you mean " + " or ".join(f"`by {one}`" for one in near) + "?"
            if near
            else ("it takes: by " + ", ".join(self.limits))
        )
        raise self.refuse("unknown-tool", f"nothing is read `by {tool.text}`", tool.span, (advice,))

    def averaged(self, readings: tuple[Reading, ...]) -> Quantity:
        """The mean of several readings of one size, weighted by their uncertainty (JCGM 100, F.2.3.3)."""
        some = [self.reading(one) for one in readings]
        if len(some) == 1:
            return some[0]
        weights = [1.0 / max(one.u, 1e-9) ** 2 for one in some]
        total = math.fsum(weights)
        value = math.fsum(weight * one.value for weight, one in zip(weights, some, strict=True)) / total
        return Quantity(value, math.sqrt(1.0 / total), max(one.standing for one in some), some[0].unit)

    def taken(self, fact: Fact) -> tuple[Taken, ...]:
        """The readings of a fact one by one, with their conditions (a fact that was worked out before: never
        Unclear).
        """
        found: list[tuple[str, Reading]] = []
        for key, value in fact.values:
            if isinstance(value, SizeValue):
                found.extend((key, one) for one in value.readings)
            elif isinstance(value, Reading) and key == "goes":
                found.append((key, value))
            elif isinstance(value, tuple):
                found.extend((key, one) for one in value if isinstance(one, Reading))
        return tuple(Taken(self.reading(one), one.conditions, one.value.span, key) for key, one in found)

    def measure(self, fact: Fact) -> Measure | None:
        """A size fact as read and as made; None when the fact holds no size."""
        if fact.word == "drill":
            goes = fact.get("goes")
            assert isinstance(goes, Reading)
            return self._drilled(goes, fact)
        if fact.word == "hex" and fact.get("screw") is not None:
            return nut_size(self, fact)
        value = next((value for _, value in fact.values if isinstance(value, SizeValue)), None)
        return None if value is None else self.sized(value)

    def sized(self, value: SizeValue) -> Measure:
        """A size as read and as made; raises Unclear."""
        read = self.averaged(value.readings)
        if value.made is not None:
            return Measure(read, self.reading(value.made, Standing.WANTED))
        if value.wanted or read.standing is not Standing.READ:
            return Measure(
                None if read.standing is Standing.ABOUT else read,
                Quantity(read.value, 0.0, max(Standing.WANTED, read.standing), read.unit),
            )
        return Measure(read, read)

    def _drilled(self, goes: Reading, fact: Fact) -> Measure:
        """`drill 6.1 not 6.2`: taken as the drill that goes; the hole lies anywhere up to the next
        (rectangular: its root mean square distance from the drill is u = step / sqrt 3, JCGM 100, 4.3.7)."""
        found = self.reading(goes)
        stops = fact.get("stops")
        u = found.u
        if isinstance(stops, Reading):
            next_one = self.value(stops.value)
            if next_one.value <= found.value:
                said = (
                    f"the drill that does not go ({next_one.value:g}) must be larger than the one that goes"
                )
                raise self.refuse("drill-backwards", said, fact.span)
            u = (next_one.value - found.value) / math.sqrt(3)
        read = Quantity(found.value, u, found.standing, found.unit)
        return Measure(read, read)

    def meant(self, statement: Statement) -> Measure | None:
        """The size of a hole or peg as read, and as it is meant: by what it is for, by `made`, or as read."""
        read: Quantity | None = None
        made: Quantity | None = None
        for fact in statement.facts:
            if (
                fact.word in ("drill", "across", "wide", "hex", "square")
                and (statement.kind, fact.word) not in _LENGTHWISE
            ):
                measure = self.measure(fact)
                if measure is not None:
                    read, made = measure.read, measure.made
            elif fact.word in ("same as", "chord"):
                measure = self.alike(fact) if fact.word == "same as" else self.bowed(statement)
                read, made = measure.read, measure.made
        for fact in statement.facts:
            if fact.word in FIT_WORDS and fact.word != "as read":
                made = self.meant_by(fact, statement.kind)
        if made is None:
            return None
        return Measure(read, made)

    def alike(self, fact: Fact) -> Measure:
        """`same as OTHER`: the other's size across, as read and as made; raises Unclear."""
        other = fact.get("thing")
        assert isinstance(other, Name)
        statement = self.names.declared.get(other.text)
        if statement is None:
            raise Unclear
        made = self.mate_size(other, "across")
        given = {one.word for one in statement.facts}
        was_read = given & {"drill", "across", "wide", "hex", "square", "same as", "chord"}
        word = next((one for one in ("hex", "square") if one in given), "across")
        read = self._leaning((other.text, word, True), statement, other.span) if was_read else None
        return Measure(read, made)

    def bowed(self, statement: Statement) -> Measure:
        """The diameter of a round from a chord c and its rise h: c^2 / (4 h) + h (chord theorem); raises
        Unclear.
        """
        sizes = {fact.word: self.measure(fact) for fact in statement.facts if fact.word in ("chord", "rise")}
        chord, rise = sizes.get("chord"), sizes.get("rise")
        if chord is None or rise is None:
            advice = ("add the other line: chord 20.0 and rise 3.0",)
            raise self.refuse(
                "fact-missing", f"`{statement.name}` needs its chord and its rise", statement.span, advice
            )
        c, h = chord.made, rise.made
        if min(c.value, h.value) <= 0:
            raise Unclear
        u = math.hypot(c.value / (2 * h.value) * c.u, (1 - c.value**2 / (4 * h.value**2)) * h.u)
        found = Quantity(c.value**2 / (4 * h.value) + h.value, u, max(c.standing, h.standing), Unit.LENGTH)
        return Measure(found, found)

    def meant_by(self, fact: Fact, kind: str) -> Quantity:
        """The size across that a fit word asks for (`turns on 5.9`, `clears M4`, `thread M8`); raises
        Unclear.
        """
        if fact.word in THREAD_WORDS:
            from .carried import over_thread

            return over_thread(self, fact)
        mate = fact.get("mate") or fact.get("screw")
        screw = (
            mate is not None
            and not isinstance(mate, Reading)
            and hasattr(mate, "text")
            and SCREW.match(mate.text)
        )
        size: float | None = None
        name = ""
        if isinstance(mate, Reading):
            size = self.reading(mate).value
        elif screw and mate.text not in self.names.declared:  # type: ignore[union-attr]
            name = mate.text  # type: ignore[union-attr]
        elif isinstance(mate, Name) and not self.is_known(mate):
            near = nearest(mate.text, [*self.names.declared, *self.names.unread])
            advice = (
                ("did you mean " + " or ".join(f"`{one}`" for one in near) + "?",)
                if near
                else (
                    (
                        f"name a thing, a size or a screw:  {fact.word} "
                        f"shaft   or   {fact.word} 6.0   or   {fact.word} M4"
                    ),
                )
            )
            raise self.refuse("unknown-name", f"nothing is named `{mate.text}`", mate.span, advice)
        elif isinstance(mate, Name):
            size = self.mate_size(mate, "across").value
        else:
            raise self.refuse(
                "unknown-screw",
                f"`{getattr(mate, 'text', '')}` is no screw",
                fact.span,
                ("a screw is written M4",),
            )
        series = fact.get("series")
        word = getattr(series, "text", "medium")
        try:
            across = fitted(fact.word, size, name, word, kind == "peg")
        except Trouble as trouble:
            raise self.refuse(trouble.code, trouble.says, fact.span, trouble.advice) from None
        if across <= 0:
            raise self.refuse(
                "bad-size",
                f"`{fact.word}` leaves {across:.4g} mm across: a size must be more than nothing",
                fact.span,
            )
        return Quantity(across, 0.0, Standing.WANTED, Unit.LENGTH)

    def mate_size(self, mate: Name, word: str) -> Quantity:
        """A size of the thing a hole or peg goes with; a plain name may also be a `let` number."""
        statement = self.names.declared.get(mate.text)
        if statement is None or statement.kind == "let":
            return self._named(mate)
        self.names.spoken_of.add(mate.text)
        given = {fact.word for fact in statement.facts}
        if word == "across" and not given & {"across", "drill", *FIT_WORDS}:
            word = next((one for one in ("hex", "square") if one in given), word)
        return self._leaning((mate.text, word, False), statement, mate.span)

    def is_known(self, name: Name) -> bool:
        """True for a name of the recipe's own, or a part of one."""
        known = (*self.names.declared, *self.names.unread)
        return name.text in known or name.text.partition(".")[0] in known

    def _no_size(self, statement: Statement, word: str, span: Span) -> Unclear:
        sizes = sorted({fact.word for fact in _sized(statement)} & set(SIZE_WORDS))
        near = nearest(word, sizes)
        advice = ("its sizes: " + ", ".join(f"{statement.name}.{one}" for one in sizes),) if sizes else ()
        if near:
            advice = ("did you mean " + " or ".join(f"`{statement.name}.{one}`" for one in near) + "?",)
        return self.refuse("unknown-part", f"`{statement.name}` gives no size `{word}`", span, advice)

    def refuse(self, code: str, said: str, span: Span, advice: tuple[str, ...] = ()) -> Unclear:
        """Keep an error, and give what is to be raised then."""
        self.names.found.append(Diagnostic(code, Severity.ERROR, said, span, advice=advice))
        return Unclear()


_LENGTHWISE = {("slot", "across")}


def _sized(statement: Statement) -> tuple[Fact, ...]:
    """The facts whose size goes by their word; a turning has one at each station, and `knob.across` would be
    any of them.
    """
    return () if statement.kind == "turning" else statement.facts


def _last_digit(expression: Expression) -> float:
    """Half a unit of the last digit typed: 0.5 for `28`, 0.05 for `28.4`, 0 for what is no plain number of
    mm.
    """
    if not isinstance(expression, Number) or not expression.text.replace(".", "", 1).isdigit():
        return 0.0
    _, _, decimals = expression.text.partition(".")
    return 0.5 * 10.0 ** -len(decimals)


def _short(text: str) -> str:
    return text if len(text) <= 12 else text[:8] + "..."


def _shown(key: tuple[str, str, bool]) -> str:
    name, word, as_read = key
    return name if word == "let" else f"{name}.{word}" + (".read" if as_read else "")
