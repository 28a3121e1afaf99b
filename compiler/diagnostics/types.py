"""The one object every message is made of, and the plain reason that mathematics gives.

A `Diagnostic` speaks to the writer of a recipe: it knows lines.  A `Trouble` is raised by code that knows
only numbers (an outline that crosses itself, two circles that miss each other); the room that knows the
statement turns it into a Diagnostic by adding the place."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from enum import Enum
from typing import NamedTuple


class Severity(Enum):
    """How much a message weighs: an error stops the part, a warning and a note do not."""

    ERROR = "error"
    WARNING = "warning"
    NOTE = "note"


class Span(NamedTuple):
    """A stretch of one line of a recipe: 1-based line, 1-based first column, column just behind the last."""

    line: int
    start: int
    end: int


class Label(NamedTuple):
    """A second place that belongs to a message, with what is to be said there."""

    span: Span
    text: str


class Diagnostic(NamedTuple):
    """One message: code (its page is `pages/<code>.md`), weight, a headline that stands alone, where, what
    would do.

    `span` is None only when the message is about the whole file.  `label` is printed under the carets.
    `advice` holds the lines that say what would do, most useful first."""

    code: str
    severity: Severity
    headline: str
    span: Span | None = None
    label: str = ""
    others: tuple[Label, ...] = ()
    advice: tuple[str, ...] = ()

    @property
    def is_error(self) -> bool:
        """True where the part can't be made as long as this stands."""
        return self.severity is Severity.ERROR


class Trouble(Exception):
    """A plain reason from code that knows no lines.

    `code` is a diagnostic code, `says` a headline in shop words, `names` the things of the caller that it
    speaks of, `places` points (x, y) in mm in the plane at work, `advice` what would do.  Where `says` holds
    `{0}`, the first of the places belongs there, in the words of whoever knows the writer's own things.
    `span`: the line that is at fault, where whoever raised it has that at hand."""

    def __init__(
        self,
        code: str,
        says: str,
        names: tuple[str, ...] = (),
        places: tuple[tuple[float, float], ...] = (),
        advice: tuple[str, ...] = (),
        span: Span | None = None,
    ) -> None:
        super().__init__(code, says, names, places, advice, span)
        self.code, self.says, self.names, self.places, self.advice = code, says, names, places, advice
        self.span = span

    def told(self, words: Callable[[tuple[float, float]], str]) -> str:
        """The headline with its places in words."""
        return self.says.format(*map(words, self.places)) if self.places else self.says

    def __str__(self) -> str:
        return self.told(lambda at: f"({at[0]:.2f}, {at[1]:.2f})")


@contextmanager
def at_fault(span: Span | None, *codes: str) -> Iterator[None]:
    """What is raised within (of these codes, where some are named) belongs to this line, where nothing nearer
    to it said so."""
    try:
        yield
    except Trouble as trouble:
        if not codes or trouble.code in codes:
            trouble.span = trouble.span or span
        raise


class Answered(Trouble):
    """What something leans on could not be made and was answered there: nothing more is to be said."""

    def __init__(self, name: str) -> None:
        super().__init__("not-placed", f"`{name}` could not be made", (name,))
