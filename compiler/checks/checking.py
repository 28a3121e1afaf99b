"""Asks every question, in the order of this list; one file answers each.

What needs no part is asked of every recipe; what is read off the shape only of a part that was built.
Whether a name is used is asked only where nothing is wrong: a line that was not understood may be the one
that uses it."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping

from ..diagnostics.types import Diagnostic
from ..imports.types import ImportedMesh
from ..kinds import own_file
from ..mesh.types import Part
from ..mesh.workshop import Workshop
from ..model import Card, Model
from ..outlines.marks import Marks
from .about import about_numbers
from .angle_senses import angle_senses
from .cautions import cautions
from .floors import thin_floors
from .hollows import closed_hollows
from .laid import hidden_sides
from .mouths import eaten_mouths
from .openings import FINE, Scene
from .plastics import unknown_plastic
from .screws import other_screws
from .snaps import strained
from .too_fine import too_fine_for_stl
from .trimmed_flats import trimmed_flats
from .unused import unused_names
from .walls import thin_walls
from .worn import copied_wear

Question = Callable[[Scene], Iterable[Diagnostic]]
_OF_SHAPE: tuple[Question, ...] = (thin_walls, eaten_mouths, thin_floors, trimmed_flats)


def check_part(
    card: Card,
    model: Model | None,
    part: Part | None,
    meshes: Mapping[str, ImportedMesh] | None = None,
) -> tuple[Diagnostic, ...]:
    """All warnings and notes on a recipe and its part (None when there is none, as where errors were found
    before); `meshes`: the material of the bodies that come from files.
    """
    found = [*unknown_plastic(card), *cautions(card, part)]
    if part is None or model is None:
        return tuple(found)
    found += [*angle_senses(model), *unused_names(model), *about_numbers(model)]
    found += [*copied_wear(model), *other_screws(model)]
    found += [*hidden_sides(model), *closed_hollows(model, part), *too_fine_for_stl(part)]
    found += strained(model, part)
    scene = Scene(model, Workshop(model, Marks(), FINE, meshes or {}))
    return (*found, *(told for question in _OF_SHAPE for told in question(scene)), *_of_kinds(scene))


def _of_kinds(scene: Scene) -> Iterator[Diagnostic]:
    """What the kinds that have questions of their own ask of their things."""
    for thing in scene.model.things.values():
        own = own_file(thing.noun, "checks")
        if own is not None:
            yield from own.ask(scene, thing)
