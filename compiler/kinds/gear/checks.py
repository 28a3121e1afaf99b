"""What is to be said of a gear: a module in no series, a shift that was found, undercut, a poor mate."""

from __future__ import annotations

import math
from collections.abc import Iterator

from ...checks.meshing import MORE_TEETH, module_as_read, poor_contact
from ...checks.openings import Survey
from ...diagnostics.types import Diagnostic, Severity
from ...quantities.gears import Gear as Wheel
from ...quantities.gears import contact_ratio
from ...quantities.racks import rack_contact
from .model import GearBody

SHOWS = 5 / 6
"""Share of the least count without undercut below which it is worth a word: 14 of 17 teeth, the usual
practical limit.
"""
LEAST_INNER = 8
"""Teeth that a ring has more than its wheel: fewer, and their tips foul (common practice, no source)."""


def ask(scene: Survey, gear: GearBody) -> Iterator[Diagnostic]:
    """Notes and warnings on one gear."""
    yield from _concluded(gear)
    yield from _tips(gear, gear.wheel)
    yield from _undercut(gear, gear.wheel)
    yield from _mesh(gear, gear.wheel)


def _concluded(gear: GearBody) -> Iterator[Diagnostic]:
    span = gear.span if gear.concluded_from is None else gear.concluded_from.span
    if gear.found.module == "as read":
        says = f"the module of `{gear.name}` is made as read: {gear.wheel.module:.4g}"
        yield module_as_read(says, gear.found.nearest, "gear", span)
    if gear.found.shift == "found":
        shift = gear.wheel.shift
        yield Diagnostic(
            "shift-found",
            Severity.NOTE,
            f"`{gear.name}` is made with a profile shift of {shift:+.3f}: so its readings say",
            span,
            advice=(f"shift {shift:.3f}   says so in the recipe; shift 0   makes it plain",),
        )


def _tips(gear: GearBody, wheel: Wheel) -> Iterator[Diagnostic]:
    full = wheel.full_tip
    if abs(wheel.tip - full) < 1e-6:
        return
    why = "no flank reaches there" if wheel.inside else "they would come to a point"
    says = f"the tips of `{gear.name}` are cut back from {full:.2f} to {wheel.tip:.2f} across: {why}"
    advice = ("the pair runs all the same, with a little less hold; more teeth or less shift keeps them",)
    yield Diagnostic("tips-cut-back", Severity.NOTE, says, gear.span, advice=advice)


def _undercut(gear: GearBody, wheel: Wheel) -> Iterator[Diagnostic]:
    if wheel.inside or wheel.teeth >= SHOWS * wheel.undercut_below:
        return
    need = 1.0 - wheel.teeth * math.sin(wheel.pressure) ** 2 / (2.0 * math.cos(wheel.helix))
    yield Diagnostic(
        "teeth-undercut",
        Severity.NOTE,
        f"{wheel.teeth} teeth are so few that the feet of `{gear.name}` are undercut: they are weak there",
        gear.span,
        advice=(
            f"a bought gear of {wheel.teeth} teeth has it too; a shift of {need:.2f} would avoid it, where "
            "the centres can be further apart",
        ),
    )


def _mesh(gear: GearBody, wheel: Wheel) -> Iterator[Diagnostic]:
    if gear.meshes is None:
        return
    span, mate = gear.meshes.span, gear.mate
    if gear.pair is None:
        yield from poor_contact(f"`{gear.name}` and `{mate}`", rack_contact(wheel), span, MORE_TEETH)
        return
    other, distance = gear.pair
    if not (wheel.inside or other.inside):
        yield from poor_contact(f"`{gear.name}` and `{mate}`", contact_ratio(wheel, other, distance), span)
        return
    more = abs(wheel.teeth - other.teeth)
    if more < LEAST_INNER:
        says = f"`{gear.name}` and `{mate}` differ by {more} teeth only: inside a ring their tips would foul"
        advice = (f"{LEAST_INNER} more teeth are safe",)
        yield Diagnostic("mesh-poor", Severity.WARNING, says, span, advice=advice)
