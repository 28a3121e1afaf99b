"""Holes: which bodies they cut, where they enter and how deep they go, their mouths, their sections and what
they are for.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Any, ClassVar, cast

from msgspec import Struct

from ..diagnostics.types import Answered, Trouble, at_fault
from ..facts import Claim, Entry
from ..facts.extents import across
from ..facts.made_sizes import made_flat
from ..facts.needs import FIT_WORDS, THREAD_WORDS
from ..kinds import needed_file
from ..quantities import tables
from .builder import Builder, said_of, size_of
from .card import mention
from .hole_depths import ask_depth, depth_of, mouth_of, owners_of
from .sections import (
    FlattedSection,
    PolygonSection,
    RoundSection,
    Section,
    ToothedSection,
)
from .stated import FitUse
from .taking import Facts
from .types import Depth, Fit, Mention, Mouth, Said, Size, Thing

if TYPE_CHECKING:
    from ..kinds.thread.form import ThreadForm, ThreadName

FACING = {
    "right": 0.0,
    "top": 0.5 * math.pi,
    "above": 0.5 * math.pi,
    "left": math.pi,
    "bottom": 1.5 * math.pi,
    "below": 1.5 * math.pi,
}
SMALLER_FLAT = (
    "a flat is read from the flat to the far side of the round, two over both: "
    "a smaller one, or a larger round"
)
_USES = {
    "clears": FitUse.CLEARANCE,
    "bites": FitUse.CORE,
    **dict.fromkeys(THREAD_WORDS, FitUse.THREAD),
}
_FOR_SCREWS = ("clears", "bites")
_LOCATING = ("turns on", "slides on", "pushes on", "press on", *_FOR_SCREWS)
_ACROSS = ("drill", "across", "wide", "hex", "square", "same as")


class NamedFor(Struct, frozen=True):
    """The screw, or the thing, that a hole is named for by its size, and the line."""

    screw: str
    said: Said


class Hole(Thing, frozen=True, kw_only=True):
    """A hole: what it cuts (`everywhere`: all bodies there are), its section on its plane, how deep, how it
    is for what.

    `size`: across (a slot's width, none for a notch); `drilled`: read by the drill that goes and the one that
    does not; `thread`: the thread in it, and its line; `depth` None: it goes through."""

    owners: tuple[str, ...]
    everywhere: bool
    section: Section
    size: Size | None
    sizes: tuple[tuple[str, Size], ...]
    depth: Depth | None
    mouth: Mouth | None
    named_for: NamedFor | None = None
    fit: Fit | None = None
    thread: ThreadForm | None = None
    thread_said: Said | None = None
    drilled: bool = False
    on: Mention | None = None
    straight: bool = False

    thread_name: ThreadName | None = None

    makes: ClassVar[bool] = True

    @property
    def on_flat(self) -> str:
        """The flat or plane it is on, '' where it is on none."""
        return "" if self.on is None else self.on.name

    @property
    def diameter(self) -> float | None:
        """The size across as made, mm, of a round hole."""
        return round_size(self.section, self.size)

    @property
    def hidden_inside(self) -> bool:
        """Whether it ends inside the material, or widens at its mouth."""
        return self.depth is not None or self.mouth is not None

    @property
    def handed(self) -> bool:
        """Whether it is threaded."""
        return self.thread is not None

    @property
    def across_made(self) -> float | None:
        """The size across (a slot's width) as made, mm."""
        return None if self.size is None else self.size.value


def hole_fields(builder: Builder, facts: Facts) -> dict[str, Any]:
    """The fields of a `Hole` but its section and sizes.  Raises Trouble: 'which-body', 'which-flat',
    'not-parallel', 'facts-disagree' for a hole that goes `through` a body and ends inside it."""
    spot = builder.layout.spots.get(facts.name)
    if spot is None:
        raise Answered(facts.name)
    through = facts.one("through")
    own = owners_of(builder, facts.entry)
    flats = [
        claim.ref("thing") for claim in facts.entry.all("on") if builder.planes.is_flat(claim.ref("thing"))
    ]
    on = mention(flats[0]) if flats else None
    depth = depth_of(builder, facts, own, on)
    if depth is not None:
        ask_depth(builder, facts.entry, own, depth)
    return {
        **builder.thing(facts),
        "owners": own,
        "everywhere": through is not None and any(not ref.name for ref in through.refs("things")),
        "depth": depth,
        "on": on,
        "named_for": _named_for(facts.entry),
    }


def _named_for(entry: Entry) -> NamedFor | None:
    claim = entry.one(*FIT_WORDS) or entry.one("hex")
    if claim is None:
        return None
    named = claim.get("screw") or claim.get("mate")
    return NamedFor(named if isinstance(named, str) else "", said_of(claim))


def fit_of(facts: Facts) -> Fit | None:
    """What a hole or peg is for, by its fit word; None where it has none or is made `as read`."""
    claim = facts.one(*FIT_WORDS[:-1])
    facts.flag("as read")
    if claim is None:
        return None
    mate = claim.get("mate") or claim.get("screw")
    meant = claim.quantity("meant")
    return Fit(
        _USES.get(claim.word, FitUse.SHAFT),
        tables.FITS.get(claim.word),
        str(mate),
        meant,
        claim.word_of("series"),
        said_of(claim),
        claim.word in _FOR_SCREWS and isinstance(mate, str),
        claim.word in _LOCATING,
    )


def thread_of(builder: Builder, facts: Facts, inside: bool) -> ThreadForm | None:
    """The thread of a bore or peg.  Raises Trouble as `form_of` does."""
    claim = facts.one(*THREAD_WORDS)
    if claim is None:
        return None
    with at_fault(claim.span):
        return cast("ThreadForm", needed_file("thread", "model").form_of(claim, builder.claims, inside))


def thread_name(entry: Entry) -> ThreadName | None:
    """How the thread of a bore or peg is called; None for one that was read, or where there is none."""
    claim = entry.one(*THREAD_WORDS)
    return (
        None
        if claim is None
        else cast("ThreadName | None", needed_file("thread", "model").name_of_thread(claim))
    )


def round_size(section: Section, size: Size | None) -> float | None:
    """The size across as made, mm, of a section that is round; None for another."""
    is_round = isinstance(section, RoundSection | FlattedSection | ToothedSection)
    return size.value if is_round and size is not None else None


def thread_line(facts: Facts) -> Said | None:
    """The line of the thread of a bore or peg, None where it has none."""
    claim = facts.one(*THREAD_WORDS)
    return None if claim is None else said_of(claim)


def across_of(facts: Facts) -> Size | None:
    """The size across of a bore or peg or the width of a slot, as read and as it is made by what it is
    for.
    """
    claims = facts.all(*_ACROSS)
    measure = across(facts.entry)
    if measure is None:
        return None
    claim = claims[0] if claims else facts.entry.one(*FIT_WORDS)
    assert claim is not None
    return Size(measure.read, measure.made, said_of(claim))


def drilled(entry: Entry) -> bool:
    """Whether a hole was read by a drill that goes and one that does not."""
    claim = entry.one("drill")
    return claim is not None and claim.get("limits") is not None


def section_of(facts: Facts, size: Size, turn: float) -> Section:
    """The section of a bore or peg.  Raises Trouble: 'no-such-side', 'flat-misses'."""
    turned = facts.one("turned")
    if turned is not None:
        turn += math.radians(turned.number("angle"))
    teeth = facts.one("serrated", "splines")
    wide = size.value
    if teeth is not None:
        return ToothedSection(
            0.5 * wide, teeth.number("depth"), int(teeth.number("count")), turn, teeth.word == "splines"
        )
    for word, sides in (("hex", 6), ("square", 4)):
        if facts.peek(word):
            return PolygonSection(wide, sides, turn)
    flat = facts.one("flat", "flats")
    if flat is not None:
        return _flatted(facts, flat, wide, turn)
    return RoundSection(0.5 * wide)


def _flatted(facts: Facts, flat: Claim, wide: float, turn: float) -> FlattedSection:
    facing = FACING.get(flat.word_of("word"), 0.5 * math.pi if not flat.get("word") else None)
    if facing is None:
        raise Trouble(
            "no-such-side",
            f"the flat of `{facts.name}` can face left, right, top or bottom",
            (facts.name,),
            span=flat.span,
        )
    # A flat is read across, from the flat to the far side of the round; two over both.
    plain, size = flat.number("size"), made_flat(facts.entry, flat).value
    both = flat.word == "flats"
    distance = 0.5 * size if both else size - 0.5 * wide
    if distance >= 0.5 * wide:
        raise Trouble(
            "flat-misses",
            f"the flat of `{facts.name}` ({plain:g} across) does not cut its round ({wide:g})",
            (facts.name,),
            advice=(SMALLER_FLAT,),
            span=flat.span,
        )
    return FlattedSection(0.5 * wide, distance, facing + turn, both)


def flat_sizes(facts: Facts) -> tuple[tuple[str, Size], ...]:
    """The sizes over a flat or over both, as they are made: they take the same play as the round."""
    found = []
    for claim in facts.entry.all("flat", "flats"):
        plain = size_of(claim)
        found.append((claim.word, Size(plain.read, made_flat(facts.entry, claim), plain.said)))
    return tuple(found)


__all__ = [
    "FACING",
    "Hole",
    "across_of",
    "drilled",
    "fit_of",
    "flat_sizes",
    "hole_fields",
    "mouth_of",
    "round_size",
    "section_of",
    "thread_line",
    "thread_name",
    "thread_of",
]
