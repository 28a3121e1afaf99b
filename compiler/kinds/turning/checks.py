"""What is asked of a turning that was built: its walls, stations and grips that do nothing in some of their
stretch, threads that are short."""

from __future__ import annotations

from collections.abc import Iterator

from ...checks.openings import Survey
from ...diagnostics.types import Diagnostic, Severity
from .. import needed_file
from .grips import beyond, untouched
from .hidden import hidden_stations
from .model import CutFlats, Turning
from .walls import thin_turning


def ask(scene: Survey, turning: Turning) -> Iterator[Diagnostic]:
    """Warnings and notes on one turning."""
    yield from _thin_grips(turning)
    yield from hidden_stations(turning)
    for one in turning.threads:
        short_thread = needed_file("thread", "checks").short_thread
        yield from short_thread(turning.name, one.said.span, one.form, one.stop - one.start)
    yield from thin_turning(scene, turning)


def _thin_grips(turning: Turning) -> Iterator[Diagnostic]:
    """A warning for each grip that runs past the end of its turning, and for each hexagon, square or flat of
    whose stretch some is too thin for it."""
    for grip in turning.grips:
        bare = untouched(turning, grip) if isinstance(grip, CutFlats) else []
        for some, why, advice in (
            (bare, "is too thin", "make it smaller, or leave that stretch out"),
            (beyond(turning, grip), "has ended", "check where it begins and ends"),
        ):
            if some:
                where = " and ".join(f"from {start:.4g} to {stop:.4g}" for start, stop in some)
                said = f"`{grip.said.text}` cuts nothing {where}: turning `{turning.name}` {why} there"
                yield Diagnostic("grip-misses", Severity.WARNING, said, grip.said.span, advice=(advice,))
