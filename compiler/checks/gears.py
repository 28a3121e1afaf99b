"""What is to be said of gears and racks: a module in no series, a shift that was found, undercut, pairs that
mesh badly.
"""

from __future__ import annotations

import math

from ..diagnostics.types import Diagnostic, Severity, Span
from ..facts import Claims, Entry
from ..facts.gears import Found, gear_of, mate_of, rack_of_gear
from ..facts.racks import rack_of
from ..quantities.gears import Gear, contact_ratio
from ..quantities.racks import rack_contact
from .openings import Scene

LEAST_CONTACT = 1.2
"""Common practice, no source: below 1 a tooth lets go before the next one holds."""
SHOWS = 5 / 6
"""Share of the least count without undercut below which it is worth a word: 14 of 17 teeth, the usual
practical limit.
"""
LEAST_INNER = 8
"""Teeth that a ring has more than its wheel: fewer, and their tips foul (common practice, no source)."""

_MORE = "more teeth on the wheel, where there is room for them"


def gear_notes(scene: Scene) -> list[Diagnostic]:
    """Notes and warnings for every gear of the part."""
    found: list[Diagnostic] = []
    for entry in scene.claims.of_kind("gear"):
        one = gear_of(entry, scene.claims)
        found += [
            *_concluded(entry, one),
            *_tips(entry, one.gear),
            *_undercut(entry, one.gear),
            *_mesh(entry, one.gear, scene.claims),
        ]
    return found


def rack_notes(scene: Scene) -> list[Diagnostic]:
    """Notes and warnings for every rack of the part."""
    found: list[Diagnostic] = []
    for entry in scene.claims.of_kind("block"):
        for claim in entry.all("rack"):
            one = rack_of(claim, scene.claims)
            wheel = scene.claims.entries[claim.ref("thing").name] if claim.get("thing") is not None else None
            if one.module == "as read":
                said = (
                    f"the module of the rack at the {one.where} of "
                    f"`{entry.name}` is made as read: {one.rack.module:.4g}"
                )
                said += f", its pitch {one.rack.pitch:.4g}"
                found.append(_as_read(said, one.nearest, "rack", claim.span))
            if wheel is not None and wheel.kind == "gear":
                ratio = rack_contact(gear_of(wheel, scene.claims).gear)
                found += _poor(f"`{wheel.name}` and `{entry.name}`", ratio, claim.span, _MORE)
    return found


def _as_read(said: str, nearest: float, what: str, span: Span) -> Diagnostic:
    over = f" (pitch {10.0 * math.pi * nearest:.2f} over 10)" if what == "rack" else ""
    near = f"{nearest:g} of ISO 54{over} is the nearest: check the reading if the {what} is a bought one"
    return Diagnostic("module-as-read", Severity.NOTE, said, span, advice=(near,))


def _concluded(entry: Entry, one: Found) -> list[Diagnostic]:
    span = one.claim.span if one.claim is not None else entry.span
    said = []
    if one.module == "as read":
        said.append(
            _as_read(
                f"the module of `{entry.name}` is made as read: {one.gear.module:.4g}",
                one.nearest,
                "gear",
                span,
            )
        )
    if one.shift == "found":
        shift = one.gear.shift
        said.append(
            Diagnostic(
                "shift-found",
                Severity.NOTE,
                f"`{entry.name}` is made with a profile shift of {shift:+.3f}: so its readings say",
                span,
                advice=(f"shift {shift:.3f}   says so in the recipe; shift 0   makes it plain",),
            )
        )
    return said


def _tips(entry: Entry, gear: Gear) -> list[Diagnostic]:
    full = gear.full_tip
    if abs(gear.tip - full) < 1e-6:
        return []
    why = "no flank reaches there" if gear.inside else "they would come to a point"
    said = f"the tips of `{entry.name}` are cut back from {full:.2f} to {gear.tip:.2f} across: {why}"
    advice = ("the pair runs all the same, with a little less hold; more teeth or less shift keeps them",)
    return [Diagnostic("tips-cut-back", Severity.NOTE, said, entry.span, advice=advice)]


def _undercut(entry: Entry, gear: Gear) -> list[Diagnostic]:
    if gear.inside or gear.teeth >= SHOWS * gear.undercut_below:
        return []
    need = 1.0 - gear.teeth * math.sin(gear.pressure) ** 2 / (2.0 * math.cos(gear.helix))
    return [
        Diagnostic(
            "teeth-undercut",
            Severity.NOTE,
            f"{gear.teeth} teeth are so few that the feet of `{entry.name}` are "
            "undercut: they are weak there",
            entry.span,
            advice=(
                f"a bought gear of {gear.teeth} teeth has it too; "
                f"a shift of {need:.2f} would avoid it, where "
                "the centres can be further apart",
            ),
        )
    ]


def _mesh(entry: Entry, gear: Gear, claims: Claims) -> list[Diagnostic]:
    if not entry.has("meshes"):
        return []
    span = next(claim.span for claim in entry.all("meshes"))
    rack, pair = rack_of_gear(entry, claims), mate_of(entry, claims, gear)
    if rack is not None:
        return _poor(f"`{entry.name}` and `{rack.name}`", rack_contact(gear), span, _MORE)
    if pair is None:
        return []
    mate, other, distance = pair
    if gear.inside or other.inside:
        more = abs(gear.teeth - other.teeth)
        if more >= LEAST_INNER:
            return []
        said = (
            f"`{entry.name}` and `{mate.name}` differ by {more} "
            "teeth only: inside a ring their tips would foul"
        )
        return [
            Diagnostic(
                "mesh-poor", Severity.WARNING, said, span, advice=(f"{LEAST_INNER} more teeth are safe",)
            )
        ]
    return _poor(f"`{entry.name}` and `{mate.name}`", contact_ratio(gear, other, distance), span)


def _poor(
    pair: str, ratio: float, span: Span, closer: str = "centres closer together, or more teeth"
) -> list[Diagnostic]:
    if ratio >= LEAST_CONTACT:
        return []
    said = f"{pair} hold each other by {ratio:.2f} teeth on the average: they will run rough or skip"
    advice = (f"{closer}; that leaning teeth help is not counted",)
    return [Diagnostic("mesh-poor", Severity.WARNING, said, span, advice=advice)]
