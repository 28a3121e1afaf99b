"""The syntax tree: what was written, exactly, with its place on every node.  Nothing is looked up or computed
yet.

Two trees are equal when they say the same, wherever it stands: places take no part in comparison."""

from __future__ import annotations

from collections.abc import Mapping

from ..diagnostics.types import Span
from ..language.items import Item, Node, Value
from ..language.slots import SlotType


class Fact(Node, frozen=True, eq=False):
    """One line of a statement: its leading words (`turns on`), what fills its slots, and its items as
    written.  `slots`: the type of each slot of its shape, by key.
    """

    word: str
    values: tuple[tuple[str, Value], ...]
    items: tuple[Item, ...]
    lead: int
    many: bool
    span: Span
    slots: Mapping[str, SlotType] = {}

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
