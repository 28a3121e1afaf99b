"""Does a thread stand at its full height all the way round, or have its fades taken most of a short one?

Both ends of a ridge fade into the ground, each over half a turn.  A mate that has less than one whole turn of
full height to bear on is held on one side only.  Several starts share the round between them."""

from __future__ import annotations

import math
from collections.abc import Iterator

from ..diagnostics.types import Diagnostic, Severity
from ..facts import Claim, Entry
from ..facts.needs import THREAD_WORDS
from ..facts.threads import ThreadForm
from ..mesh.threading import threaded, windings
from ..mesh.threads import turns_over
from .openings import FINE, Scene

FULL = 1.0
EXACT = 1e-6


def short_threads(scene: Scene) -> list[Diagnostic]:
    """A note for each thread that stands at full height over less than one turn."""
    found: list[Diagnostic] = []
    for entry in scene.claims.of_kind("turning"):
        for winding in windings(entry, scene.claims):
            found += _told(entry, winding.claim, winding.form, winding.stop - winding.start)
    for entry in scene.claims.of_kind("peg"):
        body = scene.model.body(entry.name)
        found += _of(scene, entry, body.high - body.low)
    for group in scene.groups():
        if group.body.plane == group.plane:
            low, high = group.body.low, group.body.high
            for opening in group.openings:
                if opening.mouth is None and opening.copy == 1 and opening.hole.thread is not None:
                    tall = min(opening.high, high) - max(opening.low, low)
                    found += _of(scene, scene.claims.entries[opening.hole.name], tall)
    return found


def _of(scene: Scene, entry: Entry, tall: float) -> Iterator[Diagnostic]:
    claim, form = entry.one(*THREAD_WORDS), threaded(entry, scene.claims)
    if claim is not None and form is not None:
        yield from _told(entry, claim, form, tall)


def _told(entry: Entry, claim: Claim, form: ThreadForm, tall: float) -> Iterator[Diagnostic]:
    """The note for a thread on a stretch of this length (mm)."""
    turns, full = turns_over(form, tall, FINE)
    if full * form.starts >= FULL - EXACT or turns <= 0.0:
        return
    round_about = 360.0 * min(1.0, full * form.starts)
    said = (
        f"the thread of `{entry.name}` makes {turns:.1f} turns on {tall:.4g} mm, "
        f"at full height over {round_about:.0f} degrees only: its ends fade"
    )
    needed = tall + form.lead * (2.0 * FULL / form.starts - turns)  # up to two turns half of them stand
    advice = (f"{math.ceil(10.0 * needed) / 10.0:.4g} mm would be a whole turn at full height",)
    yield Diagnostic("thread-short", Severity.NOTE, said, claim.span, advice=advice)
