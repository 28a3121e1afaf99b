"""The syntax tree: what was written, exactly, with its place on every node.  Nothing is looked up or computed
yet.

Two trees are equal when they say the same, wherever it stands: places take no part in comparison."""

from __future__ import annotations

from msgspec import Struct

from ..diagnostics.types import Span


class Node(Struct, frozen=True, eq=False):
    """What was written somewhere.  Nodes are equal when they say the same; where and how it stands is not
    compared.
    """

    def __eq__(self, other: object) -> bool:
        if type(self) is not type(other):
            return False
        return all(
            getattr(self, one) == getattr(other, one)
            for one in self.__struct_fields__
            if one not in UNCOMPARED
        )

    def __hash__(self) -> int:
        return hash(tuple(getattr(self, one) for one in self.__struct_fields__ if one not in UNCOMPARED))


UNCOMPARED = frozenset({"span", "lead", "many", "damaged"})


class Number(Node, frozen=True, eq=False):
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


Expression = Number | Name | Negative | Bracket | Binary


class Quoted(Node, frozen=True, eq=False):
    """A text in double quotes, without them."""

    text: str
    span: Span


class Mark(Node, frozen=True, eq=False):
    """A comma, an equals sign or a give-or-take sign."""

    text: str
    span: Span


Item = Expression | Quoted | Mark


class Reading(Node, frozen=True, eq=False):
    """One number with what was said of it: `about`, its give-or-take, its condition (rough, worn, doubtful),
    its tool.
    """

    value: Expression
    give: Expression | None = None
    about: bool = False
    conditions: tuple[str, ...] = ()
    tool: Word | None = None


class SizeValue(Node, frozen=True, eq=False):
    """One or more readings of a size, then perhaps the size wanted (`made`), or the mark that it is `wanted`
    as it is.
    """

    readings: tuple[Reading, ...]
    made: Reading | None = None
    wanted: bool = False


class Stop(Node, frozen=True, eq=False):
    """One stop of a walk: a thing, and whether the walk hollows round it (`inside`) or runs `into` it."""

    how: str
    thing: Name


class Phrase(Node, frozen=True, eq=False):
    """One phrase of `laid`: which shape of the group it has, and what fills it."""

    shape: str
    values: tuple[tuple[str, Value], ...]
    span: Span


Value = (
    Name
    | Word
    | Quoted
    | Reading
    | SizeValue
    | tuple[Reading, ...]
    | tuple[Name, ...]
    | tuple[Stop, ...]
    | tuple[Phrase, ...]
)


class Fact(Node, frozen=True, eq=False):
    """One line of a statement: its leading words (`turns on`), what fills its slots, and its items as
    written.
    """

    word: str
    values: tuple[tuple[str, Value], ...]
    items: tuple[Item, ...]
    lead: int
    many: bool
    span: Span

    def get(self, key: str) -> Value | None:
        """What fills the slot `key`, or None when it was left out."""
        for name, value in self.values:
            if name == key:
                return value
        return None


class Statement(Node, frozen=True, eq=False):
    """A head and its facts.  `damaged` when a line of it could not be understood (what leans on it is then
    skipped).
    """

    kind: str
    name: str
    head: Fact
    facts: tuple[Fact, ...]
    damaged: bool
    span: Span


class Tree(Node, frozen=True, eq=False):
    """A whole recipe as written."""

    statements: tuple[Statement, ...]
