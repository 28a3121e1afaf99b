"""What the facts of one plane are measured to: things, sides seen edge-on, lines, and what other planes have
placed.
"""

from __future__ import annotations

import math

from msgspec import Struct, field
from msgspec.structs import replace

from ..diagnostics.types import Diagnostic, Label, Severity
from ..facts import Claim, Claims, Entry, Ref
from ..facts.extents import half, is_box, radius, size_claim
from ..facts.kind_questions import is_body, is_drilled, is_line, is_slot, same_as
from ..facts.placing import At, LiesAlong, PlacingFact
from ..network.types import (
    Centred,
    FixedLine,
    FixedThing,
    LineThing,
    Midway,
    Network,
    ReadingRow,
    Roughly,
    SideWord,
    SizeReading,
    Spoken,
)
from ..quantities import Quantity
from ..quantities.tables.instruments import INSTRUMENTS
from ..quantities.vectors import Vector, dot
from .flat_advice import on_side
from .layout import Layout
from .planes import Planes

EXACT = 1e-5
RIGHT_ANGLE = 0.5 * math.pi


class Collected(Struct):
    """The parts of a network while it is collected, by name where they have one."""

    things: dict[str, Centred] = field(default_factory=dict)
    lines: dict[str, LineThing] = field(default_factory=dict)
    fixed: dict[str, FixedThing] = field(default_factory=dict)
    fixed_lines: dict[str, FixedLine] = field(default_factory=dict)
    rows: list[ReadingRow] = field(default_factory=list)
    sizes: dict[str, SizeReading] = field(default_factory=dict)
    sides: list[SideWord] = field(default_factory=list)
    roughly: list[Roughly] = field(default_factory=list)

    def network(self, free_frame: bool) -> Network:
        """What the solver is given.  A size shared with another plane's thing has no reading here."""
        used = {thing.size for thing in self.things.values()}
        return Network(
            tuple(self.things.values()),
            tuple(self.lines.values()),
            tuple(self.fixed.values()),
            tuple(self.fixed_lines.values()),
            tuple(self.rows),
            tuple(self.sides),
            tuple(self.roughly),
            free_frame=free_frame,
            sizes=tuple(one for name, one in sorted(self.sizes.items()) if name in used),
        )

    @property
    def boxes(self) -> set[str]:
        """Names of the things that have four sides."""
        things = [*self.things.values(), *(fixed.thing for fixed in self.fixed.values())]
        return {thing.name for thing in things if thing.half_wide > 0}

    def spoken(self, name: str) -> Spoken:
        """How a thing or line of the network can be spoken of."""
        lines: dict[str, LineThing | FixedLine] = {**self.lines, **self.fixed_lines}
        return lines[name].spoken if name in lines else self.thing(name).spoken

    def thing(self, name: str) -> Centred:
        """A thing to be found or fixed, by its name."""
        return self.things[name] if name in self.things else self.fixed[name].thing


class AtWork(Struct, frozen=True):
    """The statement and claim that rows are made of; `fact` is None for the reading of a size."""

    entry: Entry
    claim: Claim
    fact: PlacingFact | None


class NetworkBuilder:
    """Collects the network of one plane; `keys` tells which statement and claim stand behind each row,
    `facts` which placing fact.
    """

    def __init__(self, pages: Planes, plane: str, turns: dict[str, float]) -> None:
        self.pages, self.plane, self.turns = pages, plane, turns
        self.net = Collected()
        self.keys: dict[int, tuple[Entry, Claim]] = {}
        self.facts: dict[int, PlacingFact] = {}
        self.found: list[Diagnostic] = []
        self.datum = ""
        self.at_work: AtWork | None = None

    @property
    def claims(self) -> Claims:
        """All that the recipe claims."""
        return self.pages.claims

    @property
    def layout(self) -> Layout:
        """What is placed so far."""
        return self.pages.layout

    def key(self) -> int:
        """A fresh key for a row of the fact at work, which is of use then."""
        number = len(self.keys) + 1
        work = self.at_work
        assert work is not None
        self.keys[number] = (work.entry, work.claim)
        if work.fact is not None:
            self.facts[number] = work.fact
            self.layout.use(work.entry, work.fact)
        return number

    def put(self, *rows: ReadingRow) -> None:
        """Add rows to the network."""
        self.net.rows.extend(rows)

    def refuse(self, code: str, said: str, *advice: str, others: tuple[Label, ...] = ()) -> None:
        """Keep an error at the claim at work."""
        assert self.at_work is not None
        span = self.at_work.claim.span
        self.found.append(Diagnostic(code, Severity.ERROR, said, span, others=others, advice=advice))

    def declare(self, entry: Entry) -> None:
        """Make room for a thing or line whose place is to be found on this plane."""
        if is_line(entry):
            if entry.name not in self.net.fixed_lines:
                self.net.lines[entry.name] = LineThing(entry.name)
            return
        thing = self.thing(entry)
        alike = same_as(entry)
        shared = alike.name if alike is not None else entry.name
        read = size_claim(entry)
        if read is not None:
            self.net.sizes.setdefault(shared, self._size_reading(entry, *read, shared))
        self.net.things[entry.name] = (
            replace(thing, size=shared) if alike is not None or read is not None else thing
        )

    def _size_reading(self, entry: Entry, claim: Claim, size: Quantity, shared: str) -> SizeReading:
        self.at_work = AtWork(entry, claim, None)
        goes = min(size.u, INSTRUMENTS["drill"].limit / math.sqrt(3)) if is_drilled(claim) else None
        return SizeReading(self.key(), shared, size.value, max(size.u, EXACT), goes)

    def thing(self, entry: Entry) -> Centred:
        """A thing with its half-sizes as read."""
        if is_box(entry):
            long, wide = half(entry, made=False)
            return Centred(entry.name, 0.0, long, wide, self.turns.get(entry.name, 0.0))
        size = radius(entry, made=False) or radius(entry, made=True) or 0.0
        long = max(0.0, half(entry, made=False)[0] - size) if is_slot(entry) else 0.0
        return Centred(entry.name, size, long, 0.0, self.turns.get(entry.name, 0.0))

    def centre(self, ref: Ref) -> str | None:
        """The name of the thing whose centre a mention speaks of, brought onto this plane when it lies on
        another.
        """
        name = str(ref)
        if ref.part == "1":  # a thing is the first of its copies
            return self.centre(Ref(ref.name, "", ref.span))
        if ref.part.isdigit():
            return self._copy(ref, name)
        if ref.part:
            self.refuse(
                "wrong-kind",
                f"`{ref}` is a side, not a thing with a centre",
                f"name the body: {ref.name}   or measure to the side: from {ref} near ...",
            )
            return None
        if ref.name in self.net.things or ref.name in self.net.fixed:
            return ref.name
        entry = self.claims.entries.get(ref.name)
        if entry is not None and is_line(entry):
            self._no_point(ref)
            return None
        spot = self.layout.spots.get(ref.name)
        if spot is None:
            home = self.pages.stand(ref.name)[0]
            advice = on_side(self.pages.facts.of[ref.name])
            if not advice and home and home != self.plane:
                advice = (f"put it on the plane of `{ref}`: on {home}",)
            self.refuse(
                "other-plane", f"`{ref}` is not placed in a plane that this one can be read from", *advice
            )
            return None
        frame = self.layout.frames[self.plane]
        at, _ = frame.onto(self._middle_of(ref.name))
        parallel = abs(dot(frame.out, self.layout.frames[spot.plane].out)) > 0.999999
        if not parallel:
            self.pages.height_is_seen(ref.name)
        thing = self.thing(self.claims.entries[ref.name]) if parallel else Centred(ref.name)
        self.net.fixed[ref.name] = FixedThing(thing, at)
        return ref.name

    def _middle_of(self, name: str) -> Vector:
        """Where a placed thing has its middle in space: of a body that this plane sees from aside halfway
        between its front and its back, of anything else on the plane it was read on.
        """
        spot, placing = self.layout.spots[name], self.pages.facts.of[name]
        frame, height = self.layout.frames[spot.plane], spot.base
        aside = abs(dot(frame.out, self.layout.frames[self.plane].out)) < 1e-6
        if aside and is_body(placing.entry) and placing.one(LiesAlong) is None:
            height = 0.5 * sum(self.pages.heights(name))
        return frame.point(spot.at, height)

    def _no_point(self, ref: Ref) -> None:
        """A line was named where a place is asked for."""
        advice = [f"on the line: on {ref}   or   beside it: from {ref} near ..."]
        if self.at_work is not None and isinstance(self.at_work.fact, At):
            advice = [
                f"count from a thing, or read it from the line: from {ref} centre ...",
                f"where it lies along {ref} takes a second reading",
            ]
        self.refuse("wrong-kind", f"`{ref}` is a line: it has no one point to count from", *advice)

    def _copy(self, ref: Ref, name: str) -> str | None:
        spot, moves = self.layout.spots.get(ref.name), self.layout.copies.get(ref.name, ())
        number = int(ref.part)
        if spot is None:
            self.refuse(
                "other-plane",
                f"`{ref}` is a copy and its original is not placed yet",
                "read the original first, from things that are no copies",
            )
            return None
        if not 1 <= number <= len(moves) + 1:
            self.refuse("unknown-part", f"there is no `{ref}`: the copies are .1 to .{len(moves) + 1}")
            return None
        point = self._middle_of(ref.name)
        if number > 1:
            point = moves[number - 2].point(point)
        at, _ = self.layout.frames[self.plane].onto(point)
        thing = self.thing(self.claims.entries[ref.name])
        self.net.fixed[name] = FixedThing(
            Centred(name, thing.radius, thing.half_long, thing.half_wide, thing.turn), at
        )
        return name

    def line(self, ref: Ref) -> str | None:
        """The name of the line a mention speaks of on this plane; None when it is no line of this plane."""
        if ref.part or (entry := self.claims.entries.get(ref.name)) is None or not is_line(entry):
            return None
        if ref.name in self.net.lines or ref.name in self.net.fixed_lines:
            return ref.name
        placed = self.layout.lines.get(ref.name)
        if placed is None or placed[0] != self.plane:
            self.refuse("other-plane", f"line `{ref}` lies in another plane")
            return None
        self.net.fixed_lines[ref.name] = FixedLine(ref.name, placed[1].angle, placed[1].offset)
        return ref.name

    def here(self, entry: Entry) -> Centred:
        """The thing at work as the network has it."""
        return self.net.things[entry.name]

    def found_here(self) -> bool:
        """True where the claim at work has been answered already."""
        return (
            bool(self.found) and self.at_work is not None and self.found[-1].span == self.at_work.claim.span
        )

    def middle(self, first: str, second: str) -> str:
        """A hidden thing midway between two others."""
        name = f"{first}|{second}"
        if name not in self.net.things:
            self.net.things[name] = Centred(name, spoken=Spoken.NEVER)
            self.put(Midway(0, name, first, second, EXACT))
        return name
