"""What is copied by which row, ring, grid or mirror; a pattern may also be `of` another one, whose copies it
takes along.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import suppress

from ..diagnostics.types import Diagnostic, Severity, Trouble
from ..facts import Entry, Ref
from ..facts.kind_questions import can_be_copied, is_pattern
from ..facts.placing import Of, OverRow, RingReading
from ..facts.placing_reader import Placing
from .copies import MOST, moves_of
from .planes import Planes


class Copying:
    """Makes the copies of all things.  What can't be copied is answered by `tell`; `lost` names what is
    answered already.
    """

    def __init__(
        self,
        pages: Planes,
        lost: set[str],
        found: list[Diagnostic],
        tell: Callable[[Trouble, Entry], None],
    ) -> None:
        self.pages, self.layout, self.lost = pages, pages.layout, lost
        self.found, self.tell = found, tell
        self.done: set[tuple[str, str]] = set()
        self.copied_by: dict[str, str] = {}
        self.order: list[Placing] = []
        for placing in pages.facts.of.values():
            if is_pattern(placing.entry):
                self._in_order(placing, ())

    def read_to(self, wanted: set[str]) -> None:
        """Make the copies that places are read from as soon as their originals are placed; the others can
        wait.
        """
        for pattern in self.order:
            for thing in self._things(pattern):
                if thing in wanted and thing in self.layout.spots and (pattern.name, thing) not in self.done:
                    with suppress(Trouble, KeyError):
                        self._copy(pattern, thing)

    def run(self) -> None:
        """Make all copies that are not made yet."""
        for pattern in self.order:
            for ref in self._refs(pattern):
                if ref.name in self.lost or not self._may(pattern, ref):
                    continue
                for thing in self._below(ref):
                    if (pattern.name, thing) in self.done:
                        continue
                    try:
                        self._copy(pattern, thing)
                    except Trouble as trouble:
                        self.tell(trouble, pattern.entry)
                    except KeyError:
                        self.lost.add(ref.name)

    def _copy(self, pattern: Placing, thing: str) -> None:
        """The pattern's moves of a thing and of all copies it has by now: those of the patterns that this one
        is of.
        """
        inner = [
            one.name
            for ref in self._refs(pattern)
            if (one := self._pattern(ref)) and thing in self._things(one)
        ]
        if any((name, thing) not in self.done for name in inner):
            raise KeyError(thing)
        moves, own = moves_of(pattern, thing, self.pages), self.layout.copies.get(thing, ())
        self.layout.use(pattern.entry, *pattern.all(Of))
        many = (len(moves) + 1) * (len(own) + 1)
        if many > MOST:
            raise Trouble(
                "bad-count",
                f"{pattern.entry.kind} `{pattern.name}` would make {many} copies "
                f"of `{thing}`, more than {MOST}",
                (pattern.name,),
            )
        self.layout.copies[thing] = (
            *own,
            *(one for move in moves for one in (move, *(move.after(first) for first in own))),
        )
        self.done.add((pattern.name, thing))

    def _may(self, pattern: Placing, ref: Ref) -> bool:
        """False, with a message kept, for what can't be copied or is copied already."""
        copied = self.pages.claims.entries.get(ref.name) if not ref.part else None
        kind = copied.kind if copied is not None else "flat or side"
        if copied is None or not can_be_copied(copied):
            said = f"`{ref}` is a {kind}, which can't be copied"
            self._say("wrong-kind", said, ref, "name the bodies, holes and zones themselves")
            return False
        if self.copied_by.setdefault(ref.name, pattern.name) != pattern.name:
            self._say(
                "copied-twice",
                f"`{ref.name}` is copied by two patterns",
                ref,
                f"copy the pattern:  of {self.copied_by[ref.name]}   or make one grid of it",
            )
            return False
        read = pattern.one(RingReading) or pattern.one(OverRow)
        if is_pattern(copied) and read is not None:
            self._say(
                "which-body",
                f"`{read.claim.text}` is read between copies of one thing, and `{ref.name}` is a {kind}",
                ref,
                f"{pattern.entry.kind} {pattern.name} with a pitch, or of one thing alone",
            )
            return False
        return True

    def _say(self, code: str, said: str, ref: Ref, advice: str) -> None:
        self.found.append(Diagnostic(code, Severity.ERROR, said, ref.span, advice=(advice,)))

    def _in_order(self, pattern: Placing, path: tuple[str, ...]) -> None:
        """Patterns before those that are of them; one that comes back to itself is answered and left out."""
        if pattern.name in path:
            loop = " -> ".join((*path[path.index(pattern.name) :], pattern.name))
            if not any(one.code == "leans-on-itself" for one in self.found):
                said = f"a pattern can't copy itself: {loop}"
                self.found.append(Diagnostic("leans-on-itself", Severity.ERROR, said, pattern.entry.span))
            return
        for ref in self._refs(pattern):
            if (other := self._pattern(ref)) is not None:
                self._in_order(other, (*path, pattern.name))
        if pattern not in self.order:
            self.order.append(pattern)

    def _refs(self, pattern: Placing) -> Iterator[Ref]:
        for fact in pattern.all(Of):
            yield from fact.things

    def _pattern(self, ref: Ref) -> Placing | None:
        found = self.pages.facts.of.get(ref.name)
        return found if found is not None and is_pattern(found.entry) and not ref.part else None

    def _below(self, ref: Ref) -> tuple[str, ...]:
        """The things that are meant: itself, or what a pattern copies."""
        other = self._pattern(ref)
        return (ref.name,) if other is None else self._things(other)

    def _things(self, pattern: Placing, path: tuple[str, ...] = ()) -> tuple[str, ...]:
        """Every thing that a pattern copies, also by way of other patterns."""
        found: list[str] = []
        for ref in self._refs(pattern) if pattern.name not in path else ():
            other = self._pattern(ref)
            found += [ref.name] if other is None else self._things(other, (*path, pattern.name))
        return tuple(dict.fromkeys(found))


__all__ = ["Copying"]
