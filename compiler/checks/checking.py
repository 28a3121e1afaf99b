"""Asks every question, in the order of this list; one file answers each.

What needs no part is asked of every recipe; what is read off the shape only of a part that was built.
Whether a name is used is asked only where nothing is wrong: a line that was not understood may be the one
that uses it."""

from __future__ import annotations

from ..diagnostics.types import Diagnostic, Trouble
from ..facts import Claims
from ..facts.needs import SNAP_WORDS, THREAD_WORDS
from ..mesh.types import Part
from ..places.layout import Layout
from .about import about_numbers
from .angle_senses import angle_senses
from .cautions import cautions
from .floors import thin_floors
from .hollows import closed_hollows
from .laid import hidden_sides
from .mouths import eaten_mouths
from .openings import Scene
from .plastics import unknown_plastic
from .screws import other_screws
from .stray import stray_readings
from .too_fine import too_fine_for_stl
from .turned_walls import thin_turnings
from .unused import unused_names
from .walls import thin_walls
from .worn import copied_wear

_OF_SHAPE = (thin_walls, thin_turnings, eaten_mouths, thin_floors)


def check_part(claims: Claims, layout: Layout, part: Part | None, wrong: bool) -> tuple[Diagnostic, ...]:
    """All warnings and notes on a recipe and its part (None when there is none); `wrong`: errors were found
    before.
    """
    found = [*stray_readings(claims), *unknown_plastic(claims), *cautions(claims, None if wrong else part)]
    if wrong or part is None:
        return tuple(found)
    found += [
        *angle_senses(claims),
        *unused_names(claims),
        *about_numbers(claims),
        *copied_wear(claims),
        *other_screws(claims),
    ]
    found += [*hidden_sides(claims, layout), *closed_hollows(claims, part), *too_fine_for_stl(part)]
    questions = [*_OF_SHAPE]
    # what few parts have is asked, and loaded, only where there is some
    if claims.holds(*SNAP_WORDS):
        from .snaps import strained

        found += strained(claims, layout, part)
    if claims.of_kind("mark"):
        from .lettering import thin_strokes

        found += thin_strokes(claims)
    if claims.of_kind("turning"):
        from .hidden_stations import hidden_stations
        from .thin_grips import thin_grips

        found += [*thin_grips(claims), *hidden_stations(claims)]
    if claims.holds("gear", "rack"):
        from .gears import gear_notes, rack_notes

        questions += [gear_notes, rack_notes]
    if claims.holds(*THREAD_WORDS):
        from .short_threads import short_threads

        questions.append(short_threads)
    if claims.holds("trim"):
        from .trimmed_flats import trimmed_flats

        questions.append(trimmed_flats)
    scene = Scene(claims, layout)
    for question in questions:
        try:
            found += question(scene)
        except Trouble:
            # The part was built, so this is a shape that only the solid can tell; there is nothing to say of
            # it.
            continue
    return tuple(found)
