"""What the writer claims: names resolved, units and sums worked out, readings with their give-or-take.  No
places yet.
"""

from __future__ import annotations

from collections.abc import Mapping

from msgspec import Struct

from ..diagnostics.types import Span
from ..imports.types import ImportedPart
from ..kinds.types import FLATS as FLATS
from ..kinds.types import SIDES as SIDES
from ..language.items import Node
from ..quantities import Quantity


class Ref(Node, frozen=True, eq=False):
    """A thing that is spoken of: its name, the flat or side of it (`top`) or the copy (`3`), and where it was
    said.

    `name` is empty for a bare `front` or `back`: the flat of the body the speaker belongs to."""

    name: str
    part: str
    span: Span

    def __str__(self) -> str:
        return f"{self.name}.{self.part}" if self.name and self.part else self.name or self.part


class Pass(Struct, frozen=True):
    """A stop of a walk: `how` is '', 'inside' (the walk hollows round it) or 'into' (no tangency)."""

    how: str
    thing: Ref


class Measure(Struct, frozen=True):
    """A size as read and as it is to be made; `read` is None where only a wanted size was given."""

    read: Quantity | None
    made: Quantity


class SingleReading(Node, frozen=True, eq=False):
    """One reading of several, as it was taken: the number, its conditions (rough, worn, doubtful), where it
    stands, and the slot of its fact that it was read for."""

    number: Quantity
    conditions: tuple[str, ...]
    span: Span
    key: str = ""


class LaidAs(Struct, frozen=True):
    """One phrase of how the part lay: its wording (`at the`, `left of`, `up`), the thing, and the other thing
    or side.
    """

    wording: str
    thing: Ref
    other: Ref | None
    where: str


Content = str | Quantity | Measure | Ref | tuple[Ref, ...] | tuple[Pass, ...] | tuple[LaidAs, ...]


class Claim(Node, frozen=True, eq=False):
    """One fact, understood.  `text` is the line as typed with single blanks: it orders claims and is shown in
    tables.

    `taken` holds the readings behind a size or a place one by one, before they were averaged.  `bare` is the
    line up to its size as read: behind it stands, or may stand, what is `made`."""

    word: str
    values: tuple[tuple[str, Content], ...]
    text: str
    span: Span
    taken: tuple[SingleReading, ...] = ()
    bare: str = ""

    def get(self, key: str) -> Content | None:
        """What stands in the slot `key`, None when it was left out."""
        for name, value in self.values:
            if name == key:
                return value
        return None

    def word_of(self, key: str, default: str = "") -> str:
        """The word or text in the slot, or the default."""
        value = self.get(key)
        return value if isinstance(value, str) else default

    def quantity(self, key: str) -> Quantity:
        """The number in the slot (of a size: as made)."""
        value = self.get(key)
        if isinstance(value, Measure):
            return value.made
        assert isinstance(value, Quantity), (self.word, key)
        return value

    def number(self, key: str) -> float:
        """The value of the number in the slot (of a size: as made)."""
        return self.quantity(key).value

    def measure(self, key: str) -> Measure:
        """The size in the slot."""
        value = self.get(key)
        assert isinstance(value, Measure), (self.word, key)
        return value

    def ref(self, key: str) -> Ref:
        """The thing in the slot."""
        value = self.get(key)
        assert isinstance(value, Ref), (self.word, key)
        return value

    def refs(self, key: str) -> tuple[Ref, ...]:
        """All things in the slot."""
        value = self.get(key)
        if value is None:
            return ()
        assert isinstance(value, tuple), (self.word, key)
        return tuple(one for one in value if isinstance(one, Ref))

    def passes(self, key: str) -> tuple[Pass, ...]:
        """The stops of the walk in the slot."""
        value = self.get(key)
        assert isinstance(value, tuple), (self.word, key)
        return tuple(one for one in value if isinstance(one, Pass))


class Entry(Node, frozen=True, eq=False):
    """A statement, understood: its claims in the order of their text, whatever order they were written in."""

    kind: str
    name: str
    claims: tuple[Claim, ...]
    span: Span

    def one(self, *words: str) -> Claim | None:
        """The first claim that begins with one of these words, None when there is none."""
        for claim in self.claims:
            if claim.word in words:
                return claim
        return None

    def all(self, *words: str) -> tuple[Claim, ...]:
        """Every claim that begins with one of these words."""
        return tuple(claim for claim in self.claims if claim.word in words)

    def has(self, *words: str) -> bool:
        """True where some claim begins with one of these words."""
        return self.one(*words) is not None


class Claims(Struct, frozen=True):
    """All that a recipe claims: the card, every statement by name (in the order of names), the recipe's own
    claims.

    `unread` holds the names of statements that were left out because something in them was not understood.
    `spoken_of` holds every name that some statement refers to; `lets` the named numbers, which are no
    entries. `imported` holds the sizes and inner things of the bodies that come from a file, by name.
    `flipped`: the whole is to be mirrored by a recipe that uses it, so that threads are wound the other way.
    """

    title: str
    card: tuple[tuple[str, str], ...]
    recipe: Entry | None
    entries: dict[str, Entry]
    unread: frozenset[str]
    spoken_of: frozenset[str]
    lets: tuple[Entry, ...] = ()
    imported: Mapping[str, ImportedPart] = {}
    flipped: bool = False

    def of_kind(self, *kinds: str) -> tuple[Entry, ...]:
        """The statements of these kinds, in the order of their names."""
        return tuple(entry for entry in self.entries.values() if entry.kind in kinds)
