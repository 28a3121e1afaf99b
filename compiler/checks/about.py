"""Does a number that is only `about` size or place a hole or a peg?

`about` says that a number was made to look right.  A hole or peg must meet something, so what it hangs on
must be read or wanted: its own size, the size of what it goes on, its place, and the places of points, lines
and rounds that its place is read from, however many lie between."""

from __future__ import annotations

from ..diagnostics.types import Diagnostic, Severity
from ..model import Model, Thing
from ..model.types import Pattern, Rest


def about_numbers(model: Model) -> list[Diagnostic]:
    """A warning for each `about` number that a hole or peg hangs on."""
    found: list[Diagnostic] = []
    seen: set[str] = set()
    for hole in (thing for thing in model.things.values() if thing.must_fit):
        waiting = [hole.name]
        while waiting:
            thing = model.things.get(waiting.pop())
            if thing is None or thing.name in seen or not (thing.must_fit or thing.carries_places):
                continue
            seen.add(thing.name)
            for rest in thing.rests:
                found.extend(_asked(rest, thing, hole))
                waiting.extend(rest.names)
    return [*found, *_copied(model)]


def _copied(model: Model) -> list[Diagnostic]:
    """The same of the steps from copy to copy of a hole or peg."""
    found: list[Diagnostic] = []
    for pattern in model.of(Pattern):
        things = (model.things.get(each.thing) for each in pattern.of)
        hole = next((thing for thing in things if thing is not None and thing.must_fit), None)
        if hole is not None:
            found.extend(each for step in pattern.steps for each in _asked(step, pattern, hole))
    return found


def _asked(rest: Rest, thing: Thing, hole: Thing) -> list[Diagnostic]:
    if not rest.about:
        return []
    text = rest.said.text
    said = f"`{thing.name}` is {'sized' if rest.sizes else 'placed'} by a number that is only `about`: {text}"
    label = "" if thing.name == hole.name else f"{hole.noun} `{hole.name}` hangs on it"
    advice = "read it, or choose a number and leave `about` out"
    if rest.sizes and not rest.by_fit:
        advice = f"read it, or say that you chose it: {text.replace('about ', '')} wanted"
    return [Diagnostic("about-placed", Severity.WARNING, said, rest.said.span, label, advice=(advice,))]
