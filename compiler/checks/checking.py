"""Asks every question, in the order of this list; one file answers each.

What needs no part is asked of every recipe; what is read off the shape only of a part that was built.
Whether a name is used is asked only where nothing is wrong: a line that was not understood may be the one
that uses it."""

from __future__ import annotations

from ..diagnostics.types import Diagnostic, Trouble
from ..facts import Claims
from ..facts.needs import SNAP_WORDS
from ..mesh.types import Part
from ..mesh.workshop import Workshop
from ..model import Model
from ..outlines.marks import Marks
from ..places.layout import Layout
from .about import about_numbers
from .cautions import cautions
from .floors import thin_floors
from .laid import hidden_sides
from .mouths import eaten_mouths
from .openings import FINE, Scene
from .plastics import unknown_plastic
from .screws import other_screws
from .stray import stray_readings
from .turned_walls import thin_turnings
from .unused import unused_names
from .walls import thin_walls
from .worn import copied_wear

_OF_SHAPE = (thin_walls, thin_turnings, eaten_mouths, thin_floors)


def check_part(
    model: Model | None, claims: Claims, layout: Layout, part: Part | None, wrong: bool
) -> tuple[Diagnostic, ...]:
    """All warnings and notes on a recipe and its part (None when there is none); `wrong`: errors were found
    before.
    """
    found = [*stray_readings(claims), *unknown_plastic(claims), *cautions(claims, None if wrong else part)]
    if wrong or part is None or model is None:
        return tuple(found)
    found += [*unused_names(claims), *about_numbers(claims), *copied_wear(claims), *other_screws(model)]
    found += hidden_sides(claims, layout)
    questions = [*_OF_SHAPE]
    # what few parts have is asked, and loaded, only where there is some
    if claims.holds(*SNAP_WORDS):
        from .snaps import strained

        found += strained(model, claims, layout, part)
    if claims.of_kind("mark"):
        from .lettering import thin_strokes

        found += thin_strokes(claims)
    if claims.of_kind("turning"):
        from .thin_grips import thin_grips

        found += thin_grips(claims)
    if claims.holds("gear", "rack"):
        from .gears import gear_notes, rack_notes

        questions += [gear_notes, rack_notes]
    scene = Scene(model, Workshop(model, Marks(), FINE, claims.stock))
    scene.shop.claims, scene.shop.layout = scene.claims, scene.layout = claims, layout
    for question in questions:
        try:
            found += question(scene)
        except Trouble:
            # The part was built, so this is a shape that only the solid can tell; there is nothing to say of
            # it.
            continue
    return tuple(found)
