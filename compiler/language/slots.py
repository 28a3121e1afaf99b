"""What a slot of a line takes: the declarations at the head of the table, read into types.

    number LENGTH NUMBER length positive wanted size : "a length in mm"
    thing  FACE   THING  flat wall plane

A type stays with what fills its slot (`Fact.slots`), so that the claims are checked by what the table says,
and by nothing else."""

from __future__ import annotations

from msgspec import Struct

from ..quantities import Unit

_UNITS = {"length": Unit.LENGTH, "angle": Unit.ANGLE, "force": Unit.FORCE, "any": None}
_PLAIN = ("share", "count")  # bare numbers: a factor, a whole number
_PARTS = ("flat", "side", "wall", "copy")


class NumberRule(Struct, frozen=True):
    """What a number may be that stands in a slot.

    unit    what it measures; None: whatever unit it has.  Unit.PLAIN: a bare number
    counts  a whole number, from 1
    sign    `positive`, `zero` (or more), `nonzero`, `signed`
    read    a bare number is a reading; else it is wanted
    several a list of readings may stand for it
    made    the size wanted may stand behind the readings
    """

    unit: Unit | None
    counts: bool
    sign: str
    read: bool
    several: bool = False
    made: bool = False


class SlotType(Struct, frozen=True):
    """One kind of slot.

    fill   what fills it: number, give, thing, things, stops, mate, phrases, name, text, word, screw
    shown  how messages show it, and `says`, what they say would fit
    rule   what its number may be
    holds  the classes and kinds of things, and the parts of things, that it may speak of
    takes  these in the words of messages; '' where they list the kinds"""

    name: str
    fill: str
    shown: str
    says: str
    rule: NumberRule | None = None
    holds: tuple[str, ...] = ()
    takes: str = ""

    @property
    def key(self) -> str:
        """The key of a slot of this type that is given none."""
        return self.shown.lower()

    @property
    def classes(self) -> tuple[str, ...]:
        """The kinds and classes of things among what it holds, without the parts of things."""
        return tuple(word for word in self.holds if word not in _PARTS)


PLAIN_SLOTS = {
    slot.name: slot
    for slot in (
        SlotType("NAME", "name", "NAME", "a name of your own"),
        SlotType("TEXT", "text", "TEXT", 'a text in "quotes"'),
        SlotType("WORD", "word", "WORD", "a word"),
        SlotType("SCREW", "screw", "SCREW", "a screw such as M4"),
    )
}
_SAYS = {
    "phrases": "how the part lay, such as: back at the bottom, pivot left of heel",
    "thing": "the name of a thing",
    "things": "names of things, with commas",
    "stops": "names of the things walked past, with commas",
}
DECLARES = ("number", "give", "thing", "things", "stops", "mate", "phrases")
"""The words that begin a declaration."""


def read_slot(line: str) -> SlotType:
    """The slot type of a declaration.  Raises ValueError where the line is none."""
    declared, _, quoted = line.partition(" : ")
    words = declared.split()
    if len(words) < 4 or words[0] not in DECLARES:
        raise ValueError(line)
    fill, name, shown, *more = words
    says = quoted.strip().strip('"')
    if fill in _SAYS:
        return SlotType(name, fill, shown, _SAYS[fill], None, tuple(more), says)
    if fill == "number":
        measures, sign, unsaid, form = more
    else:
        measures, sign, unsaid, form = more[0], (*more, "zero")[1], "wanted", "one"
    return SlotType(name, fill, shown, says, _rule(measures, sign, unsaid, form))


def _rule(measures: str, sign: str, unsaid: str, form: str) -> NumberRule:
    return NumberRule(
        Unit.PLAIN if measures in _PLAIN else _UNITS[measures],
        measures == "count",
        sign,
        unsaid == "read",
        form != "one",
        form == "size",
    )
