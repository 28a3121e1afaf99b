"""Does a snap arm, a tongue or a beaded ring take the strain when it goes together?

Each is judged by the strain of its shape (`quantities.snaps`) against what its plastic takes, halved where it
bends across its layers.  Where the card does not say `prints on`, the joint is taken to lie the worse way
that is usual for its shape, and that is told.  All of it is an estimate for a printed part and says so.  A
kind that has snap joints of its own lists them in its file `snaps`."""

from __future__ import annotations

import math
from collections.abc import Iterator

from msgspec import Struct

from ..diagnostics.types import Diagnostic, Severity, Span, Trouble
from ..kinds import own_file
from ..mesh.types import Part
from ..model import Model
from ..model.holes import Hole
from ..model.sections import BoxSection, SlotSection
from ..model.types import Prism, Spring
from ..quantities.snaps import Allowed, allowed, arm_strain, length_for, thickness_for
from ..quantities.tables import plastic
from ..quantities.vectors import Vector, dot

LYING = 0.5
"""Cosine of the angle to the bed's normal below which an arm counts as lying along its layers."""
PRINTED = 0.8  # mm: the thinnest tongue worth advising, two lines of a usual nozzle
MUCH = 1.5  # a tongue is said to be so much longer than any cut beside it before that is doubted


class Layers(Struct, frozen=True):
    """How the layers lie: across what bends or along it, whether that is only assumed, what is assumed then,
    and what to advise where they lie across."""

    across: bool
    assumed: bool
    taken: str
    better: str


class Stuff(Struct, frozen=True):
    """What a joint is made of, as it is shown, and the strain that takes."""

    shown: str
    takes: Allowed


class Snap(Struct, frozen=True):
    """One snap joint: what it is, how it bends, its strain, what the plastic takes, and what would bring it
    within that.

    `slit`: its ring is open, so that its strain is none of a hoop.  `doubt`: what its figures may miss."""

    shown: str
    bend: str
    strain: float
    stuff: Stuff
    layers: Layers
    would_do: str
    span: Span
    slit: bool = False
    doubt: str = ""

    @property
    def told(self) -> str:
        """One line for the report."""
        if self.slit:
            return (
                f"{self.shown} {self.bend}: the ring is slit, so "
                "its tongues bend; how far they do is not worked out"
            )
        layers, takes = "across its layers" if self.layers.across else "along its layers", self.stuff.takes
        return (
            f"{self.shown} {self.bend}: strain {_percent(self.strain)} "
            f"(estimate); {self.stuff.shown} bent {layers} "
            f"takes about {_percent(takes.once)} once, {_percent(takes.often)} again and again"
            + (f" (`prints on` is not said: {self.layers.taken})" if self.layers.assumed else "")
            + (f"; {self.doubt}" if self.doubt else "")
        )


class SnapBench(Struct, frozen=True):
    """What all snap joints of a part are judged by: the plastic of its card ('' : none that is known), the
    way its layers are stacked (a unit vector; None: not said), the model and the finished part."""

    plastic: str
    up: Vector | None
    model: Model
    part: Part

    def leans(self, way: Vector) -> float | None:
        """Cosine between a way and that in which the layers are stacked; None where that is not said."""
        return None if self.up is None else abs(dot(self.up, way))

    def stuff(self, across: bool) -> Stuff:
        """The plastic, bent across its layers or along them."""
        return Stuff(self.plastic or "a stiff plastic", allowed(self.plastic or None, across))


def snaps(model: Model, part: Part) -> list[Snap]:
    """Every snap joint of a part, in the order of names."""
    bench = SnapBench(_plastic(model), _up(model), model, part)
    found: list[Snap] = []
    for thing in model.things.values():
        own = own_file(thing.noun, "snaps")
        if own is not None:
            found.extend(own.joints(thing, bench))
        if isinstance(thing, Prism) and thing.spring is not None:
            found.extend(_tongue(thing, thing.spring, bench))
    return found


def strained(model: Model, part: Part) -> list[Diagnostic]:
    """A warning for each snap joint that is strained more than its plastic takes, a note for what goes
    together only once.
    """
    found = []
    for one in snaps(model, part):
        takes = one.stuff.takes
        if one.slit:
            continue
        if one.strain > takes.once + 1e-9:
            said = (
                f"{one.shown} is strained by {_percent(one.strain)} "
                f"when it snaps in; {one.stuff.shown} takes about "
                f"{_percent(takes.once)}{' across its layers' if one.layers.across else ''} (estimates)"
            )
            found.append(Diagnostic("over-strained", Severity.WARNING, said, one.span, advice=_advice(one)))
        elif one.strain > takes.often + 1e-9:
            said = (
                f"{one.shown} goes together once or twice: strain "
                f"{_percent(one.strain)}, and {one.stuff.shown} takes about "
                f"{_percent(takes.often)} again and again (estimates)"
            )
            found.append(Diagnostic("snaps-once", Severity.NOTE, said, one.span, advice=_advice(one)))
    return found


def _advice(one: Snap) -> tuple[str, ...]:
    lines = [one.would_do]
    if one.layers.across:
        lines.append(one.layers.better)
    if one.doubt:
        lines.append(one.doubt)
    if one.layers.assumed:
        lines.append(f"`prints on` is not said: {one.layers.taken}")
    return tuple(lines)


def _tongue(prism: Prism, spring: Spring, bench: SnapBench) -> Iterator[Snap]:
    """`springs 1.2 over 9.0`: a tongue of the body's own thickness, freed by slots.  It runs square to the
    body's way out."""
    by, free, thick = spring.by.value, spring.free.value, spring.thickness
    if thick is None:
        return
    leans = bench.leans(prism.frame.out)
    across = leans is None or leans <= 1.0 - 1e-6
    layers = Layers(
        across,
        leans is None,
        "it is taken to stand on edge on the bed, its layers across what bends",
        "print it flat, so that its layers run along what bends:  prints on ...",
    )
    stuff, cut = bench.stuff(across), _longest_cut(bench.model, prism.plane)
    often = stuff.takes.often
    yield Snap(
        f"the tongue of `{prism.name}`",
        f"gives way {by:g} over {free:g} at {thick:g} thick",
        arm_strain(by, free, thick),
        stuff,
        layers,
        long_or_thin(length_for(by, thick, often), thickness_for(by, free, often)),
        spring.said.span,
        doubt=f"the longest slot or notch there is {cut:g}: is all of {free:g} free to bend?"
        if cut is not None and free > MUCH * cut
        else "",
    )


def _longest_cut(model: Model, plane: str) -> float | None:
    """The length (mm) of the longest slot or notch of a plane, None where it has none."""
    cuts = [hole for hole in model.of(Hole) if isinstance(hole.section, SlotSection | BoxSection)]
    return max((2.0 * max(hole.placed.half) for hole in cuts if hole.plane == plane), default=None)


def long_or_thin(long: float, thick: float) -> str:
    """What would do for an arm or tongue: a length (mm), or a thickness that can be printed."""
    longer = math.ceil(2.0 * long - 1e-9) / 2.0
    thinner = f", or {tenths(thick, True)} thick" if thick >= PRINTED else ""
    return f"for use again and again: {longer:g} long{thinner}, or less undercut"


def tenths(value: float, down: bool) -> str:
    """To a tenth of a mm, down or up: towards the safe side."""
    return f"{(math.floor(10.0 * value + 1e-9) if down else math.ceil(10.0 * value - 1e-9)) / 10.0:g}"


def _up(model: Model) -> Vector | None:
    """The way the layers are stacked, where the card says on what the part is printed."""
    said = model.card.prints_on
    flat = model.flats.get(said.name) if said is not None else None
    return None if flat is None else flat.flat.normal


def _plastic(model: Model) -> str:
    """The plastic of the card, by the name of our table; nothing where it names none that is known."""
    named = model.card.plastic
    try:
        return plastic(named.text).name if named is not None else ""
    except Trouble:
        return ""


def _percent(strain: float) -> str:
    return f"{100.0 * strain:.1f} %" if strain < 1.0 else "more than 100 %"
