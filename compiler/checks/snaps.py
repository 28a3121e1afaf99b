"""Does a snap arm, a tongue or a beaded ring take the strain when it goes together?

Each is judged by the strain of its shape (`quantities.snaps`) against what its plastic takes, halved where it
bends across its layers: an arm that stands up from the bed does, a beaded ring that lies on it.  Where the
card does not say `prints on`, arms and tongues are taken to bend across their layers and beaded rings to
stand on the bed, and that is told.  A ring that is slit bends its tongues: its hoop is not judged.  All of it
is an estimate for a printed part and says so."""

from __future__ import annotations

import math
from collections.abc import Iterator

from msgspec import Struct

from ..diagnostics.types import Diagnostic, Severity, Span, Trouble
from ..facts import Claim, Claims, Entry
from ..facts.extents import thickness
from ..kinds.arm.sizes import arm_of
from ..kinds.turning.model import Turning
from ..kinds.turning.slits import is_slit
from ..mesh.types import Part
from ..model import Model
from ..places.layout import Layout
from ..places.planes import Pages
from ..quantities.snaps import Allowed, allowed, arm_strain, length_for, ring_strain, thickness_for
from ..quantities.tables import plastic
from ..quantities.vectors import Vector, dot

LYING = 0.5
"""Cosine of the angle to the bed's normal below which an arm counts as lying along its layers."""
PRINTED = 0.8  # mm: the thinnest tongue worth advising, two lines of a usual nozzle
MUCH = 1.5  # a tongue is said to be so much longer than any cut beside it before that is doubted
FELT = 0.2  # mm across: the least undercut of a bead worth advising
TAKEN = {
    "arm": "it is taken to stand up from the bed, its layers across what bends",
    "tongue": "it is taken to stand on edge on the bed, its layers across what bends",
    "bead": "it is taken to stand on its end on the bed, its layers round the ring",
}  # what is assumed where the card does not say `prints on`
LAYERED = {
    "arm": "print it lying, so that its layers run along what bends:  prints on ...",
    "tongue": "print it flat, so that its layers run along what bends:  prints on ...",
    "bead": "print it standing on its end, so that its layers run round the ring:  prints on ...",
}


class Snap(Struct, frozen=True):
    """One snap joint: what it is, its strain, what the plastic takes, and what would bring it within that.

    `assumed`: the card does not say how it is printed.  `slit`: its ring is open, so that its strain is none
    of a hoop."""

    kind: str
    shown: str
    strain: float
    takes: Allowed
    plastic: str
    across: bool
    bend: str
    would_do: str
    span: Span
    assumed: bool = False
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
        layers = "across its layers" if self.across else "along its layers"
        return (
            f"{self.shown} {self.bend}: strain {_percent(self.strain)} "
            f"(estimate); {self.plastic} bent {layers} "
            f"takes about {_percent(self.takes.once)} once, {_percent(self.takes.often)} again and again"
            + (f" (`prints on` is not said: {TAKEN[self.kind]})" if self.assumed else "")
            + (f"; {self.doubt}" if self.doubt else "")
        )


def snaps(model: Model, claims: Claims, layout: Layout, part: Part) -> list[Snap]:
    """Every snap joint of a recipe, in the order of names."""
    pages, name = Pages(claims, layout), _plastic(claims)
    found: list[Snap] = []
    for entry in claims.entries.values():
        try:
            if entry.kind == "arm" and entry.name in layout.spots:
                found.append(_arm(entry, _leans(model, claims, pages, layout, entry), name))
            if entry.has("springs"):
                cut = _longest_cut(claims, layout, pages.stand(entry.name)[0])
                found.extend(_tongues(entry, _leans(model, claims, pages, layout, entry), name, cut))
            for claim in entry.all("bead") if entry.kind == "turning" else ():
                turning = model.things[entry.name]
                assert isinstance(turning, Turning)
                bead = next(one for one in turning.shaped if one.said.text == claim.text)
                slit = bead.mouth is not None and is_slit(turning, bead, part)
                found.extend(_bead(entry, claim, _leans(model, claims, pages, layout, entry), name, slit))
        except Trouble:
            continue  # answered where the body itself is made
    return found


def strained(model: Model, claims: Claims, layout: Layout, part: Part) -> list[Diagnostic]:
    """A warning for each snap joint that is strained more than its plastic takes, a note for what goes
    together only once.
    """
    found = []
    for one in snaps(model, claims, layout, part):
        if one.slit:
            continue
        if one.strain > one.takes.once + 1e-9:
            said = (
                f"{one.shown} is strained by {_percent(one.strain)} "
                f"when it snaps in; {one.plastic} takes about "
            )
            said += f"{_percent(one.takes.once)}{' across its layers' if one.across else ''} (estimates)"
            found.append(Diagnostic("over-strained", Severity.WARNING, said, one.span, advice=_advice(one)))
        elif one.strain > one.takes.often + 1e-9:
            said = (
                f"{one.shown} goes together once or twice: strain "
                f"{_percent(one.strain)}, and {one.plastic} takes about "
            )
            said += f"{_percent(one.takes.often)} again and again (estimates)"
            found.append(Diagnostic("snaps-once", Severity.NOTE, said, one.span, advice=_advice(one)))
    return found


def _advice(one: Snap) -> tuple[str, ...]:
    lines = [one.would_do]
    if one.across:
        lines.append(LAYERED[one.kind])
    if one.doubt:
        lines.append(one.doubt)
    if one.assumed:
        lines.append(f"`prints on` is not said: {TAKEN[one.kind]}")
    return tuple(lines)


def _arm(entry: Entry, leans: float | None, name: str) -> Snap:
    arm = arm_of(entry)
    across = leans is None or leans > LYING
    takes = allowed(name or None, across)
    strain = arm_strain(arm.nose, arm.long, arm.thick, arm.tip)
    long = length_for(arm.nose, arm.thick, takes.often, arm.tip)
    thick = thickness_for(arm.nose, arm.long, takes.often, arm.tip, arm.thick)
    return Snap(
        "arm",
        f"arm `{entry.name}`",
        strain,
        takes,
        name or "a stiff plastic",
        across,
        f"gives way {arm.nose:g} over {arm.long:g}",
        _would_do(long, thick),
        entry.span,
        leans is None,
    )


def _tongues(entry: Entry, leans: float | None, name: str, cut: float | None) -> Iterator[Snap]:
    """`springs 1.2 over 9.0`: a tongue of the body's own thickness, freed by slots.  It runs square to the
    body's way out.

    `cut`: the longest slot beside it, in mm."""
    claim = entry.one("springs")
    assert claim is not None
    by, free = claim.number("by"), claim.number("free")
    given = claim.get("thick")
    thick = claim.number("thick") if given is not None else _own_thickness(entry)
    if thick is None:
        return
    flat_on_bed = leans is not None and leans > 1.0 - 1e-6
    takes = allowed(name or None, not flat_on_bed)
    doubt = (
        f"the longest slot or notch there is {cut:g}: is all of {free:g} free to bend?"
        if (cut is not None and free > MUCH * cut)
        else ""
    )
    would_do = _would_do(length_for(by, thick, takes.often), thickness_for(by, free, takes.often))
    yield Snap(
        "tongue",
        f"the tongue of `{entry.name}`",
        arm_strain(by, free, thick),
        takes,
        name or "a stiff plastic",
        not flat_on_bed,
        f"gives way {by:g} over {free:g} at {thick:g} thick",
        would_do,
        claim.span,
        leans is None,
        doubt=doubt,
    )


def _own_thickness(entry: Entry) -> float | None:
    """How thick the stuff of a plate, strip or block is."""
    if entry.kind == "strip" and (claim := entry.one("thick")) is not None:
        return claim.number("size")
    return thickness(entry)


def _longest_cut(claims: Claims, layout: Layout, page: str) -> float | None:
    """The length (mm) of the longest slot or notch of a page, None where it has none."""
    spots = [layout.spots[one.name] for one in claims.of_kind("slot", "notch") if one.name in layout.spots]
    return max((2.0 * max(one.half) for one in spots if one.page == page), default=None)


def _bead(entry: Entry, claim: Claim, leans: float | None, name: str, slit: bool) -> Iterator[Snap]:
    """`bead 21.0 at 4.0 wide 1.6 through 20.4`: a bead that goes through a narrower mouth (inside: over a
    wider neck).
    """
    if claim.get("mouth") is None:
        return
    # the hoop runs in the layers of a turning that stands on the bed, and up through them in one that lies
    across = leans is not None and math.sqrt(max(0.0, 1.0 - leans * leans)) > LYING
    takes = allowed(name or None, across)
    bead, mouth = claim.number("size"), claim.number("mouth")
    inside = claim.get("which") is not None
    if (mouth <= bead) if inside else (mouth >= bead):
        return
    least = mouth / (1.0 + takes.often) if inside else mouth * (1.0 + takes.often)
    would_do = "slit the ring into tongues:  a notch across it"
    if abs(least - mouth) > FELT:
        would_do = f"a bead of {_two(least, not inside)} snaps in again and again; or {would_do}"
    yield Snap(
        "bead",
        f"the bead of `{entry.name}`",
        ring_strain(bead, mouth),
        takes,
        name or "a stiff plastic",
        across,
        f"of {bead:g} goes {'over' if inside else 'through'} {mouth:g}",
        would_do,
        claim.span,
        leans is None,
        slit,
    )


def _would_do(long: float, thick: float) -> str:
    longer = math.ceil(2.0 * long - 1e-9) / 2.0
    thinner = f", or {_two(thick, True)} thick" if thick >= PRINTED else ""
    return f"for use again and again: {longer:g} long{thinner}, or less undercut"


def _leans(model: Model, claims: Claims, pages: Pages, layout: Layout, entry: Entry) -> float | None:
    """Cosine between the way a body stands out of its page (a turning: its axis) and the way the layers are
    stacked; None where that is not said."""
    said = claims.recipe.one("prints on") if claims.recipe is not None else None
    frame = layout.frames.get(pages.stand(entry.name)[0])
    flat = pages.flat(said.ref("thing")) if said is not None and pages.is_flat(said.ref("thing")) else None
    if flat is None or frame is None:
        return None
    up: Vector = flat.normal
    turning = model.things[entry.name]
    way = turning.way if isinstance(turning, Turning) else frame.out
    return abs(dot(up, way)) if way is not None else None


def _plastic(claims: Claims) -> str:
    """The plastic of the card, by the name of our table; nothing where it names none that is known."""
    named = dict(claims.card).get("plastic")
    try:
        return plastic(named).name if named else ""
    except Trouble:
        return ""


def _percent(strain: float) -> str:
    return f"{100.0 * strain:.1f} %" if strain < 1.0 else "more than 100 %"


def _two(value: float, down: bool) -> str:
    """To a tenth of a mm, towards the safe side."""
    return f"{(math.floor(10.0 * value + 1e-9) if down else math.ceil(10.0 * value - 1e-9)) / 10.0:g}"
