"""What came of solving a page, said in the writer's terms: what is open, what has two places, what
disagrees.
"""

from __future__ import annotations

import math
import re

from ..diagnostics.types import Diagnostic, Label, Severity, Span
from ..facts import BODIES, HOLES, Claim, Entry
from ..facts.types import FLATS, SIDES
from ..network.problem import arrange
from ..network.sides import SURE, met_by
from ..network.types import LeftOpen, Misfit, Network, Side, Solved, TwoPlaces
from .measured_to import on_side
from .rows import PLACING, Rows

_OPPOSITE = (("left", "right"), ("bottom", "top"), ("back", "front"))
SIDE_WORDS = ("left of", "right of", "above", "below", "beyond", "short of", "same side of", "laid")


def explain(solved: Solved, rows: Rows, entries: list[Entry]) -> list[Diagnostic]:
    """Diagnostics for a solved page, in the order of the things' names."""
    by_name = {entry.name: entry for entry in entries}
    things = {**rows.things, **{name: fixed.thing for name, fixed in rows.fixed.items()}}
    boxes = {name for name, thing in things.items() if thing.half_wide > 0}
    found: list[Diagnostic] = []
    for one in solved.left_open:
        if (entry := by_name.get(_base(one.name))) is not None:
            found.append(_open(one, entry, boxes))
    for two in solved.two_places:
        if (entry := by_name.get(_base(two.name))) is not None:
            found.append(_two(two, entry, rows))
    found.extend(filter(None, (_misfit(misfit, rows) for misfit in solved.misfits)))
    unique: dict[tuple[str, Span | None], Diagnostic] = {}
    for diagnostic in found:
        unique.setdefault((diagnostic.code, diagnostic.span), diagnostic)
    return list(unique.values())


def _base(name: str) -> str:
    """The thing behind a hidden one: the middle of a side, the foot of a line."""
    return name.split("~")[0].split("|")[0].split(".")[0]


def _placing(entry: Entry) -> list[Claim]:
    return sorted((claim for claim in entry.claims if claim.word in PLACING), key=lambda claim: claim.span)


def _open(one: LeftOpen, entry: Entry, boxes: set[str]) -> Diagnostic:
    said = (
        f"{entry.name} can still move: it {one.motion}"
        if one.motion != "free"
        else f"{entry.name} is not placed"
    )
    if one.motion == "free" and _placing(entry):
        said = f"{entry.name} can still move freely"
    elif not _placing(entry):
        said = f"{entry.name} is not placed"
    # A distance to a thing with four sides must name one of them, so it is no help as it stands.
    would_do = [words for words in one.would_do if not set(words.split()[1:2]) & boxes]
    would_do = _settling(one.motion, would_do)
    middle = _in_the_middle(entry) if one.motion == "free" else ()
    if middle:
        would_do = [words for words in would_do if words != "at X, Y"]
    others = boxes - {entry.name}  # its own sides are no help
    if not would_do and len(others) == 1:
        would_do = [f"from {box}.{side} near ..." for box in others for side in ("left", "bottom")]
    advice: tuple[str, ...] = (
        ("a reading that would settle it:  " + "   or   ".join(would_do),) if would_do else ()
    )
    if (swings := re.fullmatch(r"swings round ([^~|]+)", one.motion)) and entry.kind != "line":
        advice += (f"or, at its right:  level with {swings[1]}   and   right of {swings[1]}",)
    advice = (*on_side(entry), *advice, *middle)
    return Diagnostic("left-open", Severity.ERROR, said, entry.span, advice=advice)


def _in_the_middle(entry: Entry) -> tuple[str, ...]:
    """Advice for a thing on a flat or side of a body: `at X, Y` alone would count from a corner of it."""
    if entry.kind not in (*HOLES, *BODIES, "mark"):
        return ()
    for ref in (claim.ref("thing") for claim in entry.all("on")):
        across = [pair for pair in _OPPOSITE if ref.part not in pair]
        if ref.part in (*SIDES, *FLATS):
            lines = "   and   ".join(f"midway {ref.name}.{a}, {ref.name}.{b}" for a, b in across)
            return (f"in the middle of `{ref}`:  {lines}   or, so far from there:  at X, Y from {ref.name}",)
    return ()


def _settling(motion: str, would_do: list[str]) -> list[str]:
    """What would settle it: across the side that it slides along first, then what the solver scored best."""
    seen = re.match(r"slides along (.+)\.(left|right|top|bottom)$", motion)
    square = {"left": "bottom", "right": "top", "top": "right", "bottom": "left"}
    first = [f"from {seen[1]}.{square[seen[2]]} near ..."] if seen else []
    return list(dict.fromkeys([*first, *(word for word in would_do if "~" not in word and "|" not in word)]))[
        :3
    ]


def _two(two: TwoPlaces, entry: Entry, rows: Rows) -> Diagnostic:
    places = " and at ".join(f"({x:.2f}, {y:.2f})" for x, y in two.places[:4])
    claims = _placing(entry)
    span = claims[-1].span if claims else entry.span
    label = (
        f"both readings are met at {places}" if len(two.places) == 2 else f"the readings are met at {places}"
    )
    if two.key in rows.keys:
        claim = rows.keys[two.key][1]
        span, label = claim.span, f"the readings are met on either side of `{claim.ref('thing')}`"
    others = (Label(entry.span, ""),) if span != entry.span else ()
    advice = ("say which:  " + "   or   ".join(two.words),) if two.words else ("say which: roughly X, Y",)
    count = "two" if len(two.places) == 2 else str(len(two.places))
    return Diagnostic(
        "two-places", Severity.ERROR, f"{entry.name} could be in {count} places", span, label, others, advice
    )


def unmet_sides(network: Network, solved: Solved, rows: Rows) -> list[Diagnostic]:
    """Side words that the one place which fits the readings does not meet.  (Of several places they pick
    one.)
    """
    if not network.sides or solved.misfits or solved.left_open or solved.two_places:
        return []
    problem = arrange(network)
    at = list(problem.start)
    for i, name in enumerate(problem.names):
        line = solved.lines.get(name)
        at[2 * i : 2 * i + 2] = (line.angle, line.offset) if line is not None else solved.things[name]
    wrong = [side for side in problem.sides if met_by(problem, at, side) < -SURE]
    return [_side_wrong(*rows.keys[side.key], side) for side in wrong if side.key in rows.keys]


def _side_wrong(entry: Entry, claim: Claim, side: Side | None = None) -> Diagnostic:
    said = f"no place that fits the readings of {entry.name} lies {claim.text}"
    if claim.word == "laid":
        what = (
            f"{side.a} {side.word}{' of' if side.word in ('left', 'right') else ''} {side.b}"
            if side is not None
            else "this"
        )
        said = f"the readings put things otherwise than `laid` says: {what}"
    advice = ("turn the word round, or check the readings it goes with",)
    return Diagnostic("side-word-wrong", Severity.ERROR, said, claim.span, advice=advice)


def _misfit(misfit: Misfit, rows: Rows) -> Diagnostic | None:
    known = [
        (rows.keys[key], residual)
        for key, residual in zip(misfit.keys, misfit.residuals, strict=True)
        if key in rows.keys
    ]
    if not known:
        return None
    known.sort(key=lambda one: (-abs(one[1]), one[0][1].text))
    (entry, claim), _ = known[0]
    side = next(((e, c) for (e, c), _ in known if c.word in SIDE_WORDS), None)
    if side is not None:
        return _side_wrong(*side, next((one for one in rows.sides if one.key in misfit.keys), None))
    lines = tuple(f"{c.text} of {e.name}: misses by {_missed(c, -r)}" for (e, c), r in known[:6])
    others = tuple(Label(c.span, "") for (_, c), _ in known[1:4])
    said = f"the readings of {entry.name} disagree by more than their give-or-take"
    return Diagnostic(
        "readings-disagree",
        Severity.ERROR,
        said,
        claim.span,
        f"{_missed(claim, -known[0][1])} off",
        others,
        ("one of these was misread, or has the wrong edge word:", *lines),
    )


def _missed(claim: Claim, by: float) -> str:
    """A residual in mm, or in degrees where the claim is about a direction."""
    if claim.word in ("level", "upright", "parallel to", "square to", "angle"):
        return f"{math.degrees(by):+.1f} deg"
    return f"{by:+.2f} mm"
