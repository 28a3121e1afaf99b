"""What is asked of a peg that was built: whether its thread is long enough."""

from __future__ import annotations

from collections.abc import Iterator

from ...checks.openings import Survey
from ...diagnostics.types import Diagnostic
from .. import needed_file
from .model import Peg


def ask(scene: Survey, peg: Peg) -> Iterator[Diagnostic]:
    """A note for a thread at full height over less than one turn."""
    if peg.thread is not None and peg.thread_said is not None:
        own = needed_file("thread", "checks")
        yield from own.short_thread(peg.name, peg.thread_said.span, peg.thread, peg.high - peg.low)
