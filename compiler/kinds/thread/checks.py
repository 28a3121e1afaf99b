"""Does a thread stand at its full height all the way round, or have its fades taken most of a short one?

Both ends of a ridge fade into the ground, each over half a turn.  A mate that has less than one whole turn of
full height to bear on is held on one side only.  Several starts share the round between them."""

from __future__ import annotations

import math
from collections.abc import Iterator

from ...checks.openings import FINE
from ...diagnostics.types import Diagnostic, Severity, Span
from .form import ThreadForm
from .ridges import turns_over

FULL = 1.0
EXACT = 1e-6


def short_thread(name: str, span: Span, form: ThreadForm, tall: float) -> Iterator[Diagnostic]:
    """A note for a thread that stands at full height over less than one turn.  `tall`: how long (mm) the
    stretch is that it winds along."""
    turns, full = turns_over(form, tall, FINE)
    if full * form.starts >= FULL - EXACT or turns <= 0.0:
        return
    round_about = 360.0 * min(1.0, full * form.starts)
    said = (
        f"the thread of `{name}` makes {turns:.1f} turns on {tall:.4g} mm, "
        f"at full height over {round_about:.0f} degrees only: its ends fade"
    )
    needed = tall + form.lead * (2.0 * FULL / form.starts - turns)  # up to two turns half of them stand
    advice = (f"{math.ceil(10.0 * needed) / 10.0:.4g} mm would be a whole turn at full height",)
    yield Diagnostic("thread-short", Severity.NOTE, said, span, advice=advice)
