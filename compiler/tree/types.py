"""The syntax tree: what was written, exactly, with its place on every node.  Nothing is looked up or computed yet.

Two trees are equal when they say the same, wherever it stands: places take no part in comparison.
"""

from __future__ import annotations

from dataclasses import dataclass, field

from ..diagnostics.types import Span


@dataclass(frozen=True, slots=True)
class Number:
    """A number as typed (`4.0`, `1/4 in`, `30 deg`)."""

    text: str
    span: Span = field(compare=False)


@dataclass(frozen=True, slots=True)
class Name:
    """A word: a name, a flat or side of one (`wall.top`), or a small word of the language."""

    text: str
    span: Span = field(compare=False)


@dataclass(frozen=True, slots=True)
class Word:
    """A word that names nothing of the writer's: a choice of the table, a plastic, a screw."""

    text: str
    span: Span = field(compare=False)


@dataclass(frozen=True, slots=True)
class Negative:
    """A number with its sign changed."""

    of: Expression
    span: Span = field(compare=False)


@dataclass(frozen=True, slots=True)
class Bracket:
    """A sum in brackets (kept, so that the text can be written again)."""

    of: Expression
    span: Span = field(compare=False)


@dataclass(frozen=True, slots=True)
class Binary:
    """Two numbers joined by one of + - * /."""

    sign: str
    left: Expression
    right: Expression
    span: Span = field(compare=False)


Expression = Number | Name | Negative | Bracket | Binary


@dataclass(frozen=True, slots=True)
class Quoted:
    """A text in double quotes, without them."""

    text: str
    span: Span = field(compare=False)


@dataclass(frozen=True, slots=True)
class Mark:
    """A comma, an equals sign or a give-or-take sign."""

    text: str
    span: Span = field(compare=False)


Item = Expression | Quoted | Mark


@dataclass(frozen=True, slots=True)
class Reading:
    """One number with what was said of it: `about`, its give-or-take, its condition (rough, worn, doubtful)."""

    value: Expression
    give: Expression | None = None
    about: bool = False
    conditions: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class SizeValue:
    """One or more readings of a size, then perhaps the size wanted (`made`), or the mark that it is `wanted` as it is."""

    readings: tuple[Reading, ...]
    made: Reading | None = None
    wanted: bool = False


@dataclass(frozen=True, slots=True)
class Stop:
    """One stop of a walk: a thing, and whether the walk hollows round it (`inside`) or runs `into` it."""

    how: str
    thing: Name


@dataclass(frozen=True, slots=True)
class Phrase:
    """One phrase of `laid`: which shape of the group it has, and what fills it."""

    shape: str
    values: tuple[tuple[str, Value], ...]
    span: Span = field(compare=False)


Value = (
    Name | Word | Quoted | Reading | SizeValue | tuple[Reading, ...] | tuple[Name, ...] | tuple[Stop, ...] | tuple[Phrase, ...]
)


@dataclass(frozen=True, slots=True)
class Fact:
    """One line of a statement: its leading words (`turns on`), what fills its slots, and its items as written."""

    word: str
    values: tuple[tuple[str, Value], ...]
    items: tuple[Item, ...]
    lead: int = field(compare=False)
    many: bool = field(compare=False)
    span: Span = field(compare=False)

    def get(self, key: str) -> Value | None:
        """What fills the slot `key`, or None when it was left out."""
        for name, value in self.values:
            if name == key:
                return value
        return None


@dataclass(frozen=True, slots=True)
class Statement:
    """A head and its facts.  `damaged` when a line of it could not be understood (what leans on it is then skipped)."""

    kind: str
    name: str
    head: Fact
    facts: tuple[Fact, ...]
    damaged: bool = field(compare=False)
    span: Span = field(compare=False)


@dataclass(frozen=True, slots=True)
class Tree:
    """A whole recipe as written."""

    statements: tuple[Statement, ...]
