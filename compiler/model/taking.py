"""The facts of one statement, each to be taken once: what nothing takes is answered."""

from __future__ import annotations

from ..facts import Claim, Entry


class Facts:
    """One statement's facts.  Whoever makes something of a fact takes it here; `left` is what nobody took."""

    def __init__(self, entry: Entry) -> None:
        self.entry = entry
        self._taken: set[int] = set()

    @property
    def name(self) -> str:
        """The statement's name."""
        return self.entry.name

    def one(self, *words: str) -> Claim | None:
        """Take the first fact that begins with one of these words; None where there is none."""
        claim = self.entry.one(*words)
        if claim is not None:
            self._taken.add(id(claim))
        return claim

    def need(self, *words: str) -> Claim:
        """Take a fact that the statement can't be without."""
        claim = self.one(*words)
        assert claim is not None, (self.name, words)
        return claim

    def all(self, *words: str) -> tuple[Claim, ...]:
        """Take every fact that begins with one of these words."""
        found = self.entry.all(*words)
        self._taken.update(id(claim) for claim in found)
        return found

    def flag(self, *words: str) -> bool:
        """Take a fact that says only that something is so."""
        return bool(self.all(*words))

    def peek(self, *words: str) -> bool:
        """Whether such a fact is there; it is not taken."""
        return self.entry.has(*words)

    def take(self, claim: Claim) -> Claim:
        """Take one fact that was looked up otherwise."""
        self._taken.add(id(claim))
        return claim

    def left(self) -> tuple[Claim, ...]:
        """The facts that nothing took, in the order of their text."""
        return tuple(claim for claim in self.entry.claims if id(claim) not in self._taken)
