"""Sizes as read and as made, and the size a hole or peg is meant to have from what it is for."""

from __future__ import annotations

import math

from ..diagnostics.types import Span
from ..language.items import Name, Reading, SizeValue
from ..quantities import Quantity, Standing, Unit
from ..tree.types import Fact, Statement
from .carried import over_thread
from .fit_sizes import fit_across
from .needs import FIT_WORDS, THREAD_WORDS
from .pockets import nut_size
from .readings import Readings
from .sums import Key, Unclear, sized_facts
from .types import Measure

_LENGTHWISE = {("slot", "across")}


class Sizes(Readings):
    """Works out the sizes of one recipe."""

    def let(self, statement: Statement) -> bool:
        """Work out a named number for its own sake (a mention by another statement is what makes it used)."""
        try:
            self.named_number(statement)
        except Unclear:
            return False
        return True

    def named_number(self, statement: Statement) -> Quantity:
        """What a `let` comes to; raises Unclear."""
        return self.leaning((statement.name, "let", False), statement, statement.span)

    def size(self, key: Key, statement: Statement, span: Span) -> Quantity:
        """A size of a statement, worked out for the first time; raises Unclear."""
        _, word, as_read = key
        if word == "let" and statement.name in self.given:
            return self.given[statement.name]
        if word == "let":
            return self._let(statement)
        if word == "across" and statement.kind in ("bore", "peg", "slot", "round"):
            measure = self.meant(statement)
        else:
            fact = next((one for one in sized_facts(statement) if one.word == word), None)
            measure = self.measure(fact) if fact is not None else None
        if measure is None:
            raise self.no_size(statement, word, span)
        if as_read and measure.read is None:
            raise self.refuse(
                "never-read",
                f"`{statement.name}.{word}` was never read, only wanted",
                span,
                (f"write `{statement.name}.{word}`",),
            )
        return measure.read if as_read and measure.read is not None else measure.made

    def _let(self, statement: Statement) -> Quantity:
        """A named number: wanted unless it is said how it was read."""
        given = statement.head.get("number")
        assert isinstance(given, Reading)
        if given.measured:
            return self.reading(given, Standing.READ, None)
        found = self.value(given.value)
        weakest = Standing.ABOUT if given.about else max(Standing.WANTED, found.standing)
        return Quantity(found.value, found.u, weakest, found.unit)

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

    def sized(self, value: SizeValue, unit: Unit | None = Unit.LENGTH) -> Measure:
        """A size as read and as made; raises Unclear."""
        read = self.averaged(value.readings, Standing.READ, unit)
        if value.made is not None:
            return Measure(read, self.reading(value.made, Standing.WANTED, unit))
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
        read = self.leaning((other.text, word, True), statement, other.span) if was_read else None
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
        across = over_thread(self, fact) if fact.word in THREAD_WORDS else fit_across(self, fact, kind)
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
        return self.leaning((mate.text, word, False), statement, mate.span)

    def is_known(self, name: Name) -> bool:
        """True for a name of the recipe's own, or a part of one."""
        known = (*self.names.declared, *self.names.unread)
        return name.text in known or name.text.partition(".")[0] in known
