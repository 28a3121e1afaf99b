"""Does a snap arm, a tongue or a beaded ring take the strain when it goes together?

Each is judged by the strain of its shape (`quantities.snaps`) against what its plastic takes, halved where it bends across
its layers: an arm that stands up from the bed does.  Where the card does not say `prints on`, that is taken to be so.  All of
it is an estimate for a printed part and says so.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

from msgspec import Struct

from ..diagnostics.types import Diagnostic, Severity, Span, Trouble
from ..facts import Claims, Entry
from ..kinds.arm.sizes import arm_of
from ..positions.extents import thickness
from ..positions.layout import Layout, Vector, dot
from ..positions.pages import Pages
from ..quantities.snaps import Allowed, allowed, arm_strain, length_for, ring_strain, thickness_for
from ..quantities.tables import plastic

LYING = 0.5
"""Cosine of the angle to the bed's normal below which an arm counts as lying along its layers."""


class Snap(Struct, frozen=True):
    """One snap joint: what it is, its strain, what the plastic takes, and what would bring it within that."""

    shown: str
    strain: float
    takes: Allowed
    plastic: str
    across: bool
    bend: str
    would_do: str
    span: Span

    @property
    def told(self) -> str:
        """One line for the report."""
        layers = "across its layers" if self.across else "along its layers"
        return (f"{self.shown} {self.bend}: strain {_percent(self.strain)} (estimate); {self.plastic} bent {layers} "
                f"takes about {_percent(self.takes.once)} once, {_percent(self.takes.often)} again and again")  # fmt: skip


def snaps(claims: Claims, layout: Layout) -> list[Snap]:
    """Every snap joint of a recipe, in the order of names."""
    pages, name = Pages(claims, layout), _plastic(claims)
    found: list[Snap] = []
    for entry in claims.entries.values():
        try:
            if entry.kind == "arm" and entry.name in layout.spots:
                found.append(_arm(entry, _leans(claims, pages, layout, entry), name))
            found.extend(_tongues(entry, _leans(claims, pages, layout, entry), name))
            found.extend(_beads(entry, name))
        except Trouble:
            continue  # answered where the body itself is made
    return found


def strained(claims: Claims, layout: Layout) -> list[Diagnostic]:
    """A warning for each snap joint that is strained more than its plastic takes, a note for what goes together only once."""
    found = []
    for one in snaps(claims, layout):
        if one.strain > one.takes.once + 1e-9:
            said = f"{one.shown} is strained by {_percent(one.strain)} when it snaps in; {one.plastic} takes about "
            said += f"{_percent(one.takes.once)}{' across its layers' if one.across else ''} (estimates)"
            found.append(Diagnostic("over-strained", Severity.WARNING, said, one.span, advice=_advice(one)))
        elif one.strain > one.takes.often + 1e-9:
            said = f"{one.shown} goes together once or twice: strain {_percent(one.strain)}, and {one.plastic} takes about "
            said += f"{_percent(one.takes.often)} again and again (estimates)"
            found.append(Diagnostic("snaps-once", Severity.NOTE, said, one.span, advice=_advice(one)))
    return found


def _advice(one: Snap) -> tuple[str, ...]:
    lines = [one.would_do]
    if one.across:
        lines.append("print it lying, so that its layers run along what bends:  prints on ...")
    return tuple(lines)


def _arm(entry: Entry, leans: float | None, name: str) -> Snap:
    arm = arm_of(entry)
    across = leans is None or leans > LYING
    takes = allowed(name or None, across)
    strain = arm_strain(arm.nose, arm.long, arm.thick, arm.tip)
    long = length_for(arm.nose, arm.thick, takes.often, arm.tip)
    thick = thickness_for(arm.nose, arm.long, takes.often, arm.tip, arm.thick)
    return Snap(f"arm `{entry.name}`", strain, takes, name or "a stiff plastic", across,
                f"gives way {arm.nose:g} over {arm.long:g}", _would_do(long, thick), entry.span)  # fmt: skip


def _tongues(entry: Entry, leans: float | None, name: str) -> Iterator[Snap]:
    """`springs 1.2 over 9.0`: a tongue of the body's own thickness, freed by slots.  It runs square to the body's way out."""
    claim = entry.one("springs")
    if claim is None:
        return
    by, free = claim.number("by"), claim.number("free")
    given = claim.get("thick")
    thick = claim.number("thick") if given is not None else _own_thickness(entry)
    if thick is None:
        return
    flat_on_bed = leans is not None and leans > 1.0 - 1e-6
    takes = allowed(name or None, not flat_on_bed)
    yield Snap(f"the tongue of `{entry.name}`", arm_strain(by, free, thick), takes, name or "a stiff plastic", not flat_on_bed,
               f"gives way {by:g} over {free:g} at {thick:g} thick",
               _would_do(length_for(by, thick, takes.often), thickness_for(by, free, takes.often)), claim.span)  # fmt: skip


def _own_thickness(entry: Entry) -> float | None:
    """How thick the stuff of a plate, strip or block is."""
    if entry.kind == "strip" and (claim := entry.one("thick")) is not None:
        return claim.number("size")
    return thickness(entry)


def _beads(entry: Entry, name: str) -> Iterator[Snap]:
    """`bead 21.0 at 4.0 wide 1.6 through 20.4`: a bead that goes through a narrower mouth (inside: over a wider neck)."""
    takes = allowed(name or None, False)  # the hoop runs in the layers of a turning that stands on the bed
    for claim in entry.all("bead"):
        if claim.get("mouth") is None:
            continue
        bead, mouth = claim.number("size"), claim.number("mouth")
        inside = claim.get("which") is not None
        if (mouth <= bead) if inside else (mouth >= bead):
            continue
        least = mouth / (1.0 + takes.often) if inside else mouth * (1.0 + takes.often)
        yield Snap(f"the bead of `{entry.name}`", ring_strain(bead, mouth), takes, name or "a stiff plastic", False,
                   f"of {bead:g} goes {'over' if inside else 'through'} {mouth:g}",
                   f"a bead of {_two(least, not inside)} snaps in again and again; or slit the ring into tongues",
                   claim.span)  # fmt: skip


def _would_do(long: float, thick: float) -> str:
    longer = math.ceil(2.0 * long - 1e-9) / 2.0
    return f"for use again and again: {longer:g} long, or {_two(thick, True)} thick, or less undercut"


def _leans(claims: Claims, pages: Pages, layout: Layout, entry: Entry) -> float | None:
    """Cosine between the way a body stands out of its page and the way the layers are stacked; None where it is not said."""
    said = claims.recipe.one("prints on") if claims.recipe is not None else None
    frame = layout.frames.get(pages.stand(entry.name)[0])
    flat = pages.flat(said.ref("thing")) if said is not None and pages.is_flat(said.ref("thing")) else None
    if flat is None or frame is None:
        return None
    up: Vector = flat.normal
    return abs(dot(up, frame.out))


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
