"""What is asked of a bore that was cut: whether its thread is long enough in each body."""

from __future__ import annotations

from collections.abc import Iterator

from ...checks.openings import Survey
from ...diagnostics.types import Diagnostic
from .. import needed_file
from .model import Bore


def ask(scene: Survey, bore: Bore) -> Iterator[Diagnostic]:
    """A note for a thread at full height over less than one turn, in a body drawn on the same plane."""
    if bore.thread is None or bore.thread_said is None:
        return
    own = needed_file("thread", "checks")
    for group in scene.groups():
        body = scene.model.body(group.body.name)
        if body.plane != group.plane:
            continue
        for opening in group.openings:
            if opening.hole.name == bore.name and opening.mouth is None and opening.copy == 1:
                tall = min(opening.high, body.high) - max(opening.low, body.low)
                yield from own.short_thread(bore.name, bore.thread_said.span, bore.thread, tall)
