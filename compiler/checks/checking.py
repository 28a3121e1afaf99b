"""Asks every question, in the order of this list; one file answers each.

What needs no part is asked of every recipe; what is read off the shape only of a part that was built.
Whether a name is used is asked only where nothing is wrong: a line that was not understood may be the one
that uses it."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator

from ..diagnostics.types import Diagnostic, Trouble
from ..facts import Claims
from ..facts.needs import SNAP_WORDS
from ..kinds import own_file
from ..mesh.types import Part
from ..model import Model
from ..places.layout import Layout
from .about import about_numbers
from .cautions import cautions
from .floors import thin_floors
from .laid import hidden_sides
from .mouths import eaten_mouths
from .openings import Scene
from .plastics import unknown_plastic
from .screws import other_screws
from .stray import stray_readings
from .unused import unused_names
from .walls import thin_walls
from .worn import copied_wear

_Question = Callable[[Scene], Iterable[Diagnostic]]


def of_each_kind(scene: Scene) -> Iterator[Diagnostic]:
    """What the kind of each thing asks of it, where it has questions of its own."""
    for thing in scene.model.things.values():
        own = own_file(thing.noun, "checks")
        if own is None:
            continue
        try:
            yield from own.ask(scene, thing)
        except Trouble:
            continue  # as below: only the solid can tell


def check_part(
    model: Model | None, claims: Claims, layout: Layout, part: Part | None, wrong: bool
) -> tuple[Diagnostic, ...]:
    """All warnings and notes on a recipe and its part (None when there is none); `wrong`: errors were found
    before.
    """
    found = [*stray_readings(claims), *unknown_plastic(claims), *cautions(claims, None if wrong else part)]
    if wrong or part is None or model is None:
        return tuple(found)
    found += [*unused_names(claims), *about_numbers(claims), *copied_wear(claims), *other_screws(claims)]
    found += hidden_sides(claims, layout)
    questions: list[Callable[[Scene], Iterable[Diagnostic]]] = [
        thin_walls,
        of_each_kind,
        eaten_mouths,
        thin_floors,
    ]
    # what few parts have is asked, and loaded, only where there is some
    if claims.holds(*SNAP_WORDS):
        from .snaps import strained

        found += strained(model, claims, layout, part)
    if claims.holds("gear", "rack"):
        from .gears import gear_notes, rack_notes

        questions += [gear_notes, rack_notes]
    scene = Scene(model, claims, layout)
    for question in questions:
        try:
            found += question(scene)
        except Trouble:
            # The part was built, so this is a shape that only the solid can tell; there is nothing to say of
            # it.
            continue
    return tuple(found)
