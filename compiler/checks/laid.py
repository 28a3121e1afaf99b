"""Does `laid ... side up` say of a thing on the back that it looked at the reader?

The sheet is the part as it lay when it was read: its fronts look up at the reader, its backs lie on the
table.  A blind hole that opens at the back can't have been seen; so either the word `back` is wrong or the
hand of the whole part is."""

from __future__ import annotations

from ..diagnostics.types import Diagnostic, Label, Severity
from ..model import Model, Thing
from ..model.holes import Hole
from ..model.types import Mention
from ..places.planes import SHEET


def hidden_sides(model: Model) -> list[Diagnostic]:
    """A warning for each thing that `laid` calls up and that a fact puts on a back."""
    return [each for up in model.card.up for each in _asked(up, model)]


def _asked(up: Mention, model: Model) -> list[Diagnostic]:
    thing = model.things.get(up.thing)
    if thing is None or (thing.plane or SHEET) != SHEET:
        return []
    said = f"`laid` says {up.name} side up, but the backs of the part lie down"
    label: tuple[Label, ...] = ()
    if up.part != "back":
        back = _back_of(thing)
        if up.part or back is None:
            return []
        does = "opens at" if isinstance(thing, Hole) else "stands on"
        said = f"`laid` says {up.name} side up, but `{up.name}` {does} the back, which lies down"
        label = (Label(back.span, "this is the side that lay on the table"),)
    advice = (
        "if it looked at you when you read the part: write `front` for `back`",
        "if it lay on the table: say what looked at you instead; check left and right too",
    )
    return [Diagnostic("laid-contradicts", Severity.WARNING, said, up.span, others=label, advice=advice)]


def _back_of(thing: Thing) -> Mention | None:
    """The mention of a back that a hole is deep from or a thing stands on; None for what shows on the
    front.
    """
    if isinstance(thing, Hole):
        if thing.depth is None:
            return None
        if thing.depth.of is not None:
            return thing.depth.of if thing.depth.of.part == "back" else None
    return next((each for each in thing.stands_on if each.part == "back"), None)
