"""What is said of a part while it is made."""

from __future__ import annotations

from collections.abc import Iterable

from ..diagnostics.types import Answered, Diagnostic, Severity, Trouble
from ..model.answering import answer_at
from ..model.brought import Brought
from ..model.types import Model, Thing


class Answers:
    """Collects the messages of one part; reasons are put at the lines they belong to."""

    def __init__(self, model: Model, found: Iterable[Diagnostic] = ()) -> None:
        self.model, self.found = model, list(found)

    @property
    def wrong(self) -> bool:
        """Whether anything stands in the way of the part."""
        return any(one.is_error for one in self.found)

    def say(self, trouble: Trouble, thing: Thing) -> None:
        """A plain reason at the thing it concerns, unless it was answered elsewhere."""
        if not isinstance(trouble, Answered):
            self.found.append(answer_at(trouble, thing, self.model))

    def add(self, *some: Diagnostic | None) -> bool:
        """Keep some messages; whether there was any."""
        told = [one for one in some if one is not None]
        self.found += told
        return bool(told)

    def say_of_all(self, trouble: Trouble) -> None:
        """A plain reason that concerns the whole part: at what it names, else at a mesh that was brought
        in.
        """
        named = [self.model.things[one].span for one in trouble.names if one in self.model.things]
        span, advice = (named[0] if named else None), trouble.advice
        read = [one for one in self.model.of(Brought) if one.scanned]
        if not named and trouble.code == "bad-solid" and read:
            span = read[0].span
            more = f"does the mesh of `{read[0].name}` cross itself? mend it where it comes from"
            advice = (*advice, more)
        self.add(Diagnostic(trouble.code, Severity.ERROR, trouble.says, span, advice=advice))
