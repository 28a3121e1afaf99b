"""What came of solving a plane, put into the writer's words: what is open, what has two places, what
disagrees.

The solver returns structure only (`network.types`, `network.adjustment_types`); here, and nowhere else, it
becomes text.  Whatever is offered can be typed as it stands, `...` filled with a number."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from msgspec.structs import replace

from ..diagnostics.types import Diagnostic, Label, Severity, Span
from ..facts import Claim, Entry
from ..facts.extents import is_round, radius
from ..facts.kind_questions import is_line
from ..facts.placing import (
    Against,
    AngleAt,
    AngleFrom,
    Beside,
    FlushWith,
    From,
    Further,
    Laid,
    LevelLine,
    LineAngled,
    On,
    ParallelTo,
    PlaceFact,
    PlacingFact,
    SquareTo,
    UprightLine,
)
from ..facts.placing_reader import Placing
from ..network.adjustment_types import EdgeSlip, Misread, NumberSlip, Slip, UnitSlip
from ..network.types import (
    Asks,
    Distance,
    LeftOpen,
    Misfit,
    Motion,
    Moves,
    Offer,
    PlaceOffer,
    ReadEdge,
    SideOffer,
    SideWord,
    Solved,
    Spoken,
    TwoPlaces,
    Way,
)
from .flat_advice import in_the_middle, on_side
from .kept_slips import kept_line
from .rows import Rows
from .undecided import leaned_on, statement_of
from .ways import TYPED

if TYPE_CHECKING:
    from ..network.adjustment_types import MisfitVerdict, Suspect

MOST_SHOWN = 5
MOST_OFFERED = 3
_SIDE_FACTS = (Beside, Further, Laid)
_DIRECTIONS = (LevelLine, UprightLine, ParallelTo, SquareTo, LineAngled, AngleFrom, AngleAt)
_EDGES = {ReadEdge.NEAR: "near", ReadEdge.CENTRE: "centre", ReadEdge.FAR: "far"}
_MOTIONS = {
    Moves.ALONG: "slides along {}",
    Moves.ABOUT: "swings round {}",
    Moves.WITH: "moves with {}",
    Moves.FREE: "free",
    Moves.ACROSS: "slides left and right",
    Moves.UPRIGHT: "slides up and down",
    Moves.STRAIGHT: "slides along one direction",
    Moves.SOMEHOW: "slides",
    Moves.SIDEWAYS: "shifts sideways",
    Moves.TURNING: "turns",
}
_OFFERS = {
    Asks.PLACE: "at X, Y",
    Asks.LEVEL: "level",
    Asks.UPRIGHT: "upright",
    Asks.PASSING: "on {}",
    Asks.PARALLEL: "parallel to {}",
    Asks.SQUARE: "square to {}",
}
_SQUARE_SIDE = {"left": "bottom", "right": "top", "top": "right", "bottom": "left"}


def motion_words(motion: Motion) -> str:
    """How something can still move: `slides along edge`."""
    return _MOTIONS[motion.how].format(motion.other)


def edge_words(edges: tuple[ReadEdge, ...]) -> str:
    """Edges as a recipe writes them: `near`, `far-near`, `centres`."""
    if edges == (ReadEdge.CENTRE, ReadEdge.CENTRE):
        return "centres"
    return "-".join(_EDGES[edge] for edge in edges)


def offer_words(offer: Offer) -> str:
    """An offer as the line to type: `from pin far-far ...`."""
    if offer.asks is Asks.READING:
        return " ".join(filter(None, ("from", offer.other, edge_words(offer.edges), "...")))
    return _OFFERS[offer.asks].format(offer.other)


def side_words(offer: SideOffer | PlaceOffer) -> str:
    """What tells places apart, as the line to type: `right of pin`."""
    if isinstance(offer, PlaceOffer):
        return f"roughly {offer.at[0]:.2f}, {offer.at[1]:.2f}"
    return f"{TYPED[offer.way]} {offer.other}"


def slip_words(slip: Slip) -> str:
    """What may have been read instead: `read between centres, not far-far`."""
    match slip:
        case EdgeSlip():
            meant = edge_words(slip.meant)
            between = {"centres": "between centres", "centre": "to the centre"}.get(meant, meant)
            return f"read {between}, not {edge_words(slip.said)}"
        case UnitSlip():
            units = ("mm", "inches") if slip.inches else ("inches", "mm")
            return f"{slip.typed} was in {units[0]}, not {units[1]}"
        case NumberSlip():
            shown = f"{slip.typed} in" if slip.inches else slip.typed
            how = {Misread.SWAPPED: "two digits swapped", Misread.DIGIT: "one digit misread"}[slip.how]
            return f"{slip.value:g} was read, not {shown} ({how})"


def explain(solved: Solved, rows: Rows, entries: list[Entry]) -> list[Diagnostic]:
    """Diagnostics for a solved plane, in the order of the things' names."""
    by_name = {entry.name: entry for entry in entries}
    found: list[Diagnostic] = []
    for one in solved.left_open:
        if (entry := by_name.get(statement_of(one.name))) is not None:
            found.append(_open(one, rows, rows.pages.facts.of[entry.name]))
    for two in solved.two_places:
        if (entry := by_name.get(statement_of(two.name))) is not None:
            found.append(_two(two, entry, rows))
    found.extend(filter(None, (_misfit(misfit, rows) for misfit in solved.misfits)))
    unique: dict[tuple[str, Span | None], Diagnostic] = {}
    for diagnostic in found:
        unique.setdefault((diagnostic.code, diagnostic.span), diagnostic)
    return list(unique.values())


def _claims(placing: Placing) -> list[Claim]:
    """The claims that place a thing or line, in the order they were written."""
    return sorted((fact.claim for fact in placing.all(PlaceFact)), key=lambda claim: claim.span)


def _open(one: LeftOpen, rows: Rows, placing: Placing) -> Diagnostic:
    entry, free = placing.entry, one.motion.how is Moves.FREE
    if not _claims(placing):
        said = f"{entry.name} is not placed"
    elif free:
        said = f"{entry.name} can still move freely"
    else:
        said = f"{entry.name} can still move: it {motion_words(_told(one.motion, rows))}"
    middle = in_the_middle(placing, rows.claims) if free else ()
    would_do = _settling(one, placing, rows, bool(middle))
    advice: tuple[str, ...] = (
        ("a reading that would settle it:  " + "   or   ".join(would_do),) if would_do else ()
    )
    about = one.motion.other if one.motion.how is Moves.ABOUT else ""
    if about and not is_line(entry) and rows.net.spoken(about) is Spoken.ANYHOW:
        advice += (f"or, at its right:  level with {about}   and   right of {about}",)
    advice = (*on_side(placing), *advice, *middle)
    return Diagnostic("left-open", Severity.ERROR, said, entry.span, advice=advice)


def _told(motion: Motion, rows: Rows) -> Motion:
    """A motion without a name that nobody wrote."""
    made_up = motion.other and rows.net.spoken(motion.other) is Spoken.NEVER
    return Motion(Moves.STRAIGHT) if made_up else motion


def _settling(one: LeftOpen, placing: Placing, rows: Rows, in_middle: bool) -> list[str]:
    """What would settle it: across the side that it slides along first, then what the solver scored best; no
    bare place where it is told how to lie in the middle of its flat.
    """
    boxes = rows.net.boxes
    others = boxes - {placing.name}  # its own sides are no help
    body, _, side = one.motion.other.rpartition(".")
    offers = [offer for offer in one.would_do if _can_be_typed(offer, rows, boxes)]
    offers = [offer for offer in offers if not (in_middle and offer.asks is Asks.PLACE)]
    if one.motion.how is Moves.ALONG and body and side in _SQUARE_SIDE:
        offers.insert(0, _near_side(body, _SQUARE_SIDE[side]))
    elif not offers and len(others) == 1:
        sides = {Moves.UPRIGHT: ("bottom",), Moves.ACROSS: ("left",)}.get(one.motion.how, ("left", "bottom"))
        offers = [_near_side(box, side) for box in others for side in sides]
    words = [_typed(offer, one.motion, placing, rows) for offer in offers]
    return list(dict.fromkeys(words))[:MOST_OFFERED]


def _near_side(body: str, side: str) -> Offer:
    return Offer(Asks.READING, f"{body}.{side}", (ReadEdge.NEAR,))


def _can_be_typed(offer: Offer, rows: Rows, boxes: set[str]) -> bool:
    """Whether the line of an offer would be understood.  A distance to a thing with four sides must name one
    of them, and a line passes through no side.
    """
    if not offer.other:
        return True
    spoken = rows.net.spoken(offer.other)
    if spoken is Spoken.NEVER or (offer.asks is Asks.PASSING and spoken is Spoken.AS_EDGE):
        return False
    return offer.other not in boxes or offer.asks is Asks.PASSING


def _typed(offer: Offer, motion: Motion, placing: Placing, rows: Rows) -> str:
    """An offer as it can be typed: to the centre of what was never read, and with a side word where the
    thing has four sides of its own.
    """
    if offer.asks is not Asks.READING:
        return offer_words(offer)
    edges = _read_edges(offer, placing.entry, rows)
    words = offer_words(replace(offer, edges=edges))
    has_place = offer.other in rows.net.fixed or offer.other in rows.net.things
    if placing.name not in rows.net.boxes or not has_place or rows.net.spoken(offer.other) is Spoken.AS_EDGE:
        return words
    if edges != offer.edges:
        return f"{offer_words(Offer(Asks.PLACE))} from {offer.other}"
    said = [fact for fact in placing.all(Beside) if str(fact.thing) == offer.other]
    way = SideOffer(Way.ABOVE if motion.how is Moves.UPRIGHT else Way.RIGHT, offer.other)
    return words if len(said) == 1 else f"{words}   and   {side_words(way)}"


def _read_edges(offer: Offer, entry: Entry, rows: Rows) -> tuple[ReadEdge, ...]:
    other = rows.claims.entries.get(statement_of(offer.other))
    sized = [one for one in (entry, other) if one is not None and is_round(one)]
    if all(radius(one, made=False) is not None for one in sized):
        return offer.edges
    return tuple(ReadEdge.CENTRE for _ in offer.edges)


def _two(two: TwoPlaces, entry: Entry, rows: Rows) -> Diagnostic:
    places = " and at ".join(f"({x:.2f}, {y:.2f})" for x, y in two.places[:4])
    claims = _claims(rows.pages.facts.of[entry.name])
    span = claims[-1].span if claims else entry.span
    label = (
        f"both readings are met at {places}" if len(two.places) == 2 else f"the readings are met at {places}"
    )
    if two.key in rows.keys:
        fact = rows.facts.get(two.key)
        other = fact.thing if isinstance(fact, On | From | Against | FlushWith) else two.other
        span, label = rows.keys[two.key][1].span, f"the readings are met on either side of `{other}`"
    others = (Label(entry.span, ""),) if span != entry.span else ()
    words = "   or   ".join(side_words(one) for one in two.tells)
    advice = (f"say which:  {words}",) if words else ("say which: roughly X, Y",)
    count = "two" if len(two.places) == 2 else str(len(two.places))
    return Diagnostic(
        "two-places", Severity.ERROR, f"{entry.name} could be in {count} places", span, label, others, advice
    )


def unmet_sides(wrong: list[SideWord], rows: Rows, before: set[str]) -> list[Diagnostic]:
    """Side words that are not met.  `before`: what is undecided in earlier answers; what leans on it is not
    judged.
    """
    return [
        _side_wrong(rows, side.key, side)
        for side in wrong
        if side.key in rows.facts and not leaned_on(rows.pages, rows.keys[side.key][0].name) & before
    ]


def _side_wrong(rows: Rows, key: int, side: SideWord | None = None) -> Diagnostic:
    entry, claim = rows.keys[key]
    said = f"no place that fits the readings of {entry.name} lies {claim.text}"
    if isinstance(rows.facts[key], Laid):
        what = f"{side.a} {TYPED[side.way]} {side.b}" if side is not None else "this"
        said = f"the readings put things otherwise than `laid` says: {what}"
    advice = ("turn the word round, or check the readings it goes with",)
    return Diagnostic("side-word-wrong", Severity.ERROR, said, claim.span, advice=advice)


def _misfit(misfit: Misfit, rows: Rows) -> Diagnostic | None:
    known = [
        (key, *rows.keys[key], residual)
        for key, residual in zip(misfit.keys, misfit.residuals, strict=True)
        if key in rows.keys
    ]
    if not known:
        return None
    known.sort(key=lambda one: (-abs(one[3]), one[2].text))
    first, entry, claim, most = known[0]
    side = next((key for key, *_ in known if isinstance(rows.facts.get(key), _SIDE_FACTS)), None)
    if side is not None:
        return _side_wrong(rows, side, next((one for one in rows.net.sides if one.key in misfit.keys), None))
    lines = tuple(
        f"{c.text} of {e.name}: misses by {_missed(rows.facts.get(key), -r)}" for key, e, c, r in known[:6]
    )
    others = tuple(Label(c.span, "") for _, _, c, _ in known[1:4])
    said = f"the readings of {entry.name} disagree by more than their give-or-take"
    return Diagnostic(
        "readings-disagree",
        Severity.ERROR,
        said,
        claim.span,
        f"{_missed(rows.facts.get(first), -most)} off",
        others,
        ("one of these was misread, or has the wrong edge word:", *lines),
    )


def _missed(fact: PlacingFact | None, by: float) -> str:
    """A residual in mm, or in degrees where the claim is about a direction."""
    if isinstance(fact, _DIRECTIONS):
        return f"{math.degrees(by):+.1f} deg"
    return f"{by:+.2f} mm"


def disagreements(
    verdicts: tuple[MisfitVerdict, ...], rows: Rows, behind: dict[int, Distance]
) -> list[Diagnostic]:
    """One message for each group of readings that don't agree: wrong words that would explain it, then the
    suspects.
    """
    found, keys = [], rows.keys
    for verdict in verdicts:
        shown = [one for one in verdict.suspects if one.key in keys]
        read_as = [one for one in verdict.readings_as if one.alternative.key in keys]
        if not shown and not read_as:
            continue
        first = read_as[0].alternative.key if read_as else shown[0].key
        entry, claim = keys[first]
        advice = []
        for one in read_as[:MOST_SHOWN]:
            other, line = keys[one.alternative.key]
            advice.append(f"they fit if {_was(line.text, other.name, one.alternative.slip)}")
            if kept := kept_line(line.text, one.alternative.slip):
                advice.append(f"  to keep that on record:  {kept}")
        if shown:
            advice.append("otherwise one of these was misread:" if read_as else "one of these was misread:")
        for suspect in shown[:MOST_SHOWN]:
            (other, line), fact = keys[suspect.key], rows.facts.get(suspect.key)
            advice.append(f"  {line.text} of {other.name}: {_should(fact, _read(suspect, behind))}")
        if len(shown) > MOST_SHOWN:
            advice.append(f"  or one of {len(shown) - MOST_SHOWN} more")
        if not verdict.can_tell:
            advice.append("nothing here tells which: one more reading of any of them would")
        others = tuple(Label(keys[one.key][1].span, "") for one in shown[:4] if one.key != first)
        said = f"the readings of {entry.name} disagree by more than their give-or-take"
        found.append(
            Diagnostic("readings-disagree", Severity.ERROR, said, claim.span, "", others, tuple(advice))
        )
    return found


def _read(suspect: Suspect, behind: dict[int, Distance]) -> float:
    row = behind.get(suspect.key)
    return suspect.should_be if row is None else row.read(suspect.should_be)


def _was(line: str, name: str, slip: Slip) -> str:
    words = slip_words(slip)
    return (
        f"`{line}` of {name} was {words}" if isinstance(slip, EdgeSlip) else f"in `{line}` of {name} {words}"
    )


def _should(fact: PlacingFact | None, value: float) -> str:
    if not math.isfinite(value):
        return "nothing says what it should read"
    if isinstance(fact, AngleFrom | AngleAt | LineAngled):
        return f"the others say {math.degrees(value):.1f} deg"
    return f"the others say {abs(value):.2f}"
