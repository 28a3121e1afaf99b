"""A turning as it will be made: stations along its axis, and what is worked into them.  Places on the axis in
mm.
"""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from typing import TYPE_CHECKING, ClassVar

from msgspec import Struct

from ...diagnostics.types import Trouble, at_fault
from ...facts import Claim
from ...facts.needs import THREAD_WORDS
from ...model.builder import Builder, optional_size, said_of, size_of
from ...model.taking import Facts
from ...model.types import Body, Centre, Cylinder, LyingRound, Said, Size
from ...places.edge_lines import ahead
from ...places.layout import Frame
from ...quantities import Quantity
from ...quantities.vectors import Vector, clean, cross, dot
from .. import needed_file
from .stations import PLACED, StationSize, station_places, station_sizes

if TYPE_CHECKING:
    from ..thread.form import ThreadForm, ThreadName

MEETS = 1e-6  # mm: threads that share less than this of a stretch only meet


def _ends(start: Quantity, stop: Quantity) -> tuple[float, float]:
    return min(start.value, stop.value), max(start.value, stop.value)


class Station(Struct, frozen=True):
    """A stretch of the axis with a diameter at each end (the same at both unless it tapers)."""

    first: Size
    second: Size
    start: Quantity
    stop: Quantity
    tapers: bool
    said: Said

    @property
    def stretch(self) -> tuple[float, float]:
        """The lower and the higher of the two places it runs between, mm."""
        return _ends(self.start, self.stop)

    @property
    def widest(self) -> float:
        """The larger diameter as made, mm."""
        return max(self.first.value, self.second.value)


class Shaped(Struct, frozen=True):
    """A bead, cove or vee round a turning: `word`, its diameter, where, how wide along the axis; `mouth`: the
    opening that a bead inside goes through; `inside`: it stands in the bore."""

    word: str
    size: Size
    wide: Size
    station: Quantity
    inside: bool
    mouth: Size | None
    said: Said


class Eased(Struct, frozen=True):
    """An edge at a station that is bevelled, rounded or hollowed (`word`), outside or in the bore."""

    word: str
    size: Size
    station: Quantity
    outside: bool
    said: Said

    @property
    def bevel(self) -> bool:
        """Whether it is cut straight, at 45 degrees."""
        return self.word == "bevel"


class Teeth(Struct, frozen=True):
    """Serrations, splines or a diamond grip (`word`) over a stretch."""

    word: str
    count: int
    depth: Size
    start: Quantity
    stop: Quantity
    said: Said

    @property
    def stretch(self) -> tuple[float, float]:
        """The lower and the higher of the two places it runs between, mm."""
        return _ends(self.start, self.stop)


class CutFlats(Struct, frozen=True):
    """A hexagon, square or flat (`word`) cut over a stretch; `facing` is the way a flat faces ('' : up)."""

    word: str
    size: Size
    facing: str
    start: Quantity
    stop: Quantity
    said: Said

    @property
    def single(self) -> bool:
        """Whether it is one flat, read from there to the round."""
        return self.word == "flat"

    @property
    def stretch(self) -> tuple[float, float]:
        """The lower and the higher of the two places it runs between, mm."""
        return _ends(self.start, self.stop)


Grip = Teeth | CutFlats


class NamedSize(Struct, frozen=True):
    """A size of a turning by a name of its own: `word` and `where` (`across`, `from 3 to 17`), where on the
    axis it is taken (mm: a place, or the middle of its stretch), what it is of."""

    word: str
    where: str
    at: float
    size: Size
    of: Station | Shaped | CutFlats

    @property
    def name(self) -> str:
        """The name it goes by."""
        return f"{self.word} {self.where}"


class Winding(Struct, frozen=True):
    """A thread over a stretch; `name`: how it is called, where it is named after a screw."""

    form: ThreadForm
    start: float
    stop: float
    inside: bool
    mate: str
    said: Said
    name: ThreadName | None

    @property
    def ground(self) -> float:
        """Radius of what its ridges stand on."""
        return 0.5 * self.form.ground


class Turning(Body, frozen=True, kw_only=True):
    """A turning.  `axis`: origin at station 0, `out` along the axis; `lies`: the line it lies along ('' :
    square to its plane).  `sizes` and `places`: every size by its name, and the places on the axis that are
    spoken of."""

    axis: Frame
    lies: str
    outer: tuple[Station, ...]
    bored: tuple[Station, ...]
    grooves: tuple[Station, ...]
    shaped: tuple[Shaped, ...]
    eased: tuple[Eased, ...]
    grips: tuple[Grip, ...]
    threads: tuple[Winding, ...]
    sizes: tuple[NamedSize, ...]
    places: tuple[Quantity, ...]

    makes: ClassVar[bool] = True
    centre: ClassVar[Centre] = Centre.RIM

    @property
    def hidden_inside(self) -> bool:
        """One that stands on its plane is seen from its end there."""
        return not self.lies

    @property
    def axis_line(self) -> str:
        """The line that it lies along."""
        return self.lies

    @property
    def edge_across(self) -> float:
        """The largest size across as made, mm."""
        return self.widest

    @property
    def handed(self) -> bool:
        """Whether it is threaded."""
        return bool(self.threads)

    @property
    def across_made(self) -> float | None:
        """The largest size across as made, mm."""
        return self.widest or None

    @property
    def way(self) -> Vector:
        """The way (a unit vector) from station 0 along the axis, to where stations count up."""
        x, y, z = self.axis.out
        sign = 1 if self.lies else self.placed.out
        return clean((sign * x, sign * y, sign * z))

    @property
    def widest(self) -> float:
        """The largest diameter outside, mm."""
        return max((station.widest for station in self.outer), default=0.0)

    @property
    def cylinders(self) -> tuple[Cylinder, ...]:
        """Its straight stations, outside and bored."""
        base, out = (0.0, 1) if self.lies else (self.placed.base, self.placed.out)
        faces = []
        for station in (*self.outer, *self.bored):
            if not station.tapers:
                low, high = sorted(base + out * end for end in station.stretch)
                face = Cylinder(self.axis, 0.5 * station.widest, low, high, station in self.outer)
                faces.append(face)
        return tuple(faces)

    @property
    def round_radius(self) -> float | None:
        """Radius at its widest, where it stands square to its plane."""
        return None if self.lies else self.placed.half[0]

    @property
    def lying(self) -> LyingRound | None:
        """Where it lies along its line; None where it stands square to its plane."""
        if not self.lies or not self.outer:
            return None
        upright = abs(dot(self.axis.out, self.frame.up)) > abs(dot(self.axis.out, self.frame.right))
        return LyingRound(
            self.axis,
            min(one.stretch[0] for one in self.outer),
            max(one.stretch[1] for one in self.outer),
            0.5 * self.widest,
            frozenset({"left", "right"} if upright else {"top", "bottom"}),
        )


ON_LINE = 0.01
"""So near (mm) to its line the place must be from which a turning lies along it."""


def make(builder: Builder, facts: Facts) -> Turning:
    """The turning.  Raises Trouble: 'not-placed', 'bad-thread' for two threads on one stretch, and as
    `form_of` does.
    """
    fields = builder.body(facts)
    if fields["spot"] is None:
        raise Trouble("not-placed", f"`{facts.name}` is not placed", (facts.name,))
    stations, shaped, grips = _stations(facts), _all_shaped(facts), _grips(facts)
    parts = [*(station for some in stations for station in some), *shaped, *grips]
    lies = facts.one("lies along")
    return Turning(
        **fields,
        axis=_axis(builder, facts, fields["frame"]),
        lies=str(lies.ref("line")) if lies is not None else "",
        outer=stations[0],
        bored=stations[1],
        grooves=stations[2],
        shaped=shaped,
        eased=tuple(
            _eased(claim)
            for claim in sorted(facts.all("bevel", "round", "hollow"), key=lambda each: each.text)
        ),
        grips=grips,
        threads=_threads(builder, facts),
        sizes=tuple(_named(one, parts) for one in station_sizes(facts.entry)),
        places=tuple(station_places(facts.entry, *PLACED)),
    )


def _stations(facts: Facts) -> tuple[tuple[Station, ...], ...]:
    """The stations outside, in the bore and of grooves."""
    words = (("across", "taper"), ("bored", "bored taper"), ("groove",))
    return tuple(tuple(_station(claim) for claim in facts.all(*some)) for some in words)


def _all_shaped(facts: Facts) -> tuple[Shaped, ...]:
    return tuple(_shaped(claim) for claim in facts.all("bead", "cove", "vee"))


def _grips(facts: Facts) -> tuple[Grip, ...]:
    words = ("serrated", "splines", "diamond", "hex", "square", "flat")
    return tuple(_grip(claim) for claim in facts.all(*words))


def _named(one: StationSize, parts: Sequence[Station | Shaped | Grip]) -> NamedSize:
    """A size by its name, with the part of the turning that it is of."""
    of = next(part for part in parts if part.said.text == one.claim.text)
    assert not isinstance(of, Teeth)
    where = one.name.removeprefix(one.claim.word).strip()
    size = Size(one.measure.read, one.measure.made, of.said)
    return NamedSize(one.claim.word, where, one.at, size, of)


def _axis(builder: Builder, facts: Facts, frame: Frame) -> Frame:
    """The frame of the axis: along a line it lies on, else square to its plane."""
    spot = builder.layout.spots[facts.name]
    lies = facts.one("lies along")
    if lies is None:
        return Frame(frame.point(spot.at), frame.right, frame.up, frame.out)
    edge = ahead(builder.planes, lies.ref("line"), frame)
    if edge is None:
        raise Trouble("not-placed", f"`{lies.ref('line')}` is not placed", (facts.name,))
    origin = frame.point(spot.at, spot.base)
    aside = cross(edge[1], edge[2])
    off = abs(dot(origin, aside) - dot(edge[0], aside))
    if off > ON_LINE:
        line, start = lies.ref("line"), lies.ref("start")
        raise Trouble(
            "facts-disagree",
            f"`{facts.name}` lies along `{line}` from `{start}`, but `{start}` is {off:.4g} beside that line",
            (facts.name, line.name, start.name),
            advice=(f"put it on the line: on {line}   or lay `{facts.name}` along the line it is on",),
            span=lies.span,
        )
    return Frame(origin, edge[2], clean(cross(edge[1], edge[2])), edge[1])


def _station(claim: Claim) -> Station:
    tapers = "taper" in claim.word
    first, second = (size_of(claim, key) for key in (("first", "second") if tapers else ("size", "size")))
    return Station(first, second, claim.quantity("start"), claim.quantity("stop"), tapers, said_of(claim))


def _shaped(claim: Claim) -> Shaped:
    return Shaped(
        claim.word,
        size_of(claim),
        size_of(claim, "wide"),
        claim.quantity("station"),
        claim.get("which") is not None,
        optional_size(claim, "mouth"),
        said_of(claim),
    )


def _eased(claim: Claim) -> Eased:
    outside = claim.word_of("which", "outside") == "outside"
    return Eased(claim.word, size_of(claim, "number"), claim.quantity("station"), outside, said_of(claim))


def _grip(claim: Claim) -> Grip:
    start, stop = claim.quantity("start"), claim.quantity("stop")
    if claim.get("count") is not None:
        return Teeth(
            claim.word, int(claim.number("count")), size_of(claim, "depth"), start, stop, said_of(claim)
        )
    return CutFlats(claim.word, size_of(claim), claim.word_of("word"), start, stop, said_of(claim))


def _threads(builder: Builder, facts: Facts) -> tuple[Winding, ...]:
    claims = sorted(facts.all(*THREAD_WORDS), key=lambda each: each.text)
    if not claims:
        return ()
    forms, found = needed_file("thread", "model"), []
    for claim in claims:
        inside = claim.word == "screws on" or claim.word_of("which") == "inside"
        start, stop = sorted((claim.number("start"), claim.number("stop")))
        with at_fault(claim.span):
            form = forms.form_of(claim, builder.claims, inside)
        found.append(
            Winding(
                form, start, stop, inside, str(claim.get("mate")), said_of(claim), forms.name_of_thread(claim)
            )
        )
    for a, b in itertools.combinations(found, 2):
        if a.form.outside == b.form.outside and max(a.start, b.start) < min(a.stop, b.stop) - MEETS:
            shared = f"from {max(a.start, b.start):g} to {min(a.stop, b.stop):g}"
            raise Trouble(
                "bad-thread",
                f"two threads of `{facts.name}` share the stretch {shared}",
                (facts.name,),
                advice=("let one end where the other begins",),
            )
    return tuple(found)


__all__ = ["CutFlats", "Eased", "Grip", "Shaped", "Station", "Teeth", "Turning", "Winding", "make"]
