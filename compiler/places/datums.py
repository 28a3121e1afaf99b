"""Where a sheet begins: what `laid` says of it, lines without facts, a body that leans on nothing."""

from __future__ import annotations

import math

from ..diagnostics.types import Diagnostic, Label, Severity
from ..facts import Entry, Ref
from ..facts.kind_questions import has_box, is_line
from ..facts.placing import At, LaidAt, LaidBeside, LaidLine, On, PlaceFact
from ..network.types import FixedLine, FixedThing, LineAngle, SideWord
from .measured_to import EXACT, AtWork
from .rows import Rows
from .ways import WAYS

_AT_SIDE = {"bottom": (0.5 * math.pi, 1), "left": (0.0, 1), "top": (0.5 * math.pi, -1), "right": (0.0, -1)}


def datum_body(rows: Rows, entries: list[Entry]) -> None:
    """A body that leans on nothing, on a plane that nothing else ties down, is where the plane begins.

    The plane's origin is free then, so nothing is lost; and things read from its sides stay independent of
    one another, which thousands of holes in one plate need."""
    if rows.net.fixed or rows.net.fixed_lines:
        return
    placings = [rows.pages.facts.of[entry.name] for entry in entries]
    if any(fact.other is None for placing in placings for fact in placing.all(At)):
        return
    bodies = [one.entry for one in placings if has_box(one.entry) and not one.all(PlaceFact)]
    if bodies:
        rows.datum = bodies[0].name
        rows.net.fixed[rows.datum] = FixedThing(rows.thing(bodies[0]), (0.0, 0.0))


def datum_lines(rows: Rows, entries: list[Entry]) -> list[Diagnostic]:
    """Lines without facts give the sheet its direction: where `laid` says they lie, else level.  What is
    returned answers two that can't both give it.
    """
    fixed = rows.net.fixed_lines
    for entry in entries:
        facts = rows.pages.facts.of[entry.name].facts
        if is_line(entry) and all(isinstance(fact, On) and rows.pages.is_flat(fact.thing) for fact in facts):
            fixed[entry.name] = _datum_line(rows, entry.name)
    return _two_datums(rows) if len(fixed) > 1 else []


def _datum_line(rows: Rows, name: str) -> FixedLine:
    recipe, laid = rows.claims.recipe, rows.pages.facts.laid
    line = FixedLine(name, 0.5 * math.pi, 0.0)
    if recipe is None or laid is None:
        return line
    for phrase in laid.phrases:
        if isinstance(phrase, LaidAt) and phrase.thing.name == name:
            rows.layout.use(recipe, laid)
            line = FixedLine(name, _AT_SIDE[phrase.where][0], 0.0, _AT_SIDE[phrase.where][1])
        elif isinstance(phrase, LaidLine) and phrase.thing.name == name:
            rows.layout.use(recipe, laid)
            if line.open_side == 0 and phrase.upright:
                line = FixedLine(name, 0.0, 0.0)
    return line


def _two_datums(rows: Rows) -> list[Diagnostic]:
    names = sorted(rows.net.fixed_lines)
    angles = {round(line.angle, 6) for line in rows.net.fixed_lines.values()}
    if len(angles) == len(names) == 2:
        return []
    entry = rows.claims.entries[names[-1]]
    said = f"line `{names[-1]}` has no facts, and neither has `{names[0]}`: only one can give the direction"
    advice = ("say how it lies: parallel to, square to, through two things, or tangent to two rounds",)
    others = (Label(rows.claims.entries[names[0]].span, "the other line"),)
    return [Diagnostic("left-open", Severity.ERROR, said, entry.span, others=others, advice=advice)]


def laid_sides(rows: Rows) -> None:
    """What `laid` says of things on the sheet: side words, and the direction of lines."""
    recipe, laid = rows.claims.recipe, rows.pages.facts.laid
    if laid is None or recipe is None:
        return
    rows.at_work = AtWork(recipe, laid.claim, laid)
    for phrase in laid.phrases:
        name = phrase.thing.name
        if isinstance(phrase, LaidBeside):
            _laid_beside(rows, phrase)
        elif name in rows.net.lines:
            level = phrase.where in ("top", "bottom") if isinstance(phrase, LaidAt) else not phrase.upright
            rows.put(LineAngle(rows.key(), name, None, 0.0 if level else 0.5 * math.pi, EXACT))


def _laid_beside(rows: Rows, phrase: LaidBeside) -> None:
    if phrase.thing.name not in rows.net.things and phrase.other.name not in rows.net.things:
        return
    if not _on_sheet_yet(rows, phrase.thing) or not _on_sheet_yet(rows, phrase.other):
        return  # placed in a later step, and compared then
    other = rows.line(phrase.other) or rows.centre(phrase.other)
    if other is not None:
        rows.net.sides.append(SideWord(rows.key(), phrase.thing.name, WAYS[phrase.way], other))


def _on_sheet_yet(rows: Rows, ref: Ref) -> bool:
    net, layout = rows.net, rows.layout
    known = (net.things, net.fixed, net.lines, net.fixed_lines, layout.spots, layout.lines)
    return any(ref.name in some for some in known)
