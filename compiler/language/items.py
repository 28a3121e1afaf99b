"""What a line is made of (numbers, names, sums, texts, marks), and what fills the slots of a shape.

Everything carries its place.  Two items are equal when they say the same, wherever they stand: places take no
part in comparison."""

from __future__ import annotations

from collections.abc import Mapping

from msgspec import Struct

from ..diagnostics.types import Span
from .slots import SlotType

UNCOMPARED = frozenset({"span", "lead", "many", "damaged", "slots"})


class Node(Struct, frozen=True, eq=False):
    """What was written somewhere.  Nodes are equal when they say the same; where and how it stands is not
    compared.
    """

    def __eq__(self, other: object) -> bool:
        if type(self) is not type(other):
            return False
        return all(
            getattr(self, field) == getattr(other, field)
            for field in self.__struct_fields__
            if field not in UNCOMPARED
        )

    def __hash__(self) -> int:
        fields = self.__struct_fields__
        return hash(tuple(getattr(self, field) for field in fields if field not in UNCOMPARED))


class Numeral(Node, frozen=True, eq=False):
    """A number as typed (`4.0`, `1/4 in`, `30 deg`)."""

    text: str
    span: Span


class Name(Node, frozen=True, eq=False):
    """A word: a name, a flat or side of one (`wall.top`), or a small word of the language."""

    text: str
    span: Span


class Word(Node, frozen=True, eq=False):
    """A word that names nothing of the writer's: a choice of the table, a plastic, a screw."""

    text: str
    span: Span


class Negative(Node, frozen=True, eq=False):
    """A number with its sign changed."""

    of: Expression
    span: Span


class Bracket(Node, frozen=True, eq=False):
    """A sum in brackets (kept, so that the text can be written again)."""

    of: Expression
    span: Span


class Binary(Node, frozen=True, eq=False):
    """Two numbers joined by one of + - * /."""

    sign: str
    left: Expression
    right: Expression
    span: Span


Expression = Numeral | Name | Negative | Bracket | Binary


class Quoted(Node, frozen=True, eq=False):
    """A text in double quotes, without them."""

    text: str
    span: Span


class Punctuation(Node, frozen=True, eq=False):
    """A comma, an equals sign or a give-or-take sign."""

    text: str
    span: Span


Item = Expression | Quoted | Punctuation


class Reading(Node, frozen=True, eq=False):
    """One number with what was said of it: `about`, its give-or-take, its condition (rough, worn, doubtful),
    its tool; `meant`: what it should have been, where a slip was found in what was written down.
    """

    value: Expression
    give: Expression | None = None
    about: bool = False
    conditions: tuple[str, ...] = ()
    tool: Word | None = None
    meant: Expression | None = None

    @property
    def counts(self) -> Expression:
        """The number to go by."""
        return self.value if self.meant is None else self.meant

    @property
    def measured(self) -> bool:
        """True where a give-or-take, a slip, a tool or a condition says that it was read off the part."""
        said = self.give is not None or self.tool is not None or self.meant is not None
        return said or self.conditions not in ((), ("wanted",))


class SizeValue(Node, frozen=True, eq=False):
    """One or more readings of a size, then perhaps the size wanted (`made`), or the mark that it is `wanted`
    as it is.
    """

    readings: tuple[Reading, ...]
    made: Reading | None = None
    wanted: bool = False


class Waypoint(Node, frozen=True, eq=False):
    """One stop of a walk: a thing, and whether the walk hollows round it (`inside`) or runs `into` it."""

    how: str
    thing: Name


class Phrase(Node, frozen=True, eq=False):
    """One phrase of `laid`: the words of its shape behind the thing, what fills it, and the type of each of
    its slots by key.
    """

    shape: str
    values: tuple[tuple[str, Value], ...]
    span: Span
    slots: Mapping[str, SlotType] = {}


Value = (
    Name
    | Word
    | Quoted
    | Reading
    | SizeValue
    | tuple[Reading, ...]
    | tuple[Name, ...]
    | tuple[Waypoint, ...]
    | tuple[Phrase, ...]
)
