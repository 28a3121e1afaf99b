"""Is there a name that nothing speaks of and that makes no material?  Mostly a word left over, or one
mistyped elsewhere.
"""

from __future__ import annotations

from ..diagnostics.types import Diagnostic, Severity
from ..model import Model, Thing
from ..model.things import Neighbour


def unused_names(model: Model) -> list[Diagnostic]:
    """A warning for each name of a shape, place or number that no other line uses; a note for a neighbour.

    A neighbour was measured, and its readings are worth keeping for the next who mends the thing.
    """
    things = (*model.lets, *model.things.values())
    return [_unused(thing) for thing in things if thing.idle and thing.name not in model.spoken_of]


def _unused(thing: Thing) -> Diagnostic:
    said = f"nothing uses {thing.noun} `{thing.name}`, so it changes nothing in the part"
    severity = Severity.NOTE if isinstance(thing, Neighbour) else Severity.WARNING
    return Diagnostic("unused-name", severity, said, thing.span, advice=(thing.idle.format(name=thing.name),))
