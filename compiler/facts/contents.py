"""What fills the slots of a fact, understood: numbers worked out, things found, both held against the type of
their slot.
"""

from __future__ import annotations

from ..diagnostics.types import Span
from ..language.items import Name, Phrase, Quoted, Value, Waypoint, Word
from ..language.shapes import spoken_of
from ..language.slots import NumberRule, SlotType
from ..quantities import Quantity, Standing
from ..tree.types import Fact, Statement
from .naming import Names, by_itself, not_spoken_of
from .needs import BODIES, HOLES
from .readings import is_read, size_of
from .sizes import Sizes
from .sums import Unclear
from .types import FLATS, SIDES, Content, LaidAs, Measure, Pass, Ref

MOST_COPIES = 10_000
LEAST = 0.001  # mm, degrees: no printer and no calliper knows of anything smaller


class Contents:
    """Understands the values of one recipe's facts; what is wrong with them is kept in `names.found`."""

    def __init__(self, names: Names, sizes: Sizes) -> None:
        self.names = names
        self.sizes = sizes

    def of(self, key: str, value: Value, fact: Fact, statement: Statement) -> Content | None:
        """What stands in a slot; None, with a message kept, where it is not understood.  Raises Unclear."""
        if isinstance(value, Word | Quoted):
            return value.text
        slot = fact.slots[key]
        if isinstance(value, Name):
            return self._named(slot, value, fact, statement)
        if slot.rule is not None:
            return self._number(slot.rule, value, fact)
        assert isinstance(value, tuple)
        phrases = tuple(one for one in value if isinstance(one, Phrase))
        if phrases:
            laid = tuple(self._laid(phrase, fact) for phrase in phrases)
            found = tuple(one for one in laid if one is not None)
            return found if len(found) == len(laid) else None
        return self._things(slot, value, fact, statement)

    # -- numbers

    def _number(self, rule: NumberRule, value: Value, fact: Fact) -> Quantity | Measure:
        size = size_of(value)
        assert size is not None
        span = size.readings[0].value.span
        read = is_read(size, rule)
        for one in size.readings if len(size.readings) > 1 else ():
            self._in_range(rule, self.sizes.reading(one, Standing.READ, rule.unit), fact, one.value.span)
        if rule.made and read:
            measure = self.sizes.sized(size, rule.unit)
            sizes = (measure.made,) if measure.read is None else (measure.made, measure.read)
            for number in sizes:
                self._in_range(rule, number, fact, fact.span if rule.read else span)
            return measure
        standing = Standing.READ if read else Standing.WANTED
        found = self.sizes.averaged(size.readings, standing, rule.unit)
        self._in_range(rule, found, fact, span)
        return found

    def _in_range(self, rule: NumberRule, number: Quantity, fact: Fact, span: Span) -> None:
        """Raise Unclear, with a message kept, for a number that its slot has no room for."""
        value = number.value
        if rule.counts:
            if value != int(value) or not 1 <= value <= MOST_COPIES:
                advice = f"a count is a whole number from 1 to {MOST_COPIES}"
                raise self._bad("bad-count", f"{value:g} is no count", span, advice)
            return
        size = rule.made and rule.read
        if rule.sign in ("positive", "zero") and value < 0 and not size:
            raise self._bad("bad-size", f"{value:g} is negative", span, "sizes and readings are positive")
        least = 0.0 if rule.sign == "zero" else LEAST
        if rule.sign != "signed" and (value if rule.sign != "nonzero" else abs(value)) < least:
            said = f"`{fact.word}` is {value:g}: a size must be more than nothing"
            raise self._bad("bad-size", said, span, "check the line, or the sizes it is worked out from")

    def _bad(self, code: str, said: str, span: Span, advice: str) -> Unclear:
        return self.sizes.refuse(code, said, span, (advice,))

    # -- things

    def _named(self, slot: SlotType, name: Name, fact: Fact, statement: Statement) -> Ref | str | None:
        if slot.fill == "mate":
            return self.names.resolve(name) if name.text in self.names.declared else name.text
        if slot.fill == "name":
            return name.text
        return self._thing(slot, name, fact, statement)

    def _thing(self, slot: SlotType, name: Name, fact: Fact, statement: Statement) -> Ref | None:
        ref = self.names.resolve(name)
        if ref is None:
            return None
        if ref.name == statement.name and fact.word != "of":
            self.names.found.append(by_itself(ref, name.span))
            return None
        return ref if self._right_kind(slot, ref, fact) else None

    def _things(
        self, slot: SlotType, value: tuple[object, ...], fact: Fact, statement: Statement
    ) -> Content | None:
        refs: list[Ref] = []
        passes: list[Pass] = []
        good = True
        for one in value:
            name = one.thing if isinstance(one, Waypoint) else one
            assert isinstance(name, Name)
            if fact.word == "through" and statement.kind in HOLES and name.text == "all":
                refs.append(Ref("", "all", name.span))
                continue
            ref = self._thing(slot, name, fact, statement)
            if ref is None:
                good = False
                continue
            refs.append(ref)
            passes.append(Pass(one.how if isinstance(one, Waypoint) else "", ref))
        if not good:
            return None
        return tuple(passes) if slot.fill == "stops" else tuple(refs)

    def _right_kind(self, slot: SlotType, ref: Ref, fact: Fact) -> bool:
        """Whether the slot speaks of such a thing, flat, side or copy; if not, a message is kept."""
        kind, part, allowed = self.names.kind(ref.name), ref.part, spoken_of(slot)
        if part in FLATS:
            good = "flat" in slot.holds
        elif part in SIDES:
            good = "side" in slot.holds or ("wall" in slot.holds and kind in BODIES)
        elif kind == "use" and part and not part.isdigit():
            good = "point" in allowed
        else:
            good = kind in allowed and (not part or "copy" in slot.holds)
        if not good:
            self.names.found.append(not_spoken_of(ref, kind, fact.word, slot))
        return good

    def _laid(self, phrase: Phrase, fact: Fact) -> LaidAs | None:
        given = dict(phrase.values)
        refs: dict[str, Ref] = {}
        for key in ("thing", "other"):
            if isinstance(name := given.get(key), Name):
                ref = self.names.resolve(name)
                if ref is None or not self._right_kind(phrase.slots[key], ref, fact):
                    return None
                refs[key] = ref
        where = given.get("where")
        wording = "at the" if where is not None else phrase.shape.replace(" THING", "").replace("[side] ", "")
        return LaidAs(
            wording, refs["thing"], refs.get("other"), where.text if isinstance(where, Word) else ""
        )
